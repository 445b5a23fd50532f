"""What a builder says of a shifter.

Own axes: origin at the centre of the mounting foot, X rearward, Y right, Z up.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, Text, check_fields
from floorpan.items.knob_point import KnobPoint
from floorpan.items.lever import Reverse, straight_slots
from floorpan.items.placing import ID, NAME, ORIGIN, Place, StandsOnField, check_whole

Family = Literal["cables", "remote rod", "gearbox"]
Gate = Literal["manual", "straight"]
HandShape = Literal["ball", "fist"]
KnobShape = Literal["sphere", "cylinder", "pear"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifter:
    """A shifter; place is the centre of its mounting foot. Typed knobs win over those the angles give."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Shifter"
    place: Place = ORIGIN
    stands_on: StandsOnField = "floor"
    locked: bool = False
    family: Annotated[
        Family,
        Choice(
            ("cables", "remote rod", "gearbox"),
            "Lever stands on",
            "Cables: a box on the body. Remote rod: joined to the gearbox. Gearbox: rocks with the engine.",
        ),
    ] = "cables"
    box_length_mm: Annotated[float, Range(20, 500, "mm", "Box length", "Front to rear, over the foot.")] = (
        140.0
    )
    box_width_mm: Annotated[float, Range(20, 400, "mm", "Box width", "Side to side, over the foot.")] = 110.0
    box_height_mm: Annotated[float, Range(5, 300, "mm", "Box height", "Foot to the top of the box.")] = 60.0
    pivot_mm: Annotated[
        float, Range(-200, 300, "mm", "Pivot over the foot", "Under the foot is a minus.")
    ] = 45.0
    pivot_back_mm: Annotated[
        float, Range(-200, 200, "mm", "Pivot behind the foot", "Rearward of the foot's centre.")
    ] = 0.0
    pivot_right_mm: Annotated[
        float, Range(-200, 200, "mm", "Pivot beside the foot", "Right of the foot's centre; left is a minus.")
    ] = 0.0
    lever_mm: Annotated[
        float, Range(60, 700, "mm", "Lever length", "Straight from the pivot to the centre of the knob.")
    ] = 240.0
    lean_deg: Annotated[
        float, Range(-45, 60, "deg", "Lever lean", "In neutral, rearward from upright; forward is a minus.")
    ] = 8.0
    side_lean_deg: Annotated[
        float, Range(-45, 45, "deg", "Side lean", "In neutral, to the car's right; left is a minus.")
    ] = 0.0
    bend_deg: Annotated[
        float, Range(0, 60, "deg", "Lever bent", "Between the rod under the bend and over it; 0 is straight.")
    ] = 0.0
    bend_turn_deg: Annotated[
        float, Range(-180, 180, "deg", "Bent towards", "0 is rearward, 90 right, \u221290 left, 180 forward.")
    ] = 0.0
    bend_mm: Annotated[
        float, Range(0, 600, "mm", "Bend over the pivot", "Along the lever, from the pivot up.")
    ] = 0.0
    offset_mm: Annotated[
        float, Range(0, 200, "mm", "Knob beside the lever", "From the lever's line to the knob; 0 is on it.")
    ] = 0.0
    offset_turn_deg: Annotated[
        float,
        Range(-180, 180, "deg", "Knob set towards", "0 is rearward, 90 right, \u221290 left, 180 forward."),
    ] = 90.0
    lever_radius_mm: Annotated[float, Range(2, 30, "mm", "Lever radius", "Half the rod's diameter.")] = 6.5
    boot_mm: Annotated[
        float, Range(0, 600, "mm", "Boot top over the pivot", "Along the lever; below it the boot covers it.")
    ] = 90.0
    ring_radius_mm: Annotated[
        float, Range(0, 200, "mm", "Boot ring radius", "Half the ring's breadth in the opening; 0 unknown.")
    ] = 0.0
    boot_cloth_mm: Annotated[
        float, Range(0, 600, "mm", "Boot, ring to top", "Along its cloth, pulled straight; 0 unknown.")
    ] = 0.0
    knob_radius_mm: Annotated[
        float, Range(8, 60, "mm", "Knob radius", "Half the knob's greatest breadth.")
    ] = 24.0
    knob: Annotated[
        KnobShape,
        Choice(
            ("sphere", "cylinder", "pear"),
            "Knob",
            "A pear is a sphere at the top, and its centre is the sphere's.",
        ),
    ] = "sphere"
    knob_length_mm: Annotated[
        float, Range(10, 200, "mm", "Knob length", "Along the lever; of a cylinder or a pear.")
    ] = 70.0
    knob_neck_radius_mm: Annotated[
        float, Range(3, 60, "mm", "Neck radius", "Half a pear's breadth at its lower end.")
    ] = 14.0
    hand: Annotated[
        HandShape,
        Choice(
            ("ball", "fist"),
            "Hand on the knob",
            "A ball of 110 mm, or that and the knuckles of a fist, 125 mm across the car; the glove on top.",
        ),
    ] = "ball"
    gate: Annotated[
        Gate,
        Choice(("manual", "straight"), "Gate", "Manual: planes side by side. Straight: an automatic's line."),
    ] = "manual"
    places: Annotated[
        str, Text(40, "Places", "Of a straight gate, from the front: P, R, N, D, then S, M, L or numbers.")
    ] = "P R N D"
    detent_deg: Annotated[
        float, Range(1, 20, "deg", "Between places", "Of a straight gate, from one place to the next.")
    ] = 6.0
    throw_deg: Annotated[
        float, Range(1, 35, "deg", "Throw each way", "Neutral to a gear; 10 to 14 is usual.")
    ] = 12.0
    plane_deg: Annotated[
        float,
        Range(1, 20, "deg", "Between planes", "From one plane of the gate to the next; 5 to 8 is usual."),
    ] = 6.5
    gears: Annotated[int, Range(3, 6, "", "Gears", "Forward gears.")] = 5
    reverse: Annotated[
        Reverse,
        Choice(("rear right", "front left", "front right", "rear left"), "Reverse", "Seen by the driver."),
    ] = "rear right"
    reverse_extra_deg: Annotated[
        float, Range(0, 25, "deg", "Reverse goes further", "Than a gear's throw, past its stop; 0 as far.")
    ] = 0.0
    ring_lift_mm: Annotated[
        float, Range(0, 60, "mm", "Lift ring travel", "How far the ring rises for reverse; 0 without a ring.")
    ] = 0.0
    opening_length_mm: Annotated[float, Range(20, 500, "mm", "Opening length", "In the console.")] = 150.0
    opening_width_mm: Annotated[float, Range(20, 400, "mm", "Opening width", "In the console.")] = 120.0
    opening_mm: Annotated[
        float, Range(0, 500, "mm", "Opening over the foot", "Height of the console's top around the lever.")
    ] = 110.0
    opening_back_mm: Annotated[
        float, Range(-200, 200, "mm", "Opening behind the foot", "Its centre, rearward of the foot's centre.")
    ] = 0.0
    rock_mm: Annotated[
        float, Range(0, 50, "mm", "Engine rock", "How far the lever rocks with the engine at the opening.")
    ] = 0.0
    knobs: tuple[KnobPoint, ...] = ()

    def __post_init__(self) -> None:
        check_fields(self)
        check_whole(self, ("gears",))
        if self.bend_deg and self.bend_mm >= self.lever_mm:
            raise BadValue(
                "bend-over-knob",
                f"A bend {self.bend_mm:g} mm over the pivot comes over the knob.",
                f"Let it come under {self.lever_mm:g} mm, or leave the lever straight.",
            )
        straight_slots(self.places)
        if self.offset_mm >= self.lever_mm:
            raise BadValue(
                "offset-beyond-lever",
                f"A knob {self.offset_mm:g} mm beside its lever leaves no lever.",
                f"Let it stand less than {self.lever_mm:g} mm beside it.",
                field="offset_mm",
            )
        if self.offset_mm and self.bend_deg and self.bend_mm:
            raise BadValue(
                "bent-and-offset",
                "A lever is bent, or its knob stands beside it, not both.",
                "Set one of the two to 0.",
            )
