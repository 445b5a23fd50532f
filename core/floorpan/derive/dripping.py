"""Where what drips off a vessel falls: straight down from the mouth of its well and from its whole way out.

Seen from above this is the well's mouth and a band as wide as the vessel along its level way.
"""

from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from floorpan.console import Envelope
from floorpan.derive.lifting import Lifting
from floorpan.derive.scene import Scene
from floorpan.frames import Floats
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.columns import Columns
from floorpan.geometry.near import Near
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.geometry.tops import tops
from floorpan.items import Armrest, Buckle, Control, CupHolder, Handbrake, Seat, Shifter, Vessel
from floorpan.items.states import NOTHING_MOVES, State, state_of
from floorpan.layout import Thing, record_of

GRID_MM = 8.0
"""How far the drops lie apart that are let fall."""
OWN_WELL, FLOOR = "its own well", "floor"

_TALL_MM = 1e5
KEPT_DRY: tuple[type[Thing], ...] = (Control, Buckle)
_LANDED_ON: tuple[type[Thing], ...] = (
    Control,
    Buckle,
    Shifter,
    Handbrake,
    Armrest,
    Seat,
    CupHolder,
    Envelope,
)


@dataclass(frozen=True, slots=True, eq=False)
class Drips:
    """What drips off a vessel on its way out.

    from_mm, to_mm : (x, y) of the vessel's axis at the start and the end of its level way, car axes
    radius_mm      : of the vessel where it is widest; mouth_mm : radius of the well's mouth
    height_mm      : car Z that it falls from: the base of the lifted vessel
    """

    from_mm: tuple[float, float]
    to_mm: tuple[float, float]
    radius_mm: float
    mouth_mm: float
    height_mm: float

    def level_gap(self, body: Body) -> Near | None:
        """Level gap from where it falls to a body's outline seen from above, as far as that lies lower; None else."""
        lower = [solid for solid in body if solid.box()[0][2] - solid.hull.radius_mm < self.height_mm]
        if not lower:
            return None
        return body_gap(self._upright(), tuple(_upright(solid) for solid in lower))

    def drops(self) -> Floats:
        """Places (N, 2) on a grid of GRID_MM over all of where it falls."""
        ends = np.array([self.from_mm, self.to_mm])
        most = max(self.radius_mm, self.mouth_mm)
        low, high = ends.min(axis=0) - most, ends.max(axis=0) + most
        # Counted from the well's axis, so that it is the same wherever the car's origin is.
        start = ends[0] + GRID_MM * np.floor((low - ends[0]) / GRID_MM)
        x, y = (np.arange(start[k], high[k] + GRID_MM / 2, GRID_MM) for k in range(2))
        grid = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
        away = _from_segment(grid, ends[0], ends[1])
        falls: Floats = grid[(away <= self.radius_mm) | self.in_mouth(grid)]
        return falls

    def in_mouth(self, at_mm: Floats) -> NDArray[np.bool_]:
        """Which places (N, 2) lie over the well's mouth."""
        over: NDArray[np.bool_] = np.hypot(*(at_mm - np.array(self.from_mm)).T) <= self.mouth_mm
        return over

    def _upright(self) -> Body:
        ends = [(*at, z) for at in (self.from_mm, self.to_mm) for z in (-_TALL_MM, _TALL_MM)]
        mouth = [(*self.from_mm, z) for z in (-_TALL_MM, _TALL_MM)]
        return (Solid(Hull(np.array(ends), self.radius_mm)), Solid(Hull(np.array(mouth), self.mouth_mm)))


def drips(scene: Scene, vessel: Vessel, stop: str) -> Drips | None:
    """What drips off a vessel on its way out at a stop of its `place`; None where it stands in no well."""
    going = Lifting(scene.layout, scene.memory).on_its_way(vessel.id, stop)
    if going is None:
        return None
    holder = scene.layout.thing(vessel.stands_in)
    assert isinstance(holder, CupHolder)

    def make() -> Drips:
        start, end = going.way.from_place, going.way.at(1.0)
        return Drips(
            from_mm=(start.x_mm, start.y_mm),
            to_mm=(end.x_mm, end.y_mm),
            radius_mm=max(radius for _, radius in vessel.profile),
            mouth_mm=holder.mouth_mm / 2,
            height_mm=going.way.over_place.z_mm,
        )

    return scene.memory.get("drips", (going, holder), make)


def opening_body(shifter: Shifter) -> Body:
    """The opening of a shifter in its console, with the boot in it, as a level sheet in car axes."""
    along, across = shifter.opening_length_mm / 2, shifter.opening_width_mm / 2
    back, height = shifter.opening_back_mm, shifter.opening_mm
    corners = [
        (back + x, y, height)
        for x, y in ((-along, -across), (along, -across), (along, across), (-along, across))
    ]
    return (Solid(Hull(np.array(corners)), shifter.place.pose()),)


@dataclass(frozen=True, slots=True, eq=False)
class Landing:
    """What a drop may land on: a body, a level sheet with all over it, or a scanned part.

    wets : whether it must not be wetted
    """

    called: str
    wets: bool
    body: Body = ()
    sheet: Body = ()
    columns: Columns | None = None

    def height_at(self, at_mm: Floats, below_mm: float) -> Floats:
        """Where drops over places (N, 2) from a height land on it (N,); minus infinity where they pass it by.

        What reaches higher than the drops fall from is passed by: there they do not come.
        """
        if self.columns is not None:
            return self._scanned(self.columns, at_mm, below_mm)
        if self.sheet:
            # Over an opening nothing of a console is left, however high that is drawn.
            over = np.isfinite(tops(tuple(_upright(solid) for solid in self.sheet), at_mm))
            return np.where(over, below_mm, -np.inf)
        found = tops(self.body, at_mm)
        return np.where(found <= below_mm, found, -np.inf)

    def _scanned(self, columns: Columns, at_mm: Floats, below_mm: float) -> Floats:
        heights = columns.heights_at_each(at_mm)
        return np.array([max((z for z in held if z <= below_mm), default=-np.inf) for held in heights])


def landings(scene: Scene, vessel: Vessel) -> tuple[Landing, ...]:
    """All that drops may land on but the vessel's own well and the floor, at rest; the very same each time."""
    found = []
    for kind in _LANDED_ON:
        for thing in scene.layout.of(kind):
            if thing.id != vessel.stands_in:
                wets = isinstance(thing, KEPT_DRY) or (
                    isinstance(thing, Shifter) and not scene.layout.consoles
                )
                body = scene.body(thing.id, _at_rest(scene, thing.id))
                found.append(_landing(scene, thing.name, wets, body))
    for area in scene.areas():
        if not area.level:
            make = partial(Landing, area.kind, False, columns=Columns(area.surface.mesh))
            found.append(scene.memory.get(("lands", area.kind), (area,), make))
    if scene.layout.consoles:
        for shifter in scene.layout.of(Shifter):
            called = f"opening of {shifter.name}"
            make = partial(Landing, called, True, sheet=opening_body(shifter))
            found.append(scene.memory.get(("lands", called), (shifter,), make))
    return tuple(found)


def _landing(scene: Scene, called: str, wets: bool, body: Body) -> Landing:
    return scene.memory.get(("lands", called, wets), (body,), lambda: Landing(called, wets, body))


def shares(falls: Drips, on: tuple[Landing, ...]) -> dict[str, float]:
    """Share of the drops that land on each thing by name, in the vessel's own well, on the floor.

    A drop lands on the first thing under the height it falls from.
    """
    at = falls.drops()
    top = np.full(len(at), -np.inf)
    names = np.full(len(at), FLOOR, dtype=object)
    for one in on:
        height = one.height_at(at, falls.height_mm)
        higher = height > top
        top[higher], names[higher] = height[higher], one.called
    names[falls.in_mouth(at)] = OWN_WELL
    found, counts = np.unique(names.astype(str), return_counts=True)
    return {str(name): float(count) / len(at) for name, count in zip(found, counts, strict=True)}


def _at_rest(scene: Scene, id: str) -> State:
    stops = {}
    for axis, used in scene.axes_of(id):
        owner, _, name = axis.partition(".")
        rest = next(
            one.rest
            for one in record_of(scene.layout.thing(owner)).axes(scene.layout.thing(owner))
            if one.name == name
        )
        stops[axis] = rest if rest in used else used[len(used) // 2]
    return state_of(stops) if stops else NOTHING_MOVES


def _from_segment(at_mm: Floats, start: Floats, end: Floats) -> Floats:
    way = end - start
    long = float(way @ way)
    share = np.clip((at_mm - start) @ way / long, 0.0, 1.0) if long > 0.0 else np.zeros(len(at_mm))
    away: Floats = np.hypot(*(at_mm - start - share[:, None] * way).T)
    return away


def _upright(solid: Solid) -> Solid:
    """A solid with all over and under it: level gaps to it are gaps to its outline seen from above."""
    points = solid.points()[:, :2]
    ends = [np.column_stack([points, np.full(len(points), z)]) for z in (-_TALL_MM, _TALL_MM)]
    return Solid(Hull(np.vstack(ends), solid.hull.radius_mm, solid.hull.facet_mm))
