"""How everything about a driver is taped: for every key a sketch with the marked length, and a sentence.

Keys are those of `body_figures.measures`, fields of `Person`, `elbow_over_cushion_mm`, and the points taped in the car:
`hip_point`, `shoulder_point`, `elbow_point`, `knuckle_point`.
"""

import functools
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from floorpan.driver import figure_driving as driving
from floorpan.driver import figure_front as front
from floorpan.driver import figure_hand as hand
from floorpan.driver import figure_side as side
from floorpan.driver import measuring_words as said
from floorpan.driver.body_figures import measures
from floorpan.driver.figure_shapes import cut_lines, cut_solid
from floorpan.driver.figure_side import View
from floorpan.driver.person import Person
from floorpan.driver.sketch import Angle, At, Dimension, Loop, Mark, Sketch, Way
from floorpan.errors import BadValue
from floorpan.fields import rules

WIDE_OVER_HIGH = 300.0 / 170.0
"""Every sheet has this shape."""

TAPED_POINTS = ("hip_point", "shoulder_point", "elbow_point", "knuckle_point")

Kind = Literal["length", "angle", "loop", "point", "none"]


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is marked where: landmarks by name, the place of the drawn line, and the sheet by its middle and height."""

    view: Callable[[], View]
    sheet: tuple[float, float, float]
    one: str = ""
    other: str = ""
    way: Way = "along"
    line: float | None = None
    kind: Kind = "length"
    third: str = ""


_seated = side.seated
_bare_seated = functools.partial(side.seated, arm=False)
_walled = functools.partial(side.seated, wall=True, arm=False)
_hanging = functools.partial(side.standing, wall=False)
_belted = functools.partial(driving.driving, arm="none")
_knob = driving.driving
_loose = functools.partial(
    driving.driving,
    arm="none",
    lean=driving.LEAN_DEG - 2.0 * math.degrees(math.asin(driving.LOOSE_MM / 2.0 / 508.0)),
)
_squared = functools.partial(front.front, elbows_square=True)
_arms_down = functools.partial(front.front, elbows_square=False)

_BUST = (-180.0, 890.0, 1120.0)
_CAR = (-180.0, 690.0, 1000.0)
_SHOULDERS = (0.0, 690.0, 620.0)

_PLANS: Mapping[str, _Plan] = {
    "shoulder_to_grip_mm": _Plan(
        functools.partial(side.arm_ahead, thumb=False),
        (-390.0, 640.0, 640.0),
        "shoulder",
        "grip",
        "level",
        790.0,
    ),
    "upper_arm_mm": _Plan(_hanging, (-150.0, 1310.0, 720.0), "shoulder", "elbow", "upright", -330.0),
    "elbow_to_wrist_mm": _Plan(_hanging, (-150.0, 980.0, 560.0), "elbow", "wrist", "upright", -330.0),
    "wrist_to_grip_mm": _Plan(hand.fist, (0.0, 0.0, 230.0), "crease", "grip", "level", -76.0),
    "shoulder_to_elbow_mm": _Plan(
        _seated, (-180.0, 850.0, 760.0), "shoulder", "elbow_under", "upright", 90.0
    ),
    "elbow_to_fingertip_mm": _Plan(
        _seated, (-250.0, 770.0, 640.0), "elbow_back", "fingertip", "level", 850.0
    ),
    "thumb_tip_reach_mm": _Plan(
        functools.partial(side.arm_ahead, thumb=True),
        (-390.0, 640.0, 640.0),
        "wall",
        "thumb_tip",
        "level",
        690.0,
    ),
    "shoulder_mm": _Plan(_belted, _CAR, "hip", "shoulder"),
    "shoulder_out_mm": _Plan(_arms_down, _SHOULDERS, "chest", "point_left", "level", 700.0),
    "elbow_over_cushion_mm": _Plan(
        functools.partial(driving.driving, arm="square"), _CAR, "cushion", "elbow_under", "upright", 250.0
    ),
    "loose_forward_mm": _Plan(_loose, (-20.0, 830.0, 520.0), "pinned", "shoulder", "along", -70.0),
    "loose_turn_deg": _Plan(
        driving.from_above, (0.0, 0.0, 640.0), "right", "right_turned", kind="angle", third="middle"
    ),
    "lean_off_deg": _Plan(
        functools.partial(driving.driving, arm="none", lean=32.0),
        _CAR,
        "pinned",
        "shoulder",
        kind="angle",
        third="hip",
    ),
    "elbow_least_deg": _Plan(_knob, _CAR, "shoulder", "grip", kind="angle", third="elbow"),
    "elbow_most_deg": _Plan(_knob, _CAR, "shoulder", "grip", kind="angle", third="elbow"),
    "hip_point": _Plan(_belted, _CAR, "hip", kind="point"),
    "shoulder_point": _Plan(_knob, _CAR, "shoulder", kind="point"),
    "elbow_point": _Plan(_knob, _CAR, "elbow", kind="point"),
    "knuckle_point": _Plan(_knob, _CAR, "knuckle", kind="point"),
    "glove_mm": _Plan(
        functools.partial(hand.fist, glove_mm=10.0),
        (-10.0, -10.0, 150.0),
        "hand_foot",
        "glove_foot",
        "upright",
        -22.0,
    ),
    "jacket_mm": _Plan(driving.jacketed, (-130.0, 520.0, 760.0), "back", "jacket", "level"),
    "helmet_mm": _Plan(driving.helmeted, (-120.0, 835.0, 430.0), "crown", "helmet", "upright", 90.0),
    "shoe_mm": _Plan(driving.shod, (-110.0, 95.0, 330.0), "floor", "sole", "upright", 70.0),
    "sitting_height_mm": _Plan(_seated, _BUST, "bench", "crown", "upright", 90.0),
    "eye_height_mm": _Plan(_seated, _BUST, "bench", "eye", "upright", 90.0),
    "shoulder_height_mm": _Plan(_seated, _BUST, "bench", "shoulder", "upright", 90.0),
    "elbow_rest_mm": _Plan(_seated, _BUST, "bench", "elbow_under", "upright", 90.0),
    "knee_height_mm": _Plan(_bare_seated, (-380.0, 370.0, 860.0), "floor", "knee_top", "upright", -850.0),
    "popliteal_height_mm": _Plan(
        _bare_seated, (-380.0, 370.0, 860.0), "floor", "under_knee", "upright", -330.0
    ),
    "thigh_mm": _Plan(_bare_seated, (-330.0, 560.0, 620.0), "bench", "thigh_top", "upright", -300.0),
    "belly_depth_mm": _Plan(_bare_seated, (-170.0, 770.0, 780.0), "belly_back", "belly_front", "level"),
    "buttock_to_knee_mm": _Plan(_walled, (-330.0, 470.0, 800.0), "wall", "knee_front", "level", 250.0),
    "buttock_to_popliteal_mm": _Plan(_walled, (-330.0, 470.0, 800.0), "wall", "hollow", "level", 250.0),
    "hip_breadth_mm": _Plan(_squared, (0.0, 240.0, 720.0), "hip_right", "hip_left", "level"),
    "shoulder_breadth_mm": _Plan(_arms_down, _SHOULDERS, "deltoid_right", "deltoid_left", "level"),
    "acromion_breadth_mm": _Plan(_arms_down, _SHOULDERS, "point_right", "point_left", "level", 700.0),
    "elbows_breadth_mm": _Plan(
        _squared, (0.0, 380.0, 720.0), "forearm_right", "forearm_left", "level", 190.0
    ),
    "stature_mm": _Plan(side.standing, (-150.0, 890.0, 1960.0), "floor", "crown", "upright", -420.0),
    "weight_kg": _Plan(functools.partial(side.standing, scales=True), (-150.0, 870.0, 1980.0), kind="none"),
    "hand_length_mm": _Plan(hand.flat_hand, (-45.0, 2.0, 210.0), "crease", "tip", "level", -76.0),
    "hand_breadth_mm": _Plan(hand.flat_hand, (-45.0, 2.0, 210.0), "knuckles_foot", "knuckles_top", "upright"),
    "hand_round_mm": _Plan(hand.flat_hand, (-45.0, 2.0, 210.0), "knuckles_foot", "knuckles_top", kind="loop"),
    "foot_length_mm": _Plan(hand.foot_above, (-130.0, -10.0, 210.0), "heel", "toe", "level", -84.0),
    "foot_breadth_mm": _Plan(
        hand.foot_above, (-130.0, 0.0, 210.0), "ball_foot", "ball_top", "upright", -295.0
    ),
}

SKETCHED = tuple(_PLANS)
"""Every key with a sketch: arm, car, what is worn, bench, standing, hand and foot."""


def sentences() -> tuple[str, ...]:
    """How each key of SKETCHED is taped, without drawing any."""
    return tuple(said.SENTENCES[key] for key in SKETCHED)


@functools.cache
def sketch(key: str) -> Sketch:
    """How a key is taped. Raises BadValue for a key without a sketch; those that have one are in SKETCHED."""
    if key not in _PLANS:
        raise BadValue(
            "no-such-sketch", f"Nothing is drawn for {key!r}.", f"Use one of {', '.join(SKETCHED)}.", key=key
        )
    plan = _PLANS[key]
    view = plan.view()
    x, y, high = plan.sheet
    half = (high * WIDE_OVER_HIGH / 2.0, high / 2.0)
    least, greatest = (x - half[0], y - half[1]), (x + half[0], y + half[1])
    mark, dots = _marked(plan, view)
    cut = (cut_solid(shape, tone, least, greatest) for shape, tone in view.solids)
    return Sketch(
        key=key,
        view=view.name,
        label=_label(key),
        how=said.SENTENCES[key],
        says=_says(plan, view),
        solids=tuple(solid for solid in cut if solid is not None),
        lines=cut_lines(view.lines, least, greatest),
        mark=mark,
        dots=dots,
        least=least,
        greatest=greatest,
    )


def _marked(plan: _Plan, view: View) -> tuple[Mark, tuple[At, ...]]:
    if plan.kind == "none":
        return None, ()
    one = view.at[plan.one]
    if plan.kind == "point":
        return None, (one,)
    other = view.at[plan.other]
    if plan.kind == "angle":
        at = view.at[plan.third]
        dots = (at, other) if plan.one == "pinned" else (one, at, other)
        return Angle(at=at, one=one, other=other, radius_mm=0.5 * math.dist(at, one)), dots
    if plan.kind == "loop":
        return Loop(path=_ellipse(one, other, 9.0)), (one, other)
    if plan.way == "along":
        return Dimension(one=one, other=other, offset_mm=plan.line or 0.0), (one, other)
    axis = 1 if plan.way == "level" else 0
    offset = 0.0
    if plan.line is not None:
        # What is measured from is a long line: its landmark lies where the drawn length meets it.
        if plan.one in ("floor", "bench", "wall"):
            one = (one[0], plan.line) if axis else (plan.line, one[1])
        offset = plan.line - other[axis]
    return Dimension(one=one, other=other, way=plan.way, offset_mm=offset), (one, other)


def _ellipse(one: At, other: At, half_mm: float) -> tuple[At, ...]:
    """A narrow upright ring round two points."""
    x, y = (one[0] + other[0]) / 2.0, (one[1] + other[1]) / 2.0
    tall = math.dist(one, other) / 2.0 + 3.0
    turns = (2.0 * math.pi * step / 48 for step in range(49))
    return tuple((x + half_mm * math.sin(turn), y + tall * math.cos(turn)) for turn in turns)


@functools.cache
def _labels() -> Mapping[str, str]:
    held = {name: rule.label for name, rule in rules(Person).items() if name in _PLANS}
    return {one.key: one.label for one in measures()} | held | said.LABELS


def _label(key: str) -> str:
    return _labels()[key]


def _says(plan: _Plan, view: View) -> str:
    names = {field: said.LANDMARKS.get(getattr(plan, field), "") for field in ("one", "other", "third")}
    told = {
        "length": said.MARKED,
        "angle": said.MARKED_ANGLE,
        "loop": said.MARKED_LOOP,
        "point": said.MARKED_POINT,
        "none": said.MARKED_NONE,
    }[plan.kind]
    at = names["third"] if plan.kind == "angle" else names["one"]
    return told.format(view=said.VIEWS[view.name], one=names["one"], other=names["other"], at=at)
