"""What a builder leaves free of a shifter so that its knob comes where it is wanted, and what each costs in trouble."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated

from floorpan.errors import BadValue
from floorpan.fields import Range, check_fields
from floorpan.items import Shifter
from floorpan.limits import COMMON, DEFAULT


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverFreedom:
    """Which ways the builder may go, each with how far. What is not free stays as it is.

    Lengths in mm, angles in deg. The box moves along the car's axes; it tilts about the centre of its foot, in its
    own fore-aft plane as the lever leans. Raises BadValue for a value out of its range or a range turned round.
    """

    length_free: bool = True
    length_least_mm: Annotated[
        float, Range(60, 700, "mm", "Shortest lever", "Pivot to the knob, along the rod.")
    ] = 150.0
    length_most_mm: Annotated[
        float, Range(60, 700, "mm", "Longest lever", "Pivot to the knob, along the rod.")
    ] = 350.0
    bend_free: bool = True
    bend_most_deg: Annotated[float, Range(0, 60, "deg", "Bend at most", "Off the lever's straight line.")] = (
        20.0
    )
    bend_below_boot_mm: Annotated[
        float, Range(0, 300, "mm", "Bend below the boot", "From the boot's top down, along the lever.")
    ] = 40.0
    raise_free: bool = True
    raise_most_mm: Annotated[float, Range(0, 300, "mm", "Raised at most", "Spacers under the box.")] = 50.0
    tilt_free: bool = True
    tilt_least_deg: Annotated[
        float, Range(-30, 0, "deg", "Tilted forward at most", "Forward is a minus.")
    ] = -10.0
    tilt_most_deg: Annotated[
        float, Range(0, 30, "deg", "Tilted rearward at most", "About the centre of the foot.")
    ] = 10.0
    move_free: bool = True
    move_forward_mm: Annotated[float, Range(0, 1000, "mm", "Forward at most", "The box, along the car.")] = (
        50.0
    )
    move_rearward_mm: Annotated[
        float, Range(0, 1000, "mm", "Rearward at most", "The box, along the car.")
    ] = 50.0
    move_left_mm: Annotated[float, Range(0, 500, "mm", "To the left at most", "The box, across the car.")] = (
        30.0
    )
    move_right_mm: Annotated[
        float, Range(0, 500, "mm", "To the right at most", "The box, across the car.")
    ] = 30.0

    def __post_init__(self) -> None:
        check_fields(self)
        if self.length_least_mm > self.length_most_mm:
            raise BadValue(
                "range-turned-round",
                f"The shortest lever, {self.length_least_mm:g} mm, is longer than the longest,"
                f" {self.length_most_mm:g} mm.",
                "Type the shorter one as the shortest lever.",
            )


SOURCES: Mapping[str, str] = MappingProxyType(
    {
        "length_least_mm": DEFAULT,
        "length_most_mm": DEFAULT,
        "bend_most_deg": DEFAULT,
        "bend_below_boot_mm": f"{COMMON}: bent below the boot over a heated length of 50 to 75 mm",
        "raise_most_mm": f"{COMMON}: spacers of 50 mm under a box have been used",
        "tilt_least_deg": DEFAULT,
        "tilt_most_deg": DEFAULT,
        "move_forward_mm": DEFAULT,
        "move_rearward_mm": DEFAULT,
        "move_left_mm": DEFAULT,
        "move_right_mm": DEFAULT,
    }
)
"""Where each default of LeverFreedom comes from."""


def usual_freedom(shifter: Shifter) -> LeverFreedom:
    """What is usually free: all of it for a box on the body; lever and bend alone where it stands on the gearbox."""
    on_body = shifter.family != "gearbox"
    return LeverFreedom(raise_free=on_body, tilt_free=on_body, move_free=on_body)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """What each change costs; one mm of lever is the unit. The least sum of cost times change is looked for.

    The trade's order of trouble is knob and lever first, then the bend, then the box raised or tilted, then the
    box moved: common practice, no source. The figures keep that order for the same way of the knob, with some
    240 mm of lever: default, edit me.
    """

    length_per_mm: float = 1.0
    bend_per_deg: float = 6.0
    raise_per_mm: float = 4.0
    tilt_per_deg: float = 20.0
    move_per_mm: float = 8.0

    def __post_init__(self) -> None:
        costs = (
            self.length_per_mm,
            self.bend_per_deg,
            self.raise_per_mm,
            self.tilt_per_deg,
            self.move_per_mm,
        )
        if not all(0.01 <= cost <= 1000.0 for cost in costs):
            raise BadValue(
                "cost-out-of-range", "Trouble is counted from 0.01 to 1000.", "Type a number in between."
            )


USUAL_TROUBLE = Trouble()
