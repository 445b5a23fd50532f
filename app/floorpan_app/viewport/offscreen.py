"""Pictures of the car without a window, for the report."""

import os
from collections.abc import Callable

import numpy as np
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkIOImage import vtkPNGWriter
from vtkmodules.vtkRenderingCore import vtkRenderer, vtkRenderWindow, vtkWindowToImageFilter

from floorpan_app.viewport.aim import aim
from floorpan_app.viewport.colours import Colours
from floorpan_app.viewport.lamps import set_lamps
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.scene import Scene
from floorpan_app.viewport.surfaces import rgb
from floorpan_app.viewport.trial import offscreen_window
from floorpan_app.viewport.views import SeenFrom, Side, view_of
from floorpan_app.viewport.ways import WAY, ways

_SAMPLES = 4
# Lines and hatches are drawn for a picture that is printed at about 200 dots per inch.
_LINE_SCALE = 2.0
# A paper packs its pictures again: packing them well here is time lost.
_PACKING = 1


def available() -> bool:
    """Whether pictures can be made here; asked of a child process the first time, which takes a second or two."""
    return ways.found() is not None


class OffscreenRenderer:
    """Draws what `fill` puts into a scene. Lettering on the floor needs a running application; the rest does not."""

    def __init__(
        self,
        colours: Colours,
        fill: Callable[[Scene], None],
        *,
        driver_side: Side = "left",
        ground_role: str = "raised",
    ) -> None:
        self._colours = colours
        self._fill = fill
        self._driver_side: Side = driver_side
        self._ground = rgb(colours[ground_role])

        self._window: vtkRenderWindow | None = None
        self._scene: Scene | None = None
        self._renderer = vtkRenderer()

    def picture(self, view: SeenFrom, width: int, height: int) -> bytes:
        """A PNG of width x height pixels, the whole car seen from a side. Ask `available` first."""
        scene, window = self._ready(width, height)
        eye = view_of(view, self._driver_side, scene.outermost(), width / height)
        aim(self._renderer, scene, Projection(eye=eye, width=width, height=height), coarse=False)
        window.Render()
        return _png_of(window)

    def close(self) -> None:
        """Let go of the window; the next picture makes another."""
        if self._scene is not None:
            self._scene.close()
        if self._window is not None:
            self._window.Finalize()
        self._scene = self._window = None

    def _ready(self, width: int, height: int) -> tuple[Scene, vtkRenderWindow]:
        """The scene, filled once for every picture, and the window it stands in."""
        if self._window is not None and tuple(self._window.GetSize()) != (width, height):
            self.close()
        if self._window is None or self._scene is None:
            way = ways.found()
            if way:
                os.environ[WAY] = way
            self._window = offscreen_window(width, height)
            self._window.SetMultiSamples(_SAMPLES)
            self._renderer = _renderer(self._ground)
            self._window.AddRenderer(self._renderer)
            self._scene = Scene(self._renderer, self._colours, lambda: None, _LINE_SCALE)
            self._fill(self._scene)
        return self._scene, self._window


def _renderer(ground: tuple[float, float, float]) -> vtkRenderer:
    renderer = vtkRenderer()
    # The only lights are the lamps.
    renderer.AutomaticLightCreationOff()
    set_lamps(renderer)
    renderer.SetUseOIT(False)
    renderer.SetBackground(*ground)
    return renderer


def _png_of(window: vtkRenderWindow) -> bytes:
    """What was drawn last."""
    taken = vtkWindowToImageFilter()
    taken.SetInput(window)
    taken.SetInputBufferTypeToRGB()
    taken.ReadFrontBufferOff()
    taken.ShouldRerenderOff()
    writer = vtkPNGWriter()
    writer.SetCompressionLevel(_PACKING)
    writer.WriteToMemoryOn()
    writer.SetInputConnection(taken.GetOutputPort())
    writer.Write()
    data = np.asarray(vtk_to_numpy(writer.GetResult()), dtype=np.uint8)  # type: ignore[no-untyped-call]
    return data.tobytes()
