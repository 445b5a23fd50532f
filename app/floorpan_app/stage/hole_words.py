"""A hole of the scan by its size: how far across, and how much of the surface is missing."""

from floorpan.units import System, mm_per, show_length, show_number
from floorpan_app.stage import words
from floorpan_app.stage.ground_meshes import Spot
from floorpan_app.viewport.marks import Word


def hole_word(spot: Spot, system: System) -> Word:
    """The words at a hole."""
    across = show_length(spot.longest_mm, system, digits=0, with_unit=True)
    unit, told = ("cm", words.HOLE) if system == "mm" else ("in", words.HOLE_INCHES)
    area = show_number(spot.area_mm2 / mm_per(unit) ** 2, 0 if system == "mm" else 1)
    return Word(text=told.format(across=across, area=area), at_mm=spot.at_mm, role="unseen")
