"""The figure at the wheel seen from its left side, front at the left: belted in, leaning back, a hand on the knob.

The seat, its lean and the knob are drawn by eye; the torso and the arm have the mean man's lengths [mm].
"""

import functools
import math
from typing import Literal

from shapely.geometry import LineString, Polygon

from floorpan.driver.body_figures import figures, place_of
from floorpan.driver.figure_shapes import joined, limb, point_turned, smooth, turned
from floorpan.driver.figure_side import (
    JOINT_UNDER_POINT_MM,
    View,
    fist,
    flat_hand,
    foot,
    forearm,
    ground,
    head,
    hip_point,
    mean_man,
    shoulder_point,
    trunk,
    upper_arm,
)
from floorpan.driver.person import KNUCKLE_PAST_GRIP_MM
from floorpan.driver.sketch import At, Tone

ArmPose = Literal["knob", "square", "none"]

BENCH, LEAN_DEG, CUSHION_DEG = 270.0, 22.0, 12.0
LOOSE_MM = 80.0


def _elbow(shoulder: At, grip: At, upper: float, lower: float) -> At:
    """The elbow of a two-link arm, hanging under the line between its ends."""
    across, up = grip[0] - shoulder[0], grip[1] - shoulder[1]
    long = math.hypot(across, up)
    inner = math.acos((upper**2 + long**2 - lower**2) / (2.0 * upper * long))
    angle = math.atan2(up, across) + inner
    return (shoulder[0] + upper * math.cos(angle), shoulder[1] + upper * math.sin(angle))


def _seat(hip: At) -> Polygon:
    """Cushion and backrest as one outline behind and under the figure."""
    cushion = limb((hip[0] + 30.0, BENCH - 52.0, 58.0), (hip[0] - 400.0, BENCH + 40.0, 46.0))
    low, high = (hip[0] + 118.0, BENCH + 6.0), (hip[0] + 116.0, BENCH + 640.0)
    back = turned(limb((*low, 62.0), (low[0] + 2.0, BENCH + 330.0, 54.0), (*high, 40.0)), -LEAN_DEG, hip)
    return joined([cushion, back])


def _belts(lean: float, hip: At) -> list[Polygon]:
    """Shoulder strap and lap strap, as they are seen from the side."""
    strap = [
        (-60.0, BENCH + 596.0),
        (-150.0, BENCH + 606.0),
        (-216.0, BENCH + 500.0),
        (-246.0, BENCH + 300.0),
    ]
    strap = [*strap, (-232.0, BENCH + 170.0)]
    lap = [(-40.0, BENCH + 40.0), (-150.0, BENCH + 130.0), (-234.0, BENCH + 176.0)]
    return [turned(joined([LineString(path).buffer(14.0, quad_segs=6)]), -lean, hip) for path in (strap, lap)]


def _leg(hip: At) -> tuple[Polygon, At]:
    """Thigh rising to the knee, lower leg forward to a heel on the floor; answers the heel too."""
    size = mean_man()
    thigh = size["buttock_to_knee_mm"] + hip[0] - 62.0
    knee = (hip[0] - thigh * math.cos(0.30), hip[1] + thigh * math.sin(0.30))
    ankle = (knee[0] - 250.0, 92.0)
    heel = (ankle[0] + 44.0, 0.0)
    return joined(
        [
            limb(
                (hip[0] - 4.0, hip[1] - 4.0, 90.0),
                ((hip[0] + knee[0]) / 2.0, (hip[1] + knee[1]) / 2.0, 84.0),
                (*knee, 60.0),
            ),
            limb(
                (*knee, 58.0),
                ((knee[0] * 0.6 + ankle[0] * 0.4), knee[1] * 0.6 + ankle[1] * 0.4, 53.0),
                (*ankle, 38.0),
            ),
            turned(foot(heel), -18.0, heel),
        ]
    ), heel


@functools.cache
def driving(*, arm: ArmPose = "knob", lean: float = LEAN_DEG) -> View:
    """In the seat; the hand on the knob, or the arm hanging with its elbow square, or no arm to see.

    lean : of the torso from upright [deg]
    """
    size = mean_man()
    hip = hip_point(BENCH)
    upright = shoulder_point(BENCH)
    shoulder = point_turned(upright, -lean, hip)
    pinned = point_turned(upright, -LEAN_DEG, hip)
    joint = point_turned((upright[0], upright[1] - JOINT_UNDER_POINT_MM), -lean, hip)
    neck = point_turned((-104.0, BENCH + size["sitting_height_mm"] - 300.0), -lean, hip)
    skull = turned(head(BENCH + size["sitting_height_mm"]), -lean, hip)
    skull = turned(skull, lean * 0.55, neck)
    leg, heel = _leg(hip)
    body = joined([skull, turned(trunk(BENCH), -lean, hip)])
    solids: list[tuple[Polygon, Tone]] = [(_seat(hip), "seat"), (body, "body"), (leg, "body")]
    solids += [(belt, "steel") for belt in _belts(lean, hip)]
    at = {"hip": hip, "shoulder": shoulder, "pinned": pinned, "heel": heel}
    if arm == "knob":
        at |= _on_the_knob(solids, shoulder, joint, hip)
    elif arm == "square":
        at |= _square(solids, joint)
    floor = ground((-1010.0, 0.0), (330.0, 0.0), (-0.7, -0.7))
    return View(name="driving", solids=tuple(solids), lines=floor, at=at)


def _on_the_knob(solids: list[tuple[Polygon, Tone]], shoulder: At, joint: At, hip: At) -> dict[str, At]:
    mean = figures("man").mean
    upper = float(mean[place_of("upper_arm_mm")])
    lower = float(mean[place_of("shoulder_to_grip_mm")]) - upper
    grip = (hip[0] - 360.0, hip[1] + 175.0)
    elbow = _elbow(shoulder, grip, upper, lower)
    along = ((grip[0] - elbow[0]) / lower, (grip[1] - elbow[1]) / lower)
    wrist_mm = mean_man()["wrist_to_grip_mm"]
    wrist = (grip[0] - along[0] * wrist_mm, grip[1] - along[1] * wrist_mm)
    lever = limb((grip[0] - 10.0, 80.0, 11.0), (*grip, 9.0))
    knob = limb((grip[0] - 1.0, grip[1] - 4.0, 25.0), (*grip, 25.0))
    solids += [(joined([lever, knob]), "steel")]
    solids += [(joined([upper_arm(joint, elbow), forearm(elbow, wrist), fist(wrist, grip)]), "limb")]
    knuckle = (grip[0] + along[0] * KNUCKLE_PAST_GRIP_MM, grip[1] + along[1] * KNUCKLE_PAST_GRIP_MM)
    return {"elbow": elbow, "wrist": wrist, "grip": grip, "knuckle": knuckle}


def _square(solids: list[tuple[Polygon, Tone]], joint: At) -> dict[str, At]:
    size = mean_man()
    elbow = (joint[0] - 20.0, joint[1] - size["upper_arm_mm"] + 22.0)
    wrist = (elbow[0] - size["elbow_to_wrist_mm"], elbow[1] + 6.0)
    tip = (wrist[0] - size["hand_length_mm"], wrist[1] + 4.0)
    solids += [(joined([upper_arm(joint, elbow), forearm(elbow, wrist), flat_hand(wrist, tip)]), "limb")]
    under = (elbow[0], elbow[1] - 43.0)
    return {"elbow_under": under, "cushion": (hip_point(BENCH)[0], BENCH)}


@functools.cache
def from_above(*, turn_deg: float = 10.0) -> View:
    """Head and shoulders from above, front at the left; the shoulders turned towards the right hand."""
    half = mean_man()["acromion_breadth_mm"] / 2.0
    middle = (0.0, 0.0)
    chest = smooth(
        *(
            (95.0, 0.0),
            (84.0, 150.0),
            (30.0, half + 40.0),
            (-34.0, half + 26.0),
            (-110.0, 110.0),
            (-135.0, 0.0),
        ),
        *((-110.0, -110.0), (-34.0, -half - 26.0), (30.0, -half - 40.0), (84.0, -150.0)),
    )
    skull = limb((-60.0, 0.0, 76.0), (-10.0, 0.0, 78.0))
    nose = limb((-136.0, 0.0, 12.0), (-100.0, 0.0, 18.0))
    right = (0.0, half)
    seat = Polygon([(108.0, -300.0), (190.0, -300.0), (190.0, 300.0), (108.0, 300.0)]).buffer(16.0)
    solids: list[tuple[Polygon, Tone]] = [
        (joined([seat]), "seat"),
        (turned(chest, turn_deg, middle), "body"),
        (joined([skull, nose]), "limb"),
    ]
    at = {"middle": middle, "right": right, "right_turned": point_turned(right, turn_deg, middle)}
    at["left_turned"] = point_turned((0.0, -half), turn_deg, middle)
    return View(name="from above", solids=tuple(solids), at=at)


@functools.cache
def jacketed(thick_mm: float = 18.0) -> View:
    """Head, chest and hanging arm within a jacket."""
    size = mean_man()
    point = shoulder_point(0.0)
    joint = (point[0], point[1] - JOINT_UNDER_POINT_MM)
    elbow, wrist = (point[0] - 4.0, point[1] - size["upper_arm_mm"]), (point[0] - 190.0, point[1] - 520.0)
    skull, body = head(size["sitting_height_mm"]), trunk(0.0)
    sleeve = joined([upper_arm(joint, elbow), forearm(elbow, wrist)])
    solids: list[tuple[Polygon, Tone]] = [
        (skull, "body"),
        (joined([body.buffer(thick_mm)]), "add"),
        (body, "body"),
        (joined([sleeve.buffer(thick_mm)]), "add"),
        (sleeve, "limb"),
    ]
    back = max((corner for corner in body.exterior.coords), key=lambda corner: corner[0])
    at = {"back": (float(back[0]), float(back[1])), "jacket": (float(back[0]) + thick_mm, float(back[1]))}
    return View(name="jacket", solids=tuple(solids), at=at)


@functools.cache
def helmeted(thick_mm: float = 40.0) -> View:
    """A head within a helmet."""
    crown = mean_man()["sitting_height_mm"]
    skull = head(crown)
    shell = skull.intersection(
        Polygon(
            [(-400.0, crown - 190.0), (100.0, crown - 190.0), (100.0, crown + 9.0), (-400.0, crown + 9.0)]
        )
    )
    opening = Polygon(
        [(-400.0, crown - 84.0), (-205.0, crown - 84.0), (-205.0, crown - 170.0), (-400.0, crown - 170.0)]
    )
    helmet = joined([shell.buffer(thick_mm).difference(opening)])
    at = {"crown": (-150.0, crown), "helmet": (-150.0, crown + thick_mm)}
    return View(name="helmet", solids=((helmet, "add"), (skull, "body")), at=at)


@functools.cache
def shod(sole_mm: float = 25.0) -> View:
    """A lower leg, its foot on the sole of a shoe."""
    heel = (0.0, sole_mm)
    bare = joined([foot(heel), limb((-48.0, 95.0, 38.0), (-56.0, 330.0, 54.0))])
    upper = joined([foot(heel).buffer(7.0)])
    sole = Polygon([(12.0, sole_mm + 4.0), (12.0, 0.0), (-270.0, 0.0), (-288.0, sole_mm + 4.0)])
    solids: tuple[tuple[Polygon, Tone], ...] = ((upper, "add"), (bare, "limb"), (sole, "steel"))
    return View(
        name="shoe",
        solids=solids,
        lines=ground((-340.0, 0.0), (180.0, 0.0), (-0.7, -0.7)),
        at={"floor": (12.0, 0.0), "sole": (12.0, sole_mm)},
    )
