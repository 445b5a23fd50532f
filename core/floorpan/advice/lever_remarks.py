"""What is usual for a lever, beside what this one gives: figures with their sources, told and never judged."""

from dataclasses import dataclass

from floorpan.advice.lever_sums import LeverReadings
from floorpan.items import Shifter
from floorpan.limits import COMMON

LEVER_FIGURE = "MIL-STD-1472F, lever figure, as widely quoted; the figure itself was not at hand"
CONTROL_ROOM = "a control-room ergonomics text, for gear-type levers; written for machines, not for cars"


@dataclass(frozen=True, slots=True, kw_only=True)
class LeverRemark:
    """A reading beside what is usual. least or most is None where only the other end is known; unit mm or deg."""

    about: str
    value: float
    least: float | None
    most: float | None
    unit: str
    source: str

    @property
    def usual(self) -> bool:
        """Whether the value lies inside what is usual."""
        return (self.least is None or self.value >= self.least) and (
            self.most is None or self.value <= self.most
        )

    def text(self) -> str:
        """One sentence with the source; numbers in the remark's own unit."""
        number = f"{self.value:.0f}" if self.unit == "mm" else f"{self.value:.1f}"
        ends = [f"{end:.0f}" for end in (self.least, self.most) if end is not None]
        if len(ends) == 2:
            usual = f"{ends[0]} to {ends[1]} {self.unit} is usual"
        else:
            usual = f"{ends[0]} {self.unit} at {'least' if self.most is None else 'most'}"
        return f"{self.about}: {number} {self.unit}; {usual} ({self.source})."


_OF_ANY_GATE = ("Front to rear", "Side to side")


def lever_remarks(shifter: Shifter, readings: LeverReadings) -> tuple[LeverRemark, ...]:
    """Throw, spacing and angles of a lever beside what is usual, in the order of the gate's sums."""
    travel = readings.travel
    left_right = [way for way in (travel.left_mm, travel.right_mm) if way is not None]
    manual = shifter.gate == "manual"
    rows = (
        ("Throw each way", travel.plain_mm, 40.0, 65.0, "mm", COMMON),
        ("Plane to plane", travel.plain_cross_mm, 25.0, 40.0, "mm", COMMON),
        ("Throw angle each way", shifter.throw_deg, 10.0, 14.0, "deg", COMMON),
        ("Angle between planes", shifter.plane_deg, 5.0, 8.0, "deg", COMMON),
        ("Front to rear", travel.forward_mm + travel.rearward_mm, None, 360.0, "mm", LEVER_FIGURE),
        ("Side to side", sum(left_right), None, 970.0, "mm", LEVER_FIGURE),
        (
            "Neutral to a gear, beside a third of the lever",
            travel.plain_mm,
            readings.lever_mm / 3,
            None,
            "mm",
            CONTROL_ROOM,
        ),
    )
    return tuple(
        LeverRemark(about=about, value=value, least=least, most=most, unit=unit, source=source)
        for about, value, least, most, unit, source in rows
        # What is usual of a manual gate says nothing of an automatic's.
        if manual or about in _OF_ANY_GATE
    )
