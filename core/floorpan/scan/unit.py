"""Which unit a file without one was probably written in, judged by size.

Common practice, no source: what is scanned for an interior is a cabin floor of 0.5 to 4 m, or a single part of 15 cm
and more; handheld scanners write mm or m, drawings of parts mm or inches.
"""

import math
from dataclasses import dataclass

from floorpan.units import MM_PER, mm_per, show_length

# Weight of each unit before any size is seen, and where its numbers come from.
_HABIT = {"mm": 1.0, "m": 0.7, "in": 0.55, "cm": 0.35, "ft": 0.02}

_FLOOR_MM = (500.0, 4000.0)
_PART_MM = (150.0, 5000.0)
# Sizes fade out of belief by this much for each factor of e outside the range.
_FADE = 4.0
_SURE = 3.0
# Below this belief no unit makes anything of it that is scanned for an interior.
_LEAST = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitProposal:
    """A unit, and why.

    unit : mm, cm, m, in or ft
    why  : one sentence with sizes in it
    sure : whether the runner-up is far less likely
    candidates : every unit that gives a believable size, likeliest first; none where no unit does
    """

    unit: str
    why: str
    sure: bool
    candidates: tuple[str, ...]


def propose_unit(largest: float) -> UnitProposal:
    """Unit for a scan whose largest side measures `largest` in file units."""
    belief = {unit: habit * _plausible(largest * mm_per(unit)) for unit, habit in _HABIT.items()}
    order = sorted(belief, key=lambda unit: -belief[unit])
    first, second = order[0], order[1]
    believed = tuple(unit for unit in order if belief[unit] > 0.15 * belief[first])
    if belief[first] < _LEAST:
        believed = ()
    sure = belief[first] > 0.2 and belief[first] > _SURE * belief[second]
    return UnitProposal(unit=first, why=_why(largest, first, believed), sure=sure, candidates=believed)


def _plausible(mm: float) -> float:
    if not mm > 0.0 or not math.isfinite(mm):
        return 0.0
    return max(_fading(mm, *_FLOOR_MM), 0.8 * _fading(mm, *_PART_MM))


def _fading(mm: float, least: float, most: float) -> float:
    out = max(math.log(least / mm), math.log(mm / most), 0.0)
    return math.exp(-_FADE * out)


def _why(largest: float, first: str, believed: tuple[str, ...]) -> str:
    if not believed:
        return (
            f"Read as mm the longest side would be {size(largest)}, as m {size(largest * MM_PER['m'])}: "
            "neither is a floor. Choose the unit."
        )
    if len(believed) > 1:
        sizes = " or ".join(f"{size(largest * mm_per(unit))} (read as {unit})" for unit in believed)
        return f"The longest side would be {sizes}."
    rest = " or ".join(
        f"{size(largest * MM_PER[unit])} (as {unit})" for unit in ("mm", "m", "in") if unit != first
    )
    return f"Read as {first} the longest side is {size(largest * mm_per(first))}; it would be {rest}."


def size(mm: float) -> str:
    """A length for people, in mm up to ten metres, then in m or km."""
    if mm >= 1e6:
        return f"{mm / 1e6:.3g} km"
    if mm >= 1e4:
        return f"{mm / 1e3:.3g} m"
    return show_length(mm, digits=0 if mm >= 100 else 2, with_unit=True)
