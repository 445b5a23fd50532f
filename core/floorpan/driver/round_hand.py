"""A hand round something upright: a rounded band as broad as the hand, fingers and palm all round."""

import functools
import math

import numpy as np

from floorpan.driver.body_figures import Sex
from floorpan.driver.person import Person
from floorpan.frames import Pose, Vector
from floorpan.geometry.solids import Body, Hull, Solid

FINGERS_MM = 25.0
"""What fingers and palm stand out from what they hold; common practice, no source."""

_BREADTH_MM: dict[Sex, float] = {"man": 88.0, "woman": 78.0}
"""Hand breadth of the middle of the 2012 Anthropometric Survey of U.S. Army Personnel."""

_CORNERS = 48


def hand_breadth_mm(person: Person) -> float:
    """Breadth of the hand with its glove: taped where it was, else that of the middle man or woman."""
    taped = [one.size for one in person.sizes if one.measure == "hand_breadth_mm"]
    return (taped[0] if taped else _BREADTH_MM[person.sex]) + 2.0 * person.glove_mm


def hand_round(person: Person, at_mm: Vector, radius_mm: float) -> Body:
    """The hand round an upright thing of a radius, its middle at a point in car axes [mm]."""
    thick = FINGERS_MM + person.glove_mm
    return (Solid(_band(hand_breadth_mm(person), radius_mm, thick), Pose(shift_mm=at_mm)),)


@functools.lru_cache(maxsize=64)
def _band(breadth_mm: float, radius_mm: float, thick_mm: float) -> Hull:
    """About Z: rounded outside by as much as it is thick, or by half its breadth where that is less."""
    round_mm = min(thick_mm, breadth_mm / 2)
    ring = radius_mm + thick_mm - round_mm
    spread = 1 / math.cos(math.pi / _CORNERS)
    around = np.arange(_CORNERS) * 2.0 * math.pi / _CORNERS
    circle = ring * spread * np.column_stack([np.cos(around), np.sin(around)])
    half = breadth_mm / 2 - round_mm
    ends = [np.column_stack([circle, np.full(_CORNERS, z)]) for z in (-half, half)]
    return Hull(np.vstack(ends), round_mm, ring * (spread - 1.0))
