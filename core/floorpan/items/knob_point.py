"""A knob's place that was taped in a gear."""

from dataclasses import dataclass
from typing import Annotated

from floorpan.fields import Choice, Range, check_fields
from floorpan.items.lever import GEARS


@dataclass(frozen=True, slots=True, kw_only=True)
class KnobPoint:
    """A taped knob centre from the centre of the mounting foot, in the shifter's own axes."""

    gear: Annotated[str, Choice(GEARS, "Gear")]
    x_mm: Annotated[float, Range(-600, 600, "mm", "Rearward", "Of the centre of the foot.")]
    y_mm: Annotated[float, Range(-600, 600, "mm", "Right", "Of the centre of the foot.")]
    z_mm: Annotated[float, Range(0, 900, "mm", "Up", "Over the centre of the foot.")]

    def __post_init__(self) -> None:
        check_fields(self)
