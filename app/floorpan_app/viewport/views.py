"""The named views: which way one looks under each of the words of *Seen from*."""

from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from floorpan_app.viewport.eye import Eye, framed

Floats = NDArray[np.float64]

SeenFrom = Literal["driver", "passenger", "above", "front", "rear", "free"]
SEEN_FROM: tuple[SeenFrom, ...] = get_args(SeenFrom)
Side = Literal["left", "right"]

# Heading and rise in degrees with the driver at the left: front is at the left of the picture, and from above the
# driver's side is at the bottom, as if one stood beside the car.
_DIRECTIONS: dict[SeenFrom, tuple[float, float]] = {
    "driver": (90.0, 0.0),
    "passenger": (-90.0, 0.0),
    "above": (90.0, -90.0),
    "front": (0.0, 0.0),
    "rear": (180.0, 0.0),
    "free": (118.0, -26.0),
}
# What to show while there is nothing: about a cabin.
_EMPTY = np.array([[x, y, z] for x in (0.0, 1600.0) for y in (-700.0, 700.0) for z in (-100.0, 900.0)])


def view_of(
    seen_from: SeenFrom, driver_side: Side, outermost_mm: Floats | None, width_to_height: float
) -> Eye:
    """A named view with everything in the picture; all but the free one are parallel."""
    heading, rise = _DIRECTIONS[seen_from]
    if driver_side == "right":
        heading = -heading
    eye = Eye(heading_deg=heading, rise_deg=rise, parallel=seen_from != "free")
    return whole(eye, outermost_mm, width_to_height)


def whole(eye: Eye, outermost_mm: Floats | None, width_to_height: float) -> Eye:
    """The same way to look, with everything in the picture."""
    return framed(eye, _EMPTY if outermost_mm is None else outermost_mm, width_to_height)
