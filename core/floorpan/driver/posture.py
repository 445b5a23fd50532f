"""Where the shoulder is: from the hip up the torso line, out to the side, forward as far as belts let it.

Belts tight: the shoulder stays on the backrest. Belts loose: the torso may lean forward about the hip until
the shoulder has travelled loose_forward_mm along its arc, and the shoulders may turn about the torso line by
loose_turn_deg towards the hand; lean and turn go together, by one share from 0 to 1.
"""

import numpy as np

from floorpan.driver.person import Belts, Person, Side, lean_deg_of
from floorpan.frames import Floats, Pose, Vector


def shoulder_point(
    person: Person,
    h_point: Vector,
    back_deg: float,
    hand_side: Side,
    share: float = 0.0,
    turn_deg: float = 0.0,
) -> Floats:
    """The shoulder point (3,) of one side in car axes [mm].

    back_deg : torso line from upright, rearward
    share    : 0 on the backrest, 1 as far forward as loose belts let it
    turn_deg : the seat's turn about the upright
    """
    points = shoulder_points(person, h_point, back_deg, hand_side, np.array([share]), turn_deg)
    return np.asarray(points[0], dtype=float)


def shoulder_points(
    person: Person, h_point: Vector, back_deg: float, hand_side: Side, shares: Floats, turn_deg: float = 0.0
) -> Floats:
    """Shoulder points (N, 3) for shares (N,) of the way that loose belts allow."""
    up, out = _ways(person, back_deg, hand_side, shares)
    points = person.shoulder_mm * up + person.shoulder_out_mm * out
    if turn_deg:
        points = Pose.turned((0.0, 0.0, 1.0), turn_deg).apply(points)
    return np.asarray(points + np.asarray(h_point), dtype=float)


def _ways(person: Person, back_deg: float, hand_side: Side, shares: Floats) -> tuple[Floats, Floats]:
    lean = np.radians(back_deg - shares * lean_deg_of(person.loose_forward_mm, person.shoulder_mm))
    turn = np.radians(shares * person.loose_turn_deg)
    up = np.column_stack([np.sin(lean), np.zeros_like(lean), np.cos(lean)])
    ahead = np.column_stack([-np.cos(lean), np.zeros_like(lean), np.sin(lean)])
    across = np.array([0.0, float(side_sign(hand_side)), 0.0])
    return up, np.cos(turn)[:, None] * across + np.sin(turn)[:, None] * ahead


def most_share(belts: Belts) -> float:
    """How much of the loose way the belts allow."""
    return 0.0 if belts == "tight" else 1.0


def side_sign(side: Side) -> int:
    """-1 for left, +1 for right."""
    return -1 if side == "left" else 1
