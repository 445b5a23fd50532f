"""One named thing in the picture: its actors, and what it takes to colour, move, thin and meet it."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from vtkmodules.vtkCommonMath import vtkMatrix4x4
from vtkmodules.vtkRenderingCore import vtkActor

from floorpan_app.tools.events import Pick, Sight
from floorpan_app.viewport.colours import Colours
from floorpan_app.viewport.form import Form
from floorpan_app.viewport.shade import shade
from floorpan_app.viewport.surfaces import rgb

Floats = NDArray[np.float64]

GLOSSY = ("knob", "steel")
# From here on a thing is nearly solid: only its outside is drawn, not what overlaps inside it.
NEARLY_SOLID = 0.75
# Up to here a thing is a mere shade over what lies behind it.
SHADE = 0.2
# Too little to be seen, enough to be drawn.
_FAINTEST = 1e-4


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How a thing is shown.

    role     : its colour, a name of the theme record
    pickable : whether the mouse meets it
    outlined : whether it gets a thin outline; for meshes of some thousand triangles at most
    """

    role: str
    opacity: float = 1.0
    pickable: bool = True
    outlined: bool = False


@dataclass(slots=True)
class Part:
    """A form standing at a pose inside its thing."""

    form: Form
    pose: Floats
    first_cell: int = 0
    actor: vtkActor = field(default_factory=vtkActor)
    veil: vtkActor | None = None
    back: Floats = field(default_factory=lambda: np.eye(4))


@dataclass(slots=True)
class Trim:
    """What goes with a thing but is never met by a ray: a rim, isolines. Unlit, in a role of its own."""

    actor: vtkActor
    role: str


class Thing:
    """Parts that share a name, a manner and a matrix."""

    def __init__(self, parts: list[Part], manner: Manner, trims: list[Trim] | None = None) -> None:
        self.parts = parts
        self.trims = trims or []
        self.manner = manner
        self.shown = True
        self._left_out = False
        self.matrix = np.eye(4)
        cells = 0
        for part in parts:
            part.first_cell = cells
            cells += int(part.form.shape.n_cells)
            part.actor.SetMapper(part.form.mapper)
            self.light(part.actor)
            if NEARLY_SOLID <= manner.opacity < 1.0:
                part.veil = vtkActor()
                part.veil.SetMapper(part.form.mapper)
        self.move(self.matrix)

    def light(self, actor: vtkActor) -> None:
        """How light falls on an actor of this thing."""
        shade(actor, glossy=self.manner.role in GLOSSY)

    def actors(self) -> list[vtkActor]:
        """Every actor, veils first: a veil fills depth before the thing itself is blended in."""
        veils = [part.veil for part in self.parts if part.veil is not None]
        return veils + [part.actor for part in self.parts] + [trim.actor for trim in self.trims]

    def move(self, matrix: Floats) -> None:
        """Stand at a (4, 4) matrix; nothing but the actors' matrices changes."""
        self.matrix = np.asarray(matrix, dtype=float)
        for trim in self.trims:
            trim.actor.SetUserMatrix(_held(self.matrix))
        for part in self.parts:
            whole = self.matrix @ part.pose
            part.back = np.asarray(np.linalg.inv(whole), dtype=np.float64)
            held = _held(whole)
            part.actor.SetUserMatrix(held)
            if part.veil is not None:
                part.veil.SetUserMatrix(held)

    def colour(self, colours: Colours) -> None:
        """Take colour and shading from the theme."""
        for part in self.parts:
            look = part.actor.GetProperty()
            look.SetColor(*rgb(colours[self.manner.role]))
            look.SetOpacity(self.manner.opacity)
            look.SetInterpolationToPhong()
            look.SetAmbient(colours.ambient)
            look.SetDiffuse(colours.diffuse)
            look.SetSpecular(0.22 if self.manner.role in GLOSSY else 0.0)
            look.SetSpecularPower(24.0)
            if part.veil is not None:
                part.veil.GetProperty().SetOpacity(_FAINTEST)
                part.veil.ForceOpaqueOn()
        for trim in self.trims:
            trim.actor.GetProperty().SetColor(*rgb(colours[trim.role]))
            trim.actor.GetProperty().LightingOff()

    def show(self, shown: bool) -> None:
        self.shown = shown
        self.set_visible()

    def leave_out(self, left_out: bool) -> None:
        """Do not draw it in the next pictures, though it is shown: somebody else has drawn it already."""
        if left_out != self._left_out:
            self._left_out = left_out
            self.set_visible()

    def is_drawn(self) -> bool:
        """Whether the next picture draws it."""
        return self.shown and not self._left_out

    def set_visible(self) -> None:
        """Tell the actors whether they are drawn."""
        visible = self.is_drawn()
        for actor in self.actors():
            actor.SetVisibility(visible)

    def thin(self, coarse: bool) -> None:
        """Draw the coarse stand-ins of big forms, or the forms themselves again."""
        for part in self.parts:
            if part.form.is_big:
                part.actor.SetMapper(part.form.coarse_mapper() if coarse else part.form.mapper)

    def outermost(self) -> Floats:
        """The thing's outermost points (K, 3) [mm] in car axes."""
        found = []
        for part in self.parts:
            whole = self.matrix @ part.pose
            found.append(part.form.outermost @ whole[:3, :3].T + whole[:3, 3])
        return np.concatenate(found)

    def meet(self, name: str, sight: Sight) -> tuple[float, Pick] | None:
        """How far along a ray the thing is met [mm], and where."""
        origin, direction = np.asarray(sight.origin_mm), np.asarray(sight.direction)
        best: tuple[float, Pick] | None = None
        for part in self.parts:
            turn, shift = part.back[:3, :3], part.back[:3, 3]
            met = part.form.meet(turn @ origin + shift, turn @ direction)
            if met is None or (best is not None and met.away_mm >= best[0]):
                continue
            whole = self.matrix @ part.pose
            point = whole[:3, :3] @ met.point + whole[:3, 3]
            normal = whole[:3, :3] @ part.form.normal(met.cell)
            if normal @ direction > 0.0:
                normal = -normal
            pick = Pick(
                name=name, point_mm=_vector(point), normal=_vector(normal), cell=part.first_cell + met.cell
            )
            best = (met.away_mm, pick)
        return best


def _held(matrix: Floats) -> vtkMatrix4x4:
    held = vtkMatrix4x4()
    held.DeepCopy(tuple(float(value) for value in matrix.ravel()))
    return held


def _vector(values: Floats) -> tuple[float, float, float]:
    x, y, z = (float(value) for value in values)
    return x, y, z
