"""Layout and store to scene: what stands where in any state, and the floor that checks measure to."""

from floorpan.derive.bench import Bench
from floorpan.derive.floor import AreaSurface, Floor
from floorpan.derive.matching import matching, what_is_left
from floorpan.derive.people import reach_from, reach_in, sitting_in
from floorpan.derive.scene import Motion, Scene

__all__ = [
    "AreaSurface",
    "Bench",
    "Floor",
    "Motion",
    "Scene",
    "matching",
    "reach_from",
    "reach_in",
    "sitting_in",
    "what_is_left",
]
