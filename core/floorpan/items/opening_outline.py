"""The opening a lever needs at a height: everywhere a level cut finds it over the whole gate, rock and margin round it.

A level cut through a rod of radius r along the unit vector a is an ellipse, r across and r / a_z along its slope.
The outline joins the ellipses of neighbouring looks, so small that the way between them bulges less than is added.
"""

import dataclasses
import functools
import itertools
import math
from dataclasses import dataclass

import numpy as np
import shapely

from floorpan.errors import BadValue
from floorpan.frames import Floats
from floorpan.items.lever import LeverState, mixed, turned_by_deg
from floorpan.items.opening import lever_line, rod_cut
from floorpan.items.placing import ORIGIN
from floorpan.items.shifter import axes
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import lever_way

_STEP_DEG = 1.5
_SIDES = 64
_QUARTER = 24
# A lever that leans further than this from upright has no opening to speak of.
_STEEPEST = math.cos(math.radians(75.0))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OpeningOutline:
    """The edge of an opening, in the shifter's axes from the centre of the foot [mm].

    height_mm  : over the foot
    points_mm  : (N, 2), X rearward and Y right, once round, anticlockwise seen with X right and Y up
    outside_mm : how far it may stand outside what is needed; it is never inside
    """

    height_mm: float
    points_mm: Floats
    outside_mm: float

    @property
    def length_mm(self) -> float:
        """Front to rear."""
        return float(np.ptp(self.points_mm[:, 0]))

    @property
    def width_mm(self) -> float:
        """Side to side."""
        return float(np.ptp(self.points_mm[:, 1]))


def opening_outline(shifter: Shifter, height_mm: float, margin_mm: float) -> OpeningOutline:
    """The outline at a height over the foot that the lever passes through in every gear and on every way.

    margin_mm : beyond the lever's skin and the engine's rock

    Raises BadValue where the lever lies so flat that no level cut holds it.
    """
    # Where it stands and what it is called have no part in it: a shifter that is dragged keeps its outline.
    return _outline(dataclasses.replace(shifter, id="", name="", place=ORIGIN), height_mm, margin_mm)


@functools.lru_cache(maxsize=64)
def _outline(shifter: Shifter, height_mm: float, margin_mm: float) -> OpeningOutline:
    # The ellipses themselves change by a micrometre or two more than a straight line between two looks.
    pieces, bulge = [], 1e-3
    cut = functools.cache(lambda state: _ellipse(shifter, state, height_mm))
    for one, other in _looks(shifter):
        pieces.append(np.vstack([cut(one), cut(other)]))
        # Half way between two looks the way is as far from the straight line as it gets, but for the third order.
        middle = cut(mixed(one, other, 0.5)).mean(axis=0)
        off = middle - (cut(one).mean(axis=0) + cut(other).mean(axis=0)) / 2
        bulge = max(bulge, 2.0 * float(np.linalg.norm(off)))
    hulls = shapely.convex_hull(shapely.multipoints(np.array(pieces)))
    rounder = 1.0 / math.cos(math.pi / (4 * _QUARTER))
    grown = (shifter.rock_mm + margin_mm + bulge) * rounder
    whole = shapely.union_all(hulls).buffer(grown, quad_segs=_QUARTER)
    edge = shapely.orient_polygons(shapely.Polygon(whole.exterior))
    widest = shifter.lever_radius_mm / _STEEPEST
    outside = widest * (1.0 / math.cos(math.pi / _SIDES) - 1.0) + grown * (rounder - 1.0) + 2.0 * bulge
    return OpeningOutline(
        height_mm=height_mm,
        points_mm=np.asarray(edge.exterior.coords, dtype=float)[:-1],
        outside_mm=outside,
    )


def _looks(shifter: Shifter) -> list[tuple[LeverState, LeverState]]:
    """Neighbouring states over every leg; a stretch that two legs share comes once."""
    stretches: dict[tuple[LeverState, LeverState], None] = {}
    for a, b in axes(shifter)[0].legs:
        way = lever_way(shifter, a, b)
        for stretch in way.pieces() or ((way.waypoints[0], way.waypoints[0]),):
            stretches[stretch] = None
    found = []
    for start, end in stretches:
        count = max(1, math.ceil(turned_by_deg(start, end) / _STEP_DEG))
        states = [mixed(start, end, at / count) for at in range(count + 1)]
        found += list(itertools.pairwise(states))
    return found


def _ellipse(shifter: Shifter, state: LeverState, height_mm: float) -> Floats:
    """The level cut (K, 2), drawn around the true ellipse."""
    _, along = lever_line(shifter, state, height_mm)
    if float(along[2]) < _STEEPEST:
        raise BadValue(
            "lever-flat",
            "The lever lies too flat for an opening at that height.",
            "Choose a height that the upright part of the lever goes through, or lean the lever less.",
        )
    at, _ = rod_cut(shifter, state, height_mm)
    level = float(np.hypot(along[0], along[1]))
    slope = along[:2] / level if level > 1e-12 else np.array([1.0, 0.0])
    across = np.array([-slope[1], slope[0]])
    around = np.linspace(0.0, 2 * np.pi, _SIDES, endpoint=False)[:, None]
    radius = shifter.lever_radius_mm / math.cos(math.pi / _SIDES)
    edge: Floats = at + radius * (np.cos(around) / float(along[2]) * slope + np.sin(around) * across)
    return edge
