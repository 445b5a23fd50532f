"""Layout and store to scene: what stands where in any state, and the floor that checks measure to."""

from floorpan.derive.bench import Bench
from floorpan.derive.buckled import Buckled
from floorpan.derive.elbow import ElbowAt, elbow_in, elbow_locus
from floorpan.derive.floor import AreaSurface, Floor
from floorpan.derive.footing import NO_FOOTING, Footing, only_shifted
from floorpan.derive.matching import matching, what_is_left
from floorpan.derive.motions import Motion
from floorpan.derive.moved import as_it_stands, knob_in_neutral, moved_since
from floorpan.derive.people import reach_from, reach_in, sitting_in
from floorpan.derive.population_reach import PopulationReach, population_reach
from floorpan.derive.scene import Scene

__all__ = [
    "NO_FOOTING",
    "AreaSurface",
    "Bench",
    "Buckled",
    "ElbowAt",
    "Floor",
    "Footing",
    "Motion",
    "PopulationReach",
    "Scene",
    "as_it_stands",
    "elbow_in",
    "elbow_locus",
    "knob_in_neutral",
    "matching",
    "moved_since",
    "only_shifted",
    "population_reach",
    "reach_from",
    "reach_in",
    "sitting_in",
    "what_is_left",
]
