"""The seat: a cushion, a backrest and bolsters around the seat reference point, on rails with notches.

Own axes: origin at the seat reference point at the notch where `place` holds, X rearward, Y right, Z up. The
torso line starts there and leans rearward by back_deg from upright.

Where the backrest reclines, backrest and backrest bolsters turn about the recliner's pivot. Whoever sits there sits
at back_deg: how far the backrest goes from there concerns the seat's own body only, never a torso, a reach or a hand.
"""

import dataclasses
import functools
import itertools
import math
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Floats, Pose, Vector
from floorpan.geometry.solids import Body, Hull, Solid
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Grip,
    ItemKind,
    Part,
    Place,
    Point,
    StandsOnField,
    StateAxis,
    Stops,
    check_whole,
    no_such_part,
    point,
    stop_of,
)
from floorpan.items.shapes import block

ForWhom = Literal["driver", "passenger"]

NOTCH, RECLINE = "notch", "recline"
UPRIGHT, DRIVEN, LAID_BACK = "upright", "driven", "laid back"
_ROUND_MM = 30.0
_BOLSTER_ROUND_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """A seat; place is the seat reference point (hip point, somebody sitting) at the notch notch_here."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Seat"
    place: Place = ORIGIN
    stands_on: StandsOnField = "floor"
    locked: bool = False
    for_whom: Annotated[ForWhom, Choice(("driver", "passenger"), "Seat of", "Who sits in it.")] = "driver"
    back_deg: Annotated[
        float,
        Range(
            -5, 60, "deg", "Torso from upright", "The line from hip to shoulder; 25 where nobody measured."
        ),
    ] = 24.0
    cushion_deg: Annotated[float, Range(-10, 40, "deg", "Cushion tilt", "Front edge up from level.")] = 12.0
    cushion_length_mm: Annotated[
        float, Range(200, 700, "mm", "Cushion length", "Backrest to the front edge, along the cushion.")
    ] = 480.0
    cushion_width_mm: Annotated[
        float, Range(250, 800, "mm", "Cushion width", "Over the bolsters, nobody in it.")
    ] = 500.0
    cushion_thick_mm: Annotated[
        float, Range(10, 300, "mm", "Cushion thickness", "Surface to underside, somebody in it.")
    ] = 70.0
    cushion_drop_mm: Annotated[
        float,
        Range(0, 200, "mm", "Cushion under the hip", "Hip point to the cushion's surface, somebody in it."),
    ] = 95.0
    foam_mm: Annotated[
        float,
        Range(
            0, 60, "mm", "Foam settles", "By so much the hip comes down once the foam has; 10 to 20 is usual."
        ),
    ] = 0.0
    back_length_mm: Annotated[
        float, Range(200, 1000, "mm", "Backrest length", "Cushion to the top of the backrest.")
    ] = 620.0
    back_width_mm: Annotated[float, Range(200, 800, "mm", "Backrest width", "Over the bolsters.")] = 480.0
    back_thick_mm: Annotated[
        float, Range(10, 300, "mm", "Backrest thickness", "Face to rear, between the bolsters.")
    ] = 80.0
    back_behind_mm: Annotated[
        float, Range(0, 250, "mm", "Backrest behind the torso line", "Torso line to the backrest's face.")
    ] = 130.0
    side_bolster_mm: Annotated[
        float, Range(0, 200, "mm", "Cushion bolster", "How far it rises over the cushion's surface.")
    ] = 45.0
    back_bolster_mm: Annotated[
        float, Range(0, 250, "mm", "Backrest bolster", "How far it stands forward of the backrest's face.")
    ] = 60.0
    bolster_width_mm: Annotated[float, Range(10, 200, "mm", "Bolster width", "Across one bolster.")] = 70.0
    bulge_mm: Annotated[
        float,
        Range(0, 80, "mm", "Bolster bulge", "How far a bolster swells outward with somebody in the seat."),
    ] = 0.0
    notches: Annotated[int, Range(1, 40, "", "Notches", "Of the slide; 1 for a fixed seat.")] = 12
    notch_mm: Annotated[float, Range(0, 60, "mm", "Notch", "From one notch to the next.")] = 15.0
    notch_here: Annotated[
        int, Range(1, 40, "", "Notch here", "The notch at which the place holds; 1 is full back.")
    ] = 6
    rail_deg: Annotated[float, Range(-15, 30, "deg", "Rail rise", "The rails rise forward by this much.")] = (
        2.0
    )
    stand_mm: Annotated[
        float,
        Range(
            50, 600, "mm", "Hip over the floor", "Seat reference point over what it stands on, at this notch."
        ),
    ] = 230.0

    recline_less_deg: Annotated[
        float,
        Range(0, 60, "deg", "Back more upright by", "As far as it is ever used; 0 where it stays as driven."),
    ] = 0.0
    recline_more_deg: Annotated[
        float,
        Range(0, 90, "deg", "Back laid back by", "As far as it is ever used; 0 where it stays as driven."),
    ] = 0.0
    pivot_behind_mm: Annotated[
        float,
        Range(-200, 400, "mm", "Recliner behind the hip", "Hip point to the backrest's pivot, rearward."),
    ] = 130.0
    pivot_under_mm: Annotated[
        float, Range(-200, 400, "mm", "Recliner under the hip", "Hip point to the backrest's pivot, down.")
    ] = 60.0

    def __post_init__(self) -> None:
        check_fields(self)
        check_whole(self, ("notches", "notch_here"))


def h_point(seat: Seat, notch: int) -> Vector:
    """The seat reference point in car axes at a notch; notch 1 is the rearmost.

    Raises BadValue for a notch the slide does not have.
    """
    return point(seat.place.pose().apply(_slid(seat, notch)))


def slide_mm(seat: Seat, notch: float) -> Vector:
    """How far the seat stands from where its place holds, in car axes [mm]; the notch may lie between two.

    Raises BadValue for a notch the slide does not have.
    """
    return point(Pose(rotation=seat.place.pose().rotation).apply(_slid(seat, notch)))


def torso_line(seat: Seat, notch: int) -> tuple[Vector, Vector]:
    """The seat reference point and the unit vector up along the torso, in car axes, at a notch."""
    back = math.radians(seat.back_deg)
    up = np.array([math.sin(back), 0.0, math.cos(back)])
    turned = Pose(rotation=seat.place.pose().rotation).apply(up)
    return h_point(seat, notch), point(turned)


def axes(seat: Seat) -> tuple[StateAxis, ...]:
    """The notch: "1" (rearmost) to the last, legs between neighbours; and the backrest, where it reclines."""
    stops = tuple(str(notch) for notch in range(1, int(seat.notches) + 1))
    legs = tuple(itertools.pairwise(stops))
    notch = StateAxis(name=NOTCH, stops=stops, legs=legs, rest=str(_notch_here(seat)))
    leans = tuple(_leans_deg(seat))
    if len(leans) < 2:
        return (notch,)
    return notch, StateAxis(name=RECLINE, stops=leans, legs=tuple(itertools.pairwise(leans)), rest=DRIVEN)


def parts(seat: Seat) -> tuple[Part, ...]:
    """Cushion, backrest and a bolster on either side, all riding on the rails."""
    names = (
        ("cushion", "cushion"),
        ("back", "backrest"),
        ("bolster left", "left bolster"),
        ("bolster right", "right bolster"),
    )
    leaning = (NOTCH, RECLINE) if len(_leans_deg(seat)) > 1 else (NOTCH,)
    return tuple(
        Part(name=name, label=label, material="seat", moved_by=(NOTCH,) if name == "cushion" else leaning)
        for name, label in names
    )


def envelope(seat: Seat, part_name: str, stops: Stops) -> Body:
    """A part's stuff in car axes at the notch and with the backrest of `stops`."""
    return _body(seat, part_name, *_standing(seat, stops))


def envelope_between(
    seat: Seat, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """A part's stuff in car axes a share of the way from a to b: two notches, or two leans of the backrest."""
    notch, lean = _standing(seat, {name: stop for name, stop in stops.items() if name != axis})
    if axis == RECLINE:
        leans = _leans_deg(seat)
        return _body(seat, part_name, notch, (1 - share) * leans[a] + share * leans[b])
    return _body(seat, part_name, (1 - share) * float(a) + share * float(b), lean)


def motion_mm(seat: Seat, part_name: str, axis: str, a: str, b: str) -> float:
    """How far it slides over the leg, exact, for it does not turn; or the arc of what lies farthest from the pivot."""
    if axis == NOTCH:
        return abs(float(b) - float(a)) * seat.notch_mm
    leans = _leans_deg(seat)
    return _arm_mm(seat, part_name) * math.radians(abs(leans[b] - leans[a]))


def grips(seat: Seat, stops: Stops) -> tuple[Grip, ...]:
    """None yet: nobody takes hold of a seat while driving."""
    return ()


def grips_between(seat: Seat, stops: Stops, axis: str, a: str, b: str, share: float) -> tuple[Grip, ...]:
    """None, as in `grips`."""
    return ()


def set_down_mm(seat: Seat) -> tuple[Point, ...]:
    """The four corners of the cushion seen from above, in car X and Y, at the notch where the place holds."""
    hull, pose = _cushion(seat)
    low, high = hull.points.min(axis=0), hull.points.max(axis=0)
    corners = np.array([[x, y, low[2]] for x in (low[0], high[0]) for y in (low[1], high[1])])
    stood = seat.place.pose().after(pose).apply(corners)
    return tuple((float(x), float(y)) for x, y, _ in stood)


def moved(seat: Seat, place: Place) -> Seat:
    """The same seat at another place."""
    return dataclasses.replace(seat, place=place)


def _notch_here(seat: Seat) -> int:
    return min(int(seat.notch_here), int(seat.notches))


def _slid(seat: Seat, notch: float) -> Floats:
    if not 1 <= notch <= seat.notches:
        raise BadValue(
            "no-such-notch",
            f"The seat has no notch {notch:g}.",
            f"Use a notch from 1 to {int(seat.notches)}.",
            notch=notch,
        )
    forward = (notch - _notch_here(seat)) * seat.notch_mm
    rail = math.radians(seat.rail_deg)
    return forward * np.array([-math.cos(rail), 0.0, math.sin(rail)])


def _leans_deg(seat: Seat) -> dict[str, float]:
    """How far the backrest leans from where it is driven at, by stop, the most upright first."""
    less, more = seat.recline_less_deg, seat.recline_more_deg
    leans = ((UPRIGHT, -less), (DRIVEN, 0.0), (LAID_BACK, more))
    return {stop: lean for stop, lean in leans if lean or stop == DRIVEN}


def _standing(seat: Seat, stops: Stops) -> tuple[float, float]:
    """Notch and lean of the backrest from where it is driven at [deg]."""
    notch, *reclining = axes(seat)
    lean = _leans_deg(seat)[stop_of(reclining[0], stops)] if reclining else 0.0
    return float(stop_of(notch, stops)), lean


def _body(seat: Seat, part_name: str, notch: float, lean_deg: float) -> Body:
    stood = seat.place.pose().after(Pose(shift_mm=point(_slid(seat, notch))))
    turned = stood
    if lean_deg:
        turned = stood.after(Pose.turned((0.0, 1.0, 0.0), lean_deg, _pivot(seat)))
    return tuple(
        Solid(hull, (turned if leans else stood).after(pose))
        for hull, pose, leans in _pieces(seat, part_name)
    )


def _pivot(seat: Seat) -> Vector:
    return (seat.pivot_behind_mm, 0.0, -seat.pivot_under_mm)


def _arm_mm(seat: Seat, part_name: str) -> float:
    """How far the farthest hull point of a part that leans lies from the pivot's line; its roundness goes along."""
    reach = 0.0
    for hull, pose, leans in _pieces(seat, part_name):
        if leans:
            off = pose.apply(hull.points) - np.array(_pivot(seat))
            reach = max(reach, float(np.hypot(off[:, 0], off[:, 2]).max()))
    return reach


@functools.lru_cache(maxsize=256)
def _pieces(seat: Seat, part_name: str) -> tuple[tuple[Hull, Pose, bool], ...]:
    """The hulls of a part with their poses on the slide, and whether each leans with the backrest."""
    if part_name == "cushion":
        return ((*_cushion(seat), False),)
    if part_name == "back":
        return ((*_back(seat), True),)
    if part_name in ("bolster left", "bolster right"):
        return _bolsters(seat, -1 if part_name.endswith("left") else 1)
    raise no_such_part(part_name)


def _cushion_pose(seat: Seat) -> Pose:
    """Origin under the hip point on the cushion's surface, X rearward along it, Z square to it."""
    tilt = Pose.turned((0.0, 1.0, 0.0), seat.cushion_deg)
    return tilt.after(Pose(shift_mm=(0.0, 0.0, -seat.cushion_drop_mm)))


def _back_pose(seat: Seat) -> Pose:
    """Origin beside the hip point on the backrest's face, Z up along it, X rearward into it."""
    tilt = Pose.turned((0.0, 1.0, 0.0), seat.back_deg)
    return tilt.after(Pose(shift_mm=(seat.back_behind_mm, 0.0, 0.0)))


def _cushion(seat: Seat) -> tuple[Hull, Pose]:
    half = seat.cushion_width_mm / 2
    front = seat.back_behind_mm - seat.cushion_length_mm
    hull = block((front, -half, -seat.cushion_thick_mm), (seat.back_behind_mm, half, 0.0), _ROUND_MM)
    return hull, _cushion_pose(seat)


def _back(seat: Seat) -> tuple[Hull, Pose]:
    half, top = seat.back_width_mm / 2, seat.back_length_mm - seat.cushion_drop_mm
    hull = block((0.0, -half, -seat.cushion_drop_mm), (seat.back_thick_mm, half, top), _ROUND_MM)
    return hull, _back_pose(seat)


def _bolsters(seat: Seat, side: int) -> tuple[tuple[Hull, Pose, bool], ...]:
    """The cushion's and the backrest's bolster of one side (-1 left, +1 right); none where nothing rises."""
    found: list[tuple[Hull, Pose, bool]] = []
    if seat.side_bolster_mm > 0:
        inner, outer = _across(seat, seat.cushion_width_mm, side)
        front = seat.back_behind_mm - seat.cushion_length_mm
        low = (front, inner, -seat.cushion_thick_mm / 2)
        found.append(
            (
                block(low, (seat.back_behind_mm, outer, seat.side_bolster_mm), _BOLSTER_ROUND_MM),
                _cushion_pose(seat),
                False,
            )
        )
    if seat.back_bolster_mm > 0:
        inner, outer = _across(seat, seat.back_width_mm, side)
        # The bolster ends below the shoulders; common practice, no source.
        top = 0.75 * seat.back_length_mm - seat.cushion_drop_mm
        low = (-seat.back_bolster_mm, inner, -seat.cushion_drop_mm)
        hull = block(low, (seat.back_thick_mm / 2, outer, top), _BOLSTER_ROUND_MM)
        found.append((hull, _back_pose(seat), True))
    return tuple(found)


def _across(seat: Seat, width_mm: float, side: int) -> tuple[float, float]:
    """Least and greatest Y of one bolster, swollen outward by the bulge."""
    ends = sorted((side * (width_mm / 2 - seat.bolster_width_mm), side * (width_mm / 2 + seat.bulge_mm)))
    return ends[0], ends[1]


KIND = ItemKind(
    kind="seat",
    label="Seat",
    model=Seat,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda seat: seat.stand_mm,
    moved=moved,
)
