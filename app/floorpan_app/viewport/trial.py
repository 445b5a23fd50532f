"""Run as a program: draw one small picture off the screen, and end well only if something is on it."""

import sys

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401 : it draws; nothing can be seen of it
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkFiltersSources import vtkSphereSource
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkPolyDataMapper,
    vtkRenderer,
    vtkRenderWindow,
    vtkWindowToImageFilter,
)

# Drawn with the plain 3D library: the plotting one would double what a paper waits for.


def offscreen_window(width: int, height: int) -> vtkRenderWindow:
    """A window that is never shown, empty."""
    window = vtkRenderWindow()
    window.SetOffScreenRendering(True)
    window.SetSize(width, height)
    return window


def main() -> int:
    """0 where a picture could be made, 1 where it came out blank."""
    window, renderer = offscreen_window(64, 64), vtkRenderer()
    # The ball is held by its name: a port does not keep what it belongs to.
    ball, mapper, actor = vtkSphereSource(), vtkPolyDataMapper(), vtkActor()
    mapper.SetInputConnection(ball.GetOutputPort())
    actor.SetMapper(mapper)
    renderer.AddActor(actor)
    window.AddRenderer(renderer)
    window.Render()
    taken = vtkWindowToImageFilter()
    taken.SetInput(window)
    taken.ReadFrontBufferOff()
    taken.Update()
    pixels = np.asarray(vtk_to_numpy(taken.GetOutput().GetPointData().GetScalars()))  # type: ignore[no-untyped-call]
    window.Finalize()
    return 0 if int(pixels.max()) > 0 else 1


if __name__ == "__main__":
    sys.exit(main())
