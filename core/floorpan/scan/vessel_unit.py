"""Which unit a scan of a single vessel was probably written in, judged by size."""

from floorpan.scan.unit import UnitProposal, size
from floorpan.units import mm_per

VESSEL_MM = (50.0, 400.0)
"""The longest side of what people drink from: an espresso cup to a large flask; common practice, no source."""

_USUAL = ("mm", "m", "cm", "in")


def vessel_unit(largest: float) -> UnitProposal:
    """Unit for a scan of a vessel whose longest side measures `largest` in file units."""
    low, high = VESSEL_MM
    fits = tuple(unit for unit in _USUAL if low <= largest * mm_per(unit) <= high)
    if not fits:
        sizes = " or ".join(f"{size(largest * mm_per(unit))} (as {unit})" for unit in _USUAL[:2])
        why = f"The longest side would be {sizes}: neither is a vessel. Choose the unit."
        return UnitProposal(unit="mm", why=why, sure=False, candidates=())
    sizes = " or ".join(f"{size(largest * mm_per(unit))} (read as {unit})" for unit in fits)
    return UnitProposal(
        unit=fits[0], why=f"The longest side would be {sizes}.", sure=len(fits) == 1, candidates=fits
    )
