"""The people: body sizes, posture, arms and reach."""

from floorpan.driver.arm import Arm, arm
from floorpan.driver.limbs import forearm, hand, head, thigh, torso, upper_arm
from floorpan.driver.person import BELT_STOPS, BELTS_AXIS, Belts, Person, Role, Side
from floorpan.driver.posture import shoulder_point
from floorpan.driver.reach import Reach, reach

__all__ = [
    "BELTS_AXIS",
    "BELT_STOPS",
    "Arm",
    "Belts",
    "Person",
    "Reach",
    "Role",
    "Side",
    "arm",
    "forearm",
    "hand",
    "head",
    "reach",
    "shoulder_point",
    "thigh",
    "torso",
    "upper_arm",
]
