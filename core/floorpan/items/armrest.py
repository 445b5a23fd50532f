"""An armrest: a padded lid on a box, which opens about its rear or its front edge.

Own axes: origin on what it stands on, under the middle of the pad; X along it rearward, Z up.
"""

import dataclasses
import math
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np

from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Pose
from floorpan.geometry.solids import Body, Solid
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
    no_such_part,
    stop_of,
)
from floorpan.items.shapes import block

Hinge = Literal["rear", "front"]

LID = "lid"
SHUT, OPEN = "shut", "open"
_AXIS = StateAxis(name=LID, stops=(SHUT, OPEN), legs=((SHUT, OPEN),), rest=SHUT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Armrest:
    """An armrest; place is under the middle of its pad, on what it stands on."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Armrest"
    place: Place = ORIGIN
    stands_on: StandsOnField = "console"
    locked: bool = False
    length_mm: Annotated[float, Range(40, 800, "mm", "Pad length", "Front to rear.")] = 260.0
    width_mm: Annotated[float, Range(30, 500, "mm", "Pad width", "Side to side.")] = 120.0
    height_mm: Annotated[
        float, Range(5, 600, "mm", "Pad over the foot", "Top of the pad, over what it stands on.")
    ] = 120.0
    pad_mm: Annotated[float, Range(3, 200, "mm", "Pad thickness", "Lid and foam together.")] = 35.0
    radius_mm: Annotated[float, Range(0, 100, "mm", "Edge radius", "Of the pad, all round.")] = 12.0
    hinge: Annotated[
        Hinge, Choice(("rear", "front"), "Hinged at the", "The edge that the lid opens about.")
    ] = "rear"
    open_deg: Annotated[float, Range(0, 120, "deg", "Opens by", "The lid, from shut.")] = 80.0

    def __post_init__(self) -> None:
        check_fields(self)


def axes(rest: Armrest) -> tuple[StateAxis, ...]:
    """The lid."""
    return (_AXIS,)


def parts(rest: Armrest) -> tuple[Part, ...]:
    """The box, where the pad stands off what is under it, and the pad."""
    pad = Part(name="pad", label="armrest pad", material="seat", moved_by=(LID,))
    if not has_box(rest):
        return (pad,)
    return (Part(name="box", label="armrest box", material="liner"), pad)


def has_box(rest: Armrest) -> bool:
    """Whether the pad stands off what is under it."""
    return rest.height_mm > rest.pad_mm


def envelope(rest: Armrest, part_name: str, stops: Stops) -> Body:
    """A part's stuff in car axes at the stop of `stops`."""
    return _body(rest, part_name, float(stop_of(_AXIS, stops) == OPEN))


def envelope_between(
    rest: Armrest, part_name: str, stops: Stops, axis: str, a: str, b: str, share: float
) -> Body:
    """A part's stuff in car axes a share of the way; the share runs evenly in the lid's angle."""
    return _body(rest, part_name, (1.0 - share) * float(a == OPEN) + share * float(b == OPEN))


def motion_mm(rest: Armrest, part_name: str, axis: str, a: str, b: str) -> float:
    """The arc of the corner that lies farthest from the hinge."""
    if part_name != "pad" or a == b:
        return 0.0
    return math.hypot(rest.length_mm, rest.pad_mm) * math.radians(rest.open_deg)


def grips(rest: Armrest, stops: Stops) -> tuple[Grip, ...]:
    """None: it is opened standing."""
    return ()


def grips_between(rest: Armrest, stops: Stops, axis: str, a: str, b: str, share: float) -> tuple[Grip, ...]:
    """None, as in `grips`."""
    return ()


def grip_motion_mm(rest: Armrest, grip_name: str, axis: str, a: str, b: str) -> float:
    """It has no grip."""
    return 0.0


def set_down_mm(rest: Armrest) -> tuple[Point, ...]:
    """The four corners under the pad in car X and Y."""
    length, width = rest.length_mm / 2, rest.width_mm / 2
    corners = np.array([[x, y, 0.0] for x in (-length, length) for y in (-width, width)])
    return tuple((float(x), float(y)) for x, y, _ in rest.place.pose().apply(corners))


def moved(rest: Armrest, place: Place) -> Armrest:
    """The same armrest at another place."""
    return dataclasses.replace(rest, place=place)


def _body(rest: Armrest, part_name: str, opened: float) -> Body:
    length, width = rest.length_mm / 2, rest.width_mm / 2
    under = max(rest.height_mm - rest.pad_mm, 0.0)
    pose = rest.place.pose()
    if part_name == "box" and has_box(rest):
        inset = min(rest.radius_mm, length / 2, width / 2)
        low, high = (inset - length, inset - width, 0.0), (length - inset, width - inset, under)
        return (Solid(block(low, high), pose),)
    if part_name == "pad":
        hull = block((-length, -width, under), (length, width, under + rest.pad_mm), rest.radius_mm)
        if not opened:
            return (Solid(hull, pose),)
        at_rear = rest.hinge == "rear"
        turned = rest.open_deg * opened if at_rear else -rest.open_deg * opened
        hinge = (length if at_rear else -length, 0.0, under)
        return (Solid(hull, pose.after(Pose.turned((0.0, 1.0, 0.0), turned, hinge))),)
    raise no_such_part(part_name)


KIND = ItemKind(
    kind="armrest",
    label="Armrest",
    model=Armrest,
    axes=axes,
    parts=parts,
    envelope=envelope,
    envelope_between=envelope_between,
    motion_mm=motion_mm,
    grips=grips,
    grips_between=grips_between,
    grip_motion_mm=grip_motion_mm,
    set_down_mm=set_down_mm,
    foot_below_mm=lambda rest: 0.0,
    moved=moved,
)
