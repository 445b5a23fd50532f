"""A switch or a button that one reaches for: a small round body with a place of its own, on anything or nothing.

Own axes: origin in the middle of it, where the hand touches; Z up.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from floorpan.fields import Choice, Range, check_fields
from floorpan.frames import Pose
from floorpan.geometry.solids import Body, Solid
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Grip,
    Part,
    Place,
    Point,
    StandsOnField,
    Stops,
    no_such_part,
)
from floorpan.items.shapes import orb
from floorpan.items.still import still_kind
from floorpan.items.vessels import ring

Touch = Literal["whole hand", "three fingers", "fingertip"]
WhichHand = Literal["shifting hand", "other hand"]

FINGERS_MM: dict[Touch, float] = {"whole hand": 0.0, "three fingers": 50.0, "fingertip": 100.0}
"""How much further than a whole hand's grip each touch reaches.

After SAE J287 (2022), Driver Hand Control Reach, by a secondary source: against three fingers an extended finger
reaches 50 further and a full hand 50 less.
"""

HAND_RADIUS_MM = 55.0
"""The bare hand's ball about what it touches; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """A switch or button, half sunk into what carries it; place is the middle of it, where the hand touches."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Switch"
    place: Place = ORIGIN
    stands_on: StandsOnField = "none"
    locked: bool = False
    radius_mm: Annotated[float, Range(2, 100, "mm", "Radius", "Half of what is wide of it.")] = 12.0
    touch: Annotated[
        Touch,
        Choice(
            ("whole hand", "three fingers", "fingertip"),
            "Touched by",
            "A fingertip reaches 100 mm further than a whole hand, three fingers 50.",
        ),
    ] = "fingertip"
    hand: Annotated[
        WhichHand,
        Choice(
            ("shifting hand", "other hand"), "With the", "The shifting hand is the one nearer the tunnel."
        ),
    ] = "shifting hand"

    def __post_init__(self) -> None:
        check_fields(self)

    def fingers_mm(self) -> float:
        """How much further than a whole hand's grip it is reached."""
        return FINGERS_MM[self.touch]


def parts(control: Control) -> tuple[Part, ...]:
    """All of it."""
    return (Part(name="button", label=control.name, material="knob"),)


def envelope(control: Control, part_name: str, stops: Stops) -> Body:
    """A ball in car axes."""
    if part_name != "button":
        raise no_such_part(part_name)
    place = control.place
    return (Solid(orb(control.radius_mm), Pose(shift_mm=(place.x_mm, place.y_mm, place.z_mm))),)


def grips(control: Control, stops: Stops) -> tuple[Grip, ...]:
    """The middle of it."""
    place = control.place
    return (Grip(name="button", at_mm=(place.x_mm, place.y_mm, place.z_mm), radius_mm=HAND_RADIUS_MM),)


def set_down_mm(control: Control) -> tuple[Point, ...]:
    """Eight points around it in car X and Y."""
    return ring(control.place, control.radius_mm)


KIND = still_kind(
    kind="switch",
    label="Switch or button",
    model=Control,
    parts=parts,
    envelope=envelope,
    grips=grips,
    set_down_mm=set_down_mm,
)
