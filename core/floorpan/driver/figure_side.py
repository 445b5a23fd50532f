"""The figure seen from its left side, front at the left: the mean man of the survey, sitting, standing, driving.

Levels and depths that are measures come from `body_figures`; what lies between them (head, chest, calf) is drawn by
eye. X rearward from the wall behind the figure, Y up from the floor [mm].
"""

import functools
from collections.abc import Mapping
from dataclasses import dataclass, field

from shapely.geometry import Polygon

from floorpan.driver.body_figures import figures, measures
from floorpan.driver.figure_shapes import joined, limb, smooth
from floorpan.driver.filling import HIP_OVER_CUSHION_MM
from floorpan.driver.sketch import At, Path, Tone

SHOULDER_X, HIP_X = -115.0, -115.0
JOINT_UNDER_POINT_MM = 46.0
_HATCH_MM = 34.0


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A figure to measure on: solids from far to near, ground lines, and landmarks by name [mm]."""

    name: str
    solids: tuple[tuple[Polygon, Tone], ...]
    lines: tuple[Path, ...] = ()
    at: Mapping[str, At] = field(default_factory=dict)


@functools.cache
def mean_man() -> Mapping[str, float]:
    """Every measure of the mean man [mm, kg], by key."""
    return {one.key: float(size) for one, size in zip(measures(), figures("man").mean.tolist(), strict=True)}


def ground(one: At, other: At, below: At) -> tuple[Path, ...]:
    """A line of ground, bench or wall with short ticks towards what is solid."""
    (x0, y0), (x1, y1) = one, other
    long = max(abs(x1 - x0), abs(y1 - y0))
    count = max(2, int(long / _HATCH_MM))
    ticks = []
    for place in range(count):
        share = (place + 0.7) / count
        x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
        ticks.append(((x, y), (x + below[0] * 22.0, y + below[1] * 22.0)))
    return ((one, other), *ticks)


# --- head and trunk, sitting upright with the bench at its height -----------------------------------------------------


def head(crown: float) -> Polygon:
    """Head and neck under a crown level, facing left."""
    skull = smooth(
        *((-150.0, crown), (-90.0, crown - 18.0), (-56.0, crown - 90.0), (-72.0, crown - 160.0)),
        *((-112.0, crown - 196.0), (-170.0, crown - 214.0), (-226.0, crown - 226.0), (-242.0, crown - 206.0)),
        *((-240.0, crown - 176.0), (-262.0, crown - 146.0), (-246.0, crown - 104.0), (-238.0, crown - 56.0)),
        (-202.0, crown - 12.0),
    )
    neck = limb((-104.0, crown - 330.0, 74.0), (-112.0, crown - 285.0, 62.0), (-136.0, crown - 190.0, 57.0))
    return joined([skull, neck])


def trunk(bench: float) -> Polygon:
    """Chest, belly and buttocks over a bench; the buttocks touch x = 0, the belly is as deep as the measure."""
    size = mean_man()
    shoulder, belly = bench + size["shoulder_height_mm"], -24.0 - size["belly_depth_mm"]
    return smooth(
        *((-4.0, bench + 110.0), (-24.0, bench + 215.0), (-14.0, bench + 350.0), (-2.0, bench + 470.0)),
        *((-40.0, bench + 575.0), (-110.0, shoulder + 4.0), (-176.0, shoulder - 58.0)),
        *((-250.0, bench + 440.0), (-258.0, bench + 330.0), (belly, bench + 215.0), (-262.0, bench + 140.0)),
        *((-200.0, bench + 20.0), (-80.0, bench + 2.0), (-18.0, bench + 30.0)),
    )


def shoulder_point(bench: float) -> At:
    """The bony point on top of the shoulder."""
    return (SHOULDER_X, bench + mean_man()["shoulder_height_mm"])


def hip_point(bench: float) -> At:
    """The hip over a loaded cushion."""
    return (HIP_X, bench + HIP_OVER_CUSHION_MM)


# --- arms -------------------------------------------------------------------------------------------------------------


def upper_arm(joint: At, elbow: At) -> Polygon:
    """Shoulder to elbow."""
    middle = _between(joint, elbow, 0.5)
    return limb((*joint, 54.0), (*middle, 50.0), (*elbow, 43.0))


def forearm(elbow: At, wrist: At) -> Polygon:
    """Elbow to wrist."""
    thick = _between(elbow, wrist, 0.28)
    return limb((*elbow, 43.0), (*thick, 45.0), (*wrist, 29.0))


def fist(wrist: At, grip: At) -> Polygon:
    """A fist about its grip, seen from the thumb's side."""
    return limb((*wrist, 29.0), (*grip, 44.0))


def flat_hand(wrist: At, tip: At) -> Polygon:
    """A hand held straight, seen from the thumb's side."""
    palm, knuckles = _between(wrist, tip, 0.3), _between(wrist, tip, 0.55)
    end = _between(wrist, tip, 0.95)
    thumb = _between(wrist, tip, 0.52)
    return joined(
        [
            limb((*wrist, 28.0), (*palm, 34.0), (*knuckles, 25.0), (*end, 9.5)),
            limb((palm[0], palm[1] + 8.0, 20.0), (thumb[0], thumb[1] + 26.0, 12.0)),
        ]
    )


def _between(one: At, other: At, share: float) -> At:
    return (one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share)


# --- legs -------------------------------------------------------------------------------------------------------------


def bent_leg() -> tuple[Polygon, dict[str, At]]:
    """Thigh level, lower leg upright, as on a bench at the height of the hollow of the knee."""
    size = mean_man()
    bench, top = size["popliteal_height_mm"], size["knee_height_mm"]
    front, hollow = -size["buttock_to_knee_mm"], -size["buttock_to_popliteal_mm"]
    knee_radius = (top - bench) / 2.0
    knee = (front + knee_radius, top - knee_radius)
    thick = size["thigh_mm"] / 2.0
    thigh = limb((-110.0, bench + thick, thick), (-300.0, bench + thick, thick), (*knee, knee_radius))
    calf = limb((*knee, knee_radius - 2.0), (hollow - 48.0, 300.0, 54.0), (hollow - 46.0, 78.0, 37.0))
    heel = hollow + 2.0
    ends = {
        "knee_top": (knee[0], top),
        "knee_front": (front, knee[1]),
        "hollow": (hollow, bench + 6.0),
        "under_knee": (hollow - 4.0, bench),
        "thigh_top": (-300.0, bench + size["thigh_mm"]),
        "heel": (heel, 0.0),
    }
    return joined([thigh, calf, foot((heel, 0.0))]), ends


def foot(heel: At) -> Polygon:
    """A foot from its heel on the ground, toes at the left."""
    x, y = heel
    toe = x - mean_man()["foot_length_mm"]
    shape = smooth(
        *((x, y + 22.0), (x - 8.0, y + 70.0), (x - 40.0, y + 104.0), (x - 88.0, y + 100.0)),
        *((x - 150.0, y + 58.0), (toe + 24.0, y + 30.0), (toe, y + 14.0), (toe + 12.0, y + 1.0)),
        *((x - 120.0, y + 1.0), (x - 18.0, y + 1.0)),
    )
    return joined([shape])


# --- whole figures ----------------------------------------------------------------------------------------------------


@functools.cache
def seated(*, wall: bool = False, arm: bool = True) -> View:
    """Upright on a hard bench, elbow square, hand straight."""
    size = mean_man()
    bench = size["popliteal_height_mm"]
    leg, at = bent_leg()
    point = shoulder_point(bench)
    under = bench + size["elbow_rest_mm"]
    elbow = (SHOULDER_X - 2.0, under + 43.0)
    back = elbow[0] + 43.0
    tip = (back - size["elbow_to_fingertip_mm"], elbow[1] + 4.0)
    wrist = (tip[0] + size["hand_length_mm"], elbow[1] + 2.0)
    joint = (point[0], point[1] - JOINT_UNDER_POINT_MM)
    crown = bench + size["sitting_height_mm"]
    body = joined([head(crown), trunk(bench), leg])
    solids: list[tuple[Polygon, Tone]] = [(body, "body")]
    if arm:
        near = joined([upper_arm(joint, elbow), forearm(elbow, wrist), flat_hand(wrist, tip)])
        solids.append((near, "limb"))
    seat_front = -size["buttock_to_popliteal_mm"] + 70.0
    lines = (
        *ground((-860.0, 0.0), (180.0, 0.0), (-0.7, -0.7)),
        *ground((seat_front, bench), (150.0 if not wall else 0.0, bench), (-0.7, -0.7)),
        *(ground((0.0, 1420.0), (0.0, 0.0), (0.7, -0.7)) if wall else ()),
    )
    at |= {
        "crown": (-150.0, crown),
        "eye": (-222.0, bench + size["eye_height_mm"]),
        "shoulder": point,
        "elbow_under": (elbow[0], under),
        "elbow_back": (back, elbow[1]),
        "fingertip": tip,
        "belly_front": (-24.0 - size["belly_depth_mm"], bench + 215.0),
        "belly_back": (-24.0, bench + 215.0),
        "buttock": (0.0, bench + 90.0),
        "bench_front": (seat_front, bench),
        "bench": (-40.0, bench),
        "wall": (0.0, bench + 90.0),
        "floor": (-400.0, 0.0),
    }
    return View(name="seated", solids=tuple(solids), lines=lines, at=at)


@functools.cache
def standing(*, wall: bool = True, scales: bool = False) -> View:
    """Upright, arm hanging straight, fist closed; against a wall, free or on scales."""
    size = mean_man()
    crown = size["stature_mm"]
    rise = crown - size["sitting_height_mm"]
    point = shoulder_point(rise)
    joint = (point[0], point[1] - JOINT_UNDER_POINT_MM)
    elbow = (point[0], point[1] - size["upper_arm_mm"])
    wrist = (point[0] - 4.0, elbow[1] - size["elbow_to_wrist_mm"])
    grip = (point[0] - 4.0, wrist[1] - size["wrist_to_grip_mm"])
    leg = limb((-112.0, rise + 40.0, 92.0), (-112.0, rise - 180.0, 82.0), (-112.0, 500.0, 58.0))
    calf = limb((-112.0, 500.0, 56.0), (-96.0, 350.0, 57.0), (-94.0, 80.0, 38.0))
    body = joined([head(crown), trunk(rise), leg, calf, foot((-46.0, 0.0))])
    solids: list[tuple[Polygon, Tone]] = [(body, "body")]
    near = joined([upper_arm(joint, elbow), forearm(elbow, wrist), fist(wrist, grip)])
    solids.append((near, "limb"))
    if scales:
        plinth = Polygon([(-360.0, 0.0), (10.0, 0.0), (-4.0, -46.0), (-346.0, -46.0)])
        solids.insert(0, (plinth, "steel"))
        lines = ground((-600.0, -46.0), (300.0, -46.0), (-0.7, -0.7))
    else:
        lines = (
            *ground((-600.0, 0.0), (0.0, 0.0), (-0.7, -0.7)),
            *(ground((0.0, crown + 90.0), (0.0, 0.0), (0.7, -0.7)) if wall else ()),
        )
    at = {
        "crown": (-150.0, crown),
        "floor": (-150.0, 0.0),
        "shoulder": point,
        "elbow": elbow,
        "wrist": wrist,
        "grip": grip,
    }
    return View(name="standing", solids=tuple(solids), lines=lines, at=at)


@functools.cache
def arm_ahead(*, thumb: bool) -> View:
    """Head and chest, the arm straight ahead: about a rod, or with the thumb stretched and a wall behind."""
    size = mean_man()
    bench = 0.0
    point = shoulder_point(bench)
    level = point[1] - JOINT_UNDER_POINT_MM
    grip = (point[0] - size["shoulder_to_grip_mm"], level)
    elbow = (point[0] - size["upper_arm_mm"], level)
    wrist = (grip[0] + size["wrist_to_grip_mm"], level)
    thumb_tip = (-size["thumb_tip_reach_mm"], level + 10.0)
    links = [upper_arm((point[0], level), elbow), forearm(elbow, wrist)]
    solids: list[tuple[Polygon, Tone]] = [(joined([head(size["sitting_height_mm"]), trunk(bench)]), "body")]
    lines: tuple[Path, ...] = ()
    if thumb:
        links.append(limb((*wrist, 29.0), (wrist[0] - 48.0, level, 38.0)))
        links.append(limb((wrist[0] - 40.0, level + 24.0, 15.0), (thumb_tip[0] + 11.0, level + 10.0, 11.0)))
        lines = ground((0.0, 990.0), (0.0, 0.0), (0.7, -0.7))
    else:
        rod = limb((grip[0], grip[1] - 150.0, 14.0), (grip[0], grip[1] + 150.0, 14.0))
        solids.append((rod, "steel"))
        links.append(fist(wrist, grip))
    solids.append((joined(links), "limb"))
    at = {
        "shoulder": point,
        "elbow": elbow,
        "wrist": wrist,
        "grip": grip,
        "thumb_tip": thumb_tip,
        "wall": (0.0, 470.0),
    }
    return View(name="arm ahead", solids=tuple(solids), lines=lines, at=at)
