"""Pictures of the car without a window, for the report.

Where a library of the system is missing, the toolkit does not raise: it kills the process. So it is tried once in
a child process, and only a way that worked there is used here.
"""

import os
import subprocess
import sys
from collections.abc import Callable
from functools import cache

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

_WAY = "VTK_DEFAULT_OPENGL_WINDOW"
_WITHOUT_DISPLAY = ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow")
_TRIAL_S = 60.0
_SAMPLES = 4
# Lines and hatches are drawn for a picture that is printed at about 200 dots per inch.
_LINE_SCALE = 2.0


def available() -> bool:
    """Whether pictures can be made here; asked of a child process the first time, which takes a second or two."""
    return _way() is not None


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

    def picture(self, view: SeenFrom, width: int, height: int) -> bytes:
        """A PNG of width x height pixels, the whole car seen from a side. Ask `available` first."""
        way = _way()
        if way:
            os.environ[_WAY] = way
        window = offscreen_window(width, height)
        try:
            return self._drawn(window, view, width, height)
        finally:
            window.Finalize()

    def _drawn(self, window: vtkRenderWindow, view: SeenFrom, width: int, height: int) -> bytes:
        renderer = vtkRenderer()
        window.AddRenderer(renderer)
        window.SetMultiSamples(_SAMPLES)
        # The only lights are the lamps.
        renderer.AutomaticLightCreationOff()
        set_lamps(renderer)
        renderer.SetUseOIT(False)
        renderer.SetBackground(*self._ground)
        scene = Scene(renderer, self._colours, lambda: None, _LINE_SCALE)
        self._fill(scene)
        eye = view_of(view, self._driver_side, scene.outermost(), width / height)
        aim(renderer, scene, Projection(eye=eye, width=width, height=height), coarse=False)
        window.Render()
        taken = vtkWindowToImageFilter()
        taken.SetInput(window)
        taken.SetInputBufferTypeToRGB()
        taken.ReadFrontBufferOff()
        writer = vtkPNGWriter()
        writer.WriteToMemoryOn()
        writer.SetInputConnection(taken.GetOutputPort())
        writer.Write()
        data = np.asarray(vtk_to_numpy(writer.GetResult()), dtype=np.uint8)  # type: ignore[no-untyped-call]
        scene.close()
        return data.tobytes()


@cache
def _way() -> str | None:
    """Which kind of window worked in a child process: empty for the usual one; None where none did."""
    given = os.environ.get(_WAY)
    if given is not None:
        ways: tuple[str, ...] = (given,)
    elif not sys.platform.startswith("linux"):
        ways = ("",)
    elif os.environ.get("DISPLAY"):
        ways = ("", *_WITHOUT_DISPLAY)
    else:
        ways = (*_WITHOUT_DISPLAY, "")
    return next((way for way in ways if _works(way)), None)


def _works(way: str) -> bool:
    environment = dict(os.environ) | ({_WAY: way} if way else {})
    command = [sys.executable, "-m", "floorpan_app.viewport.trial"]
    try:
        done = subprocess.run(command, env=environment, capture_output=True, timeout=_TRIAL_S, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0
