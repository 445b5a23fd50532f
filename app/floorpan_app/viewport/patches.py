"""What nobody scanned: patches hatched on a paper-coloured backing, with a dashed rim.

The hatch is laid over the picture, not over the car: its pitch is the same near and far, as on paper.
"""

import math

import numpy as np
from numpy.typing import NDArray
from vtkmodules.vtkRenderingCore import vtkActor

from floorpan.geometry.mesh import Mesh
from floorpan_app.viewport.colours import Colours
from floorpan_app.viewport.form import Form
from floorpan_app.viewport.lines import dashed, line_actor, rims, set_segments
from floorpan_app.viewport.shade import lift, paint_over
from floorpan_app.viewport.surfaces import rgb, smooth_normals, surface
from floorpan_app.viewport.thing import Manner, Part, Thing, Trim

Floats = NDArray[np.float64]

# As everywhere a hatch is painted: across the lines, in logical pixels.
PITCH_PX = 6.0
LINE_PX = 1.3
_RIM_PX = 1.6
_DASH_PX, _GAP_PX = 5.0, 3.5

_HATCH = """
  float across = (gl_FragCoord.x - gl_FragCoord.y) * 0.70710678 / hatchScale;
  float away = abs(fract(across / hatchPitch) - 0.5) * hatchPitch;
  float ink = clamp(hatchLine * 0.5 - away + 0.5, 0.0, 1.0);
  gl_FragData[0] = vec4(mix(hatchPaper, hatchInk, ink), 1.0);
"""


class Patches(Thing):
    """The unseen stretches of one scan."""

    def __init__(self, mesh: Mesh, manner: Manner, scale: float) -> None:
        self._paths = [mesh.points[loop] for loop in rims(mesh.faces)]
        self._octave: int | None = None
        self._scale = scale
        rim: vtkActor = line_actor(np.empty((0, 2, 3)), _RIM_PX * scale)
        form = Form(surface(mesh.points, mesh.faces, smooth_normals(mesh)))
        super().__init__([Part(form, np.eye(4))], manner, [Trim(rim, manner.role)])
        self._rim = rim

    def light(self, actor: vtkActor) -> None:
        paint_over(actor, _HATCH)
        lift(actor, 1e-4)

    def colour(self, colours: Colours) -> None:
        super().colour(colours)
        given = self.parts[0].actor.GetShaderProperty().GetFragmentCustomUniforms()
        given.SetUniformf("hatchPitch", PITCH_PX)
        given.SetUniformf("hatchLine", LINE_PX)
        given.SetUniformf("hatchScale", self._scale)
        given.SetUniform3f("hatchPaper", list(rgb(colours["paper"])))
        given.SetUniform3f("hatchInk", list(rgb(colours[self.manner.role])))

    def fit_dashes(self, mm_per_pixel: float) -> None:
        """Cut the rim into dashes that look about right at this scale; they change by halves and doubles only."""
        octave = round(math.log2(max(mm_per_pixel, 1e-6)))
        if octave == self._octave:
            return
        self._octave = octave
        size = 2.0**octave
        pieces = [dashed(path, _DASH_PX * size, _GAP_PX * size) for path in self._paths]
        set_segments(self._rim, np.concatenate([np.empty((0, 2, 3)), *pieces]))
