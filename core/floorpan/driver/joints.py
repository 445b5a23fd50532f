"""How far each joint of the arm turns, and what a pose of upper arm and forearm asks of it.

The shoulder is measured as its textbook motions are wherever the upper arm moves in one plane of the body: ahead,
back, out to the side, across the chest. In between the limit follows an ellipse from one to the next. The turn
of the upper arm about itself counts from the forearm that points ahead while the arm hangs, carried along without
twist. The hand lies over a knob, palm down on its axis, in line with the forearm but for what the wrist makes up.
"""

from dataclasses import dataclass
from typing import Annotated, Literal, get_args

import numpy as np

from floorpan.driver.arm import ELBOW_LEAST_DEG
from floorpan.driver.person import Side
from floorpan.driver.posture import side_sign
from floorpan.errors import BadValue
from floorpan.fields import Range, check_fields
from floorpan.frames import Floats, Pose, Vector

Joint = Literal[
    "shoulder ahead",
    "shoulder back",
    "shoulder out",
    "shoulder across",
    "upper arm turned in",
    "upper arm turned out",
    "elbow joint",
    "palm turned down",
    "palm turned up",
    "wrist bent down",
    "wrist bent back",
    "wrist towards the thumb",
    "wrist towards the little finger",
]
JOINTS: tuple[Joint, ...] = get_args(Joint)

_NOTHING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRanges:
    """How far each joint goes from its zero [deg].

    Each is the least of four compilations of goniometer readings, so that nothing is asked of a driver that one
    of them doubts: Boone and Azen (men up to 54), Greene and Wolf (18 to 55), the American Academy of Orthopaedic
    Surgeons, the American Medical Association. The elbow keeps the one figure of the whole program, Boone and
    Azen's. Across the chest: common practice, no source (35 to 45).
    """

    ahead_deg: Annotated[float, Range(0, 180, "deg", "Shoulder ahead", "Greene and Wolf.")] = 156.0
    back_deg: Annotated[
        float, Range(0, 180, "deg", "Shoulder back", "American Medical Association, at least.")
    ] = 50.0
    out_deg: Annotated[float, Range(0, 180, "deg", "Shoulder out", "Greene and Wolf.")] = 168.0
    across_deg: Annotated[
        float, Range(0, 180, "deg", "Shoulder across", "Across the chest. Common practice, no source.")
    ] = 35.0
    turned_in_deg: Annotated[float, Range(0, 180, "deg", "Upper arm turned in", "Greene and Wolf.")] = 49.0
    turned_out_deg: Annotated[
        float, Range(0, 180, "deg", "Upper arm turned out", "American Medical Association, at least.")
    ] = 60.0
    elbow_deg: Annotated[float, Range(0, 180, "deg", "Elbow bends", "From straight. Boone and Azen.")] = (
        180.0 - ELBOW_LEAST_DEG
    )
    palm_down_deg: Annotated[float, Range(0, 180, "deg", "Palm turns down", "Boone and Azen.")] = 76.0
    palm_up_deg: Annotated[float, Range(0, 180, "deg", "Palm turns up", "Greene and Wolf.")] = 77.0
    wrist_down_deg: Annotated[
        float, Range(0, 180, "deg", "Wrist bends down", "American Medical Association, at least.")
    ] = 60.0
    wrist_back_deg: Annotated[
        float, Range(0, 180, "deg", "Wrist bends back", "American Medical Association, at least.")
    ] = 60.0
    to_thumb_deg: Annotated[
        float, Range(0, 180, "deg", "Wrist towards the thumb", "Academy of Orthopaedic Surgeons.")
    ] = 20.0
    to_little_finger_deg: Annotated[
        float, Range(0, 180, "deg", "Wrist towards the little finger", "Academy of Orthopaedic Surgeons.")
    ] = 30.0

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """How a hand lies on a knob from above.

    axis        : out of the knob's top, towards the palm, in car axes
    heading     : where the knuckles point over a shaped knob, in car axes; None on a round one, where the hand
                  comes as the forearm does
    off_top_deg : how far the palm may roll or tip off the top. Common practice, no source
    """

    axis: Vector = (0.0, 0.0, 1.0)
    heading: Vector | None = None
    off_top_deg: Annotated[
        float, Range(0, 90, "deg", "Palm off the top", "How far the palm may roll or tip. Default, edit me.")
    ] = 20.0

    def __post_init__(self) -> None:
        check_fields(self)
        axis = np.asarray(self.axis, dtype=float)
        across = np.ones(3) if self.heading is None else np.asarray(self.heading, dtype=float)
        finite = np.isfinite([*axis, *across]).all()
        if finite and self.heading is not None:
            across = np.cross(axis, across)
        if not finite or min(np.linalg.norm(axis), np.linalg.norm(across)) <= _NOTHING:
            raise BadValue(
                "no-way-to-hold",
                "A knob's axis has a length and the hand's heading does not lie along it.",
                "Set the lever's line and the heading again.",
            )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TorsoAxes:
    """Three unit vectors (3,) in car axes: ahead, out on the hand's side, up along the torso line."""

    side: Side
    ahead: Floats
    out: Floats
    up: Floats


def torso_axes(
    back_deg: float, hand_side: Side, turn_deg: float = 0.0, shoulders_turn_deg: float = 0.0
) -> TorsoAxes:
    """The torso's axes as in `posture`: back_deg rearward from upright, turn_deg the seat's turn about the upright.

    shoulders_turn_deg : about the torso line, the hand's shoulder going ahead
    """
    lean, twist = np.radians(back_deg), np.radians(shoulders_turn_deg)
    up = np.array([np.sin(lean), 0.0, np.cos(lean)])
    level = np.array([-np.cos(lean), 0.0, np.sin(lean)])
    across = np.array([0.0, float(side_sign(hand_side)), 0.0])
    ahead = np.cos(twist) * level - np.sin(twist) * across
    out = np.cos(twist) * across + np.sin(twist) * level
    turned = Pose.turned((0.0, 0.0, 1.0), turn_deg).apply(np.array([ahead, out, up]))
    return TorsoAxes(side=hand_side, ahead=turned[0], out=turned[1], up=turned[2])


def room_left_deg(upper: Floats, lower: Floats, torso: TorsoAxes, ranges: JointRanges, hold: Hold) -> Floats:
    """How far each joint is from its end, one row of (13, N) for each of JOINTS [deg]; negative is beyond it.

    upper, lower : (N, 3) unit vectors shoulder to elbow and elbow to grip, in car axes

    A joint whose end lies elsewhere than the pose goes (shoulder ahead while the arm is back) has infinite room.
    """
    straight_on = np.einsum("ni,ni->n", upper, lower)
    axes = np.column_stack([torso.ahead, torso.out, torso.up])
    up, along = (upper @ axes).T, (lower @ axes).T
    turned = _turned_in(up, along, straight_on)
    bent = np.degrees(np.arccos(np.clip(straight_on, -1.0, 1.0)))
    palm, back, to_thumb = _hand(upper, lower, straight_on, torso.side, hold)
    off = hold.off_top_deg
    return np.vstack(
        [
            _shoulder_room(up, ranges),
            ranges.turned_in_deg - turned,
            ranges.turned_out_deg + turned,
            ranges.elbow_deg - bent,
            ranges.palm_down_deg + off - palm,
            ranges.palm_up_deg + off + palm,
            ranges.wrist_down_deg + off + back,
            ranges.wrist_back_deg + off - back,
            ranges.to_thumb_deg - to_thumb,
            ranges.to_little_finger_deg + to_thumb,
        ]
    )


def _shoulder_room(upper: Floats, ranges: JointRanges) -> Floats:
    """Rows (4, N) ahead, back, out, across: the room of the ellipse goes to the motion that uses most of it.

    upper : (3, N) the upper arm's parts ahead, out and up
    """
    ahead, out, up = upper
    flat = np.hypot(ahead, out)
    raised = np.degrees(np.arctan2(flat, -up))
    onward = np.where(ahead >= 0.0, ranges.ahead_deg, ranges.back_deg)
    sideways = np.where(out >= 0.0, ranges.out_deg, ranges.across_deg)
    # Straight up lies in every plane: the least holds. A joint that does not turn at all would divide by nothing.
    pole = flat < _NOTHING
    least = min(ranges.ahead_deg, ranges.back_deg, ranges.out_deg, ranges.across_deg)
    ahead, out, flat = np.where(pole, [[1.0], [0.0], [1.0]], [ahead, out, flat])
    onward = np.maximum(np.where(pole, least, onward), _NOTHING)
    sideways = np.maximum(sideways, _NOTHING)
    by_ahead, by_out = np.abs(ahead) / onward, np.abs(out) / sideways
    room = flat / np.hypot(by_ahead, by_out) - raised
    aside = by_out > by_ahead
    rows = (~aside & (ahead >= 0.0), ~aside & (ahead < 0.0), aside & (out >= 0.0), aside & (out < 0.0))
    return np.where(rows, room, np.inf)


def _turned_in(upper: Floats, lower: Floats, straight_on: Floats) -> Floats:
    """The upper arm's turn about itself (N,), in towards the chest positive [deg]; none for a straight arm.

    Ahead and inward of the hanging arm are carried to where it points by the shortest turn: from down to u a
    vector v square to down becomes v - (u v) / (1 - u up) * (u - up). Parts (3, N) ahead, out and up.
    """
    share = (straight_on - lower[2]) / np.maximum(1.0 - upper[2], _NOTHING)
    onward = lower[0] - share * upper[0]
    inward = share * upper[1] - lower[1]
    return np.where(np.hypot(onward, inward) > _NOTHING, np.degrees(np.arctan2(inward, onward)), 0.0)


def _hand(
    upper: Floats, lower: Floats, straight_on: Floats, side: Side, hold: Hold
) -> tuple[Floats, Floats, Floats]:
    """What a hand over the knob asks of palm (down positive), wrist (back positive, to the thumb positive) [deg].

    The forearm's zero has the thumb towards the upper arm, t = (u l) l - u, and the palm square to the arm's
    plane, facing in: t x l for a right hand. A straight arm turns from the shoulder too: nothing is asked of it.
    """
    axis = np.asarray(hold.axis, dtype=float)
    facing = -axis / np.linalg.norm(axis)
    slope = lower @ facing
    # Square to forearm and to where the palm faces: where the thumb lies once the palm does.
    thumb = side_sign(side) * (lower @ _square_to(facing))
    from_thumb, from_palm = upper @ facing - straight_on * slope, -np.einsum("ni,ni->n", upper, thumb)
    told = np.hypot(from_thumb, from_palm) > _NOTHING
    palm = np.where(told, np.degrees(np.arctan2(from_thumb, from_palm)), 0.0)
    back = np.degrees(np.arcsin(np.clip(slope, -1.0, 1.0)))
    if hold.heading is None:
        return palm, back, np.zeros(len(upper))
    heading = np.asarray(hold.heading, dtype=float)
    onward = lower @ heading - slope * (facing @ heading)
    # Headings and thumb are as long as each other: both are the forearm's, seen along the knob's axis.
    return palm, back, np.degrees(np.arctan2(thumb @ heading, onward))


def _square_to(way: Floats) -> Floats:
    """The matrix (3, 3) that takes rows v to v x way."""
    x, y, z = way
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
