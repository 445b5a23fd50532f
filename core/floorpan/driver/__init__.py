"""The people: body sizes, posture, arms and reach."""

from floorpan.driver.arm import Arm, arm
from floorpan.driver.bodies import Estimate
from floorpan.driver.body_figures import SEXES, Measure, Sex, measures
from floorpan.driver.driving_position import DrivingPosition
from floorpan.driver.filling import body_of, filled
from floorpan.driver.known_sizes import BodySize
from floorpan.driver.limbs import forearm, hand, head, thigh, torso, upper_arm
from floorpan.driver.person import BELT_STOPS, BELTS_AXIS, LINKS, Belts, Person, Role, Side
from floorpan.driver.posture import shoulder_point
from floorpan.driver.reach import LimitedBy, Reach, reach
from floorpan.driver.sitting import Sitting, sit

__all__ = [
    "BELTS_AXIS",
    "BELT_STOPS",
    "LINKS",
    "SEXES",
    "Arm",
    "Belts",
    "BodySize",
    "DrivingPosition",
    "Estimate",
    "LimitedBy",
    "Measure",
    "Person",
    "Reach",
    "Role",
    "Sex",
    "Side",
    "Sitting",
    "arm",
    "body_of",
    "filled",
    "forearm",
    "hand",
    "head",
    "measures",
    "reach",
    "shoulder_point",
    "sit",
    "thigh",
    "torso",
    "upper_arm",
]
