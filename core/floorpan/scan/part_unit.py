"""Which unit the mesh of a single part was probably written in, judged by what it stands for and by size."""

from typing import Final

from floorpan.scan.unit import UnitProposal, size
from floorpan.scan.vessel_unit import VESSEL_MM
from floorpan.units import mm_per

ANY_PART_MM: Final = (20.0, 2500.0)
"""The longest side of a part of a cabin, from a switch to a dash; common practice, no source."""

PART_MM: Final[dict[str, tuple[float, float]]] = {
    "console shell": (150.0, 2000.0),
    "seat": (350.0, 1500.0),
    "steering wheel": (200.0, 500.0),
    "dash or trim": (50.0, 2500.0),
    "handbrake": (80.0, 700.0),
    "vessel": VESSEL_MM,
    "shifter box": (50.0, 600.0),
}
"""The longest side by what a part stands for; common practice, no source."""

# The likelier first: scanners and most drawings write mm; common practice, no source.
_USUAL: Final = ("mm", "m", "in", "cm")


def part_unit(largest: float, stands_for: str = "other") -> UnitProposal:
    """Unit for a part whose longest side measures `largest` in file units.

    Of several units that make a believable part the first of mm, m, inches, cm is proposed, and it is not sure; so a
    tie goes to mm. It is a proposal: whoever places the part can choose another one.

    stands_for : a word of `items.mesh_part.COUNTS_AS`; one without sizes of its own is any part
    """
    least, most = PART_MM.get(stands_for, ANY_PART_MM)
    fits = tuple(unit for unit in _USUAL if least <= largest * mm_per(unit) <= most)
    if not fits:
        sizes = " or ".join(f"{size(largest * mm_per(unit))} (as {unit})" for unit in _USUAL[:2])
        what = "a part of a cabin" if stands_for in ("other", "keep-out") else f"a {stands_for}"
        why = f"The longest side would be {sizes}: neither is {what}. Choose the unit."
        return UnitProposal(unit="mm", why=why, sure=False, candidates=())
    sizes = " or ".join(f"{size(largest * mm_per(unit))} (read as {unit})" for unit in fits)
    return UnitProposal(
        unit=fits[0], why=f"The longest side would be {sizes}.", sure=len(fits) == 1, candidates=fits
    )
