"""How far a straight arm gets, all ways: tight belts leave a sphere about the shoulder, loose ones what many sweep.

Arm length alone: neither the joints nor what stands in the way are asked.
"""

import numpy as np

from floorpan.driver.person import Belts, Side
from floorpan.driver.posture import most_share, shoulder_points
from floorpan.driver.sitting import Sitting
from floorpan.frames import Floats, Vector

# A shoulder 1.25 mm from the best one reaches less by a few ten thousandths of a mm.
_SHARES = 129
_FORWARD = np.array([-1.0, 0.0, 0.0])
_NOTHING_MM = 1e-6


def reach_along_mm(sitting: Sitting, belts: Belts, hand_side: Side, ways: Floats) -> Floats:
    """How far (N,) the middle of the fist gets along unit vectors (N, 3) from the shoulder on the backrest [mm]."""
    person = sitting.person
    shares = np.linspace(0.0, most_share(belts), _SHARES if most_share(belts) > 0.0 else 1)
    shoulders = shoulder_points(
        person, sitting.h_point, sitting.back_deg, hand_side, shares, sitting.turn_deg
    )
    gone = shoulders - shoulders[0]
    along = ways @ gone.T
    # Where the way leaves each sphere; a shoulder that is aside of it by more than the arm meets it nowhere.
    left = person.shoulder_to_grip_mm**2 - np.einsum("ki,ki->k", gone, gone) + along**2
    out: Floats = np.where(left >= 0.0, along + np.sqrt(np.maximum(left, 0.0)), -np.inf).max(axis=1)
    return out


def reach_arc(
    sitting: Sitting, belts: Belts, hand_side: Side, towards_mm: Vector, rises_deg: Floats
) -> Floats:
    """Points (N, 3) a straight arm just gets to in the upright plane through the shoulder and a point [mm].

    rises_deg : (N,) how far over the level each is seen from the shoulder on the backrest

    A point straight under or over the shoulder has the plane straight ahead.
    """
    shoulder = on_backrest_mm(sitting, hand_side)
    level = np.asarray(towards_mm, dtype=float) - shoulder
    level[2] = 0.0
    length = float(np.linalg.norm(level))
    onward = level / length if length > _NOTHING_MM else _FORWARD
    rises = np.radians(rises_deg)[:, None]
    ways = np.cos(rises) * onward + np.sin(rises) * np.array([0.0, 0.0, 1.0])
    points: Floats = shoulder + reach_along_mm(sitting, belts, hand_side, ways)[:, None] * ways
    return points


def on_backrest_mm(sitting: Sitting, hand_side: Side) -> Floats:
    """The shoulder point (3,) of one side on the backrest, in car axes [mm]."""
    shares = np.zeros(1)
    points: Floats = shoulder_points(
        sitting.person, sitting.h_point, sitting.back_deg, hand_side, shares, sitting.turn_deg
    )[0]
    return points
