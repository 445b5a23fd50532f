"""Sizes of a body that somebody taped besides the links of the arm: the rest of the body follows from them."""

import math
from dataclasses import dataclass

from floorpan.driver.body_figures import place_of
from floorpan.errors import BadValue
from floorpan.fields import Range

PERCENT = Range(0.1, 99.9, "", "Percentile", "So many of a hundred are smaller.")


@dataclass(frozen=True, slots=True, kw_only=True)
class BodySize:
    """One known size of a body.

    measure : key of a measure of `body_figures`, with its unit
    size    : [mm, kg]
    percent : the percentile it was chosen by; None where it was taped

    Raises BadValue for an unknown measure, a size that is no number, a percentile outside 0.1 to 99.9.
    """

    measure: str
    size: float
    percent: float | None = None

    def __post_init__(self) -> None:
        place_of(self.measure)
        if not math.isfinite(self.size) or self.size <= 0.0:
            raise BadValue("not-finite", f"{self.size} is not a size.", "Type a plain number.")
        if self.percent is not None:
            PERCENT.check(self.percent)
