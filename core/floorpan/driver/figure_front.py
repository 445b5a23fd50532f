"""The figure seen from its front, sitting, cut under the hips: breadths. Its right is at the left [mm]."""

import functools

from shapely import affinity
from shapely.geometry import Polygon

from floorpan.driver.figure_shapes import joined, limb, smooth
from floorpan.driver.figure_side import JOINT_UNDER_POINT_MM, View, ground, mean_man
from floorpan.driver.sketch import At, Tone

_FOREARM_ROUND_MM = 47.0


def _both(shape: Polygon) -> Polygon:
    """A shape with its mirror image."""
    return joined([shape, affinity.scale(shape, -1.0, 1.0, origin=(0.0, 0.0))])


def _head(crown: float) -> Polygon:
    skull = smooth(
        *((0.0, crown), (52.0, crown - 22.0), (77.0, crown - 88.0), (68.0, crown - 156.0)),
        *((42.0, crown - 210.0), (0.0, crown - 229.0), (-42.0, crown - 210.0), (-68.0, crown - 156.0)),
        *((-77.0, crown - 88.0), (-52.0, crown - 22.0)),
    )
    ears = _both(limb((78.0, crown - 104.0, 10.0), (72.0, crown - 144.0, 8.0), (0.0, crown - 120.0, 10.0)))
    neck = _both(limb((0.0, crown - 200.0, 55.0), (0.0, crown - 290.0, 60.0)))
    return joined([skull, ears, neck])


def _trunk(bench: float) -> Polygon:
    size = mean_man()
    shoulder = bench + size["shoulder_height_mm"]
    out, hip = size["acromion_breadth_mm"] / 2.0, size["hip_breadth_mm"] / 2.0
    half: list[At] = [
        (66.0, shoulder + 52.0),
        (130.0, shoulder + 24.0),
        (out, shoulder - 4.0),
        (out - 14.0, shoulder - 80.0),
        (out - 42.0, bench + 390.0),
        (out - 56.0, bench + 250.0),
        (hip - 14.0, bench + 150.0),
        (hip, bench + 82.0),
        (hip - 10.0, bench + 26.0),
        (hip - 60.0, bench + 2.0),
    ]
    return smooth(*half, *((-x, y) for x, y in reversed(half)))


@functools.cache
def front(*, elbows_square: bool) -> View:
    """Sitting upright; arms hanging, or elbows square with the forearms towards the reader."""
    size = mean_man()
    bench = 0.0
    point = (size["acromion_breadth_mm"] / 2.0, size["shoulder_height_mm"])
    widest = size["shoulder_breadth_mm"] / 2.0
    joint = (widest - 54.0, point[1] - JOINT_UNDER_POINT_MM - 10.0)
    deltoid = (joint[0], joint[1] - 90.0)
    body = joined([_head(size["sitting_height_mm"]), _trunk(bench)])
    solids: list[tuple[Polygon, Tone]] = [(body, "body")]
    at: dict[str, At] = {
        "hip_right": (-size["hip_breadth_mm"] / 2.0, bench + 82.0),
        "hip_left": (size["hip_breadth_mm"] / 2.0, bench + 82.0),
        "chest": (0.0, point[1]),
    }
    if elbows_square:
        out = size["elbows_breadth_mm"] / 2.0
        elbow = (out - _FOREARM_ROUND_MM, size["elbow_rest_mm"] + _FOREARM_ROUND_MM)
        arms = [limb((*joint, 52.0), (deltoid[0] + 8.0, deltoid[1], 52.0), (*elbow, 43.0))]
        hand = (elbow[0] - 8.0, elbow[1] - 6.0)
        ends = [limb((*elbow, _FOREARM_ROUND_MM), (elbow[0] - 0.1, elbow[1], _FOREARM_ROUND_MM))]
        fists = [limb((hand[0], hand[1] + 16.0, 30.0), (hand[0], hand[1] - 16.0, 30.0))]
        for one in (arms, ends, fists):
            for shape in one:
                solids += [(shape, "limb"), (affinity.scale(shape, -1.0, 1.0, origin=(0.0, 0.0)), "limb")]
        at |= {"forearm_right": (-out, elbow[1]), "forearm_left": (out, elbow[1])}
    else:
        elbow = (widest + 4.0, bench + 245.0)
        arm = limb((*joint, 54.0), (*deltoid, 54.0), (elbow[0] - 44.0, elbow[1] + 40.0, 42.0))
        lower = limb((elbow[0] - 44.0, elbow[1] + 40.0, 43.0), (elbow[0] - 30.0, bench - 40.0, 32.0))
        shape = joined([arm, lower])
        solids += [(shape, "limb"), (affinity.scale(shape, -1.0, 1.0, origin=(0.0, 0.0)), "limb")]
        at |= {"deltoid_right": (-widest, deltoid[1]), "deltoid_left": (widest, deltoid[1])}
    leg = limb((106.0, bench + 88.0, 80.0), (108.0, bench + 44.0, 66.0), (104.0, bench - 330.0, 48.0))
    for shape in (leg, affinity.scale(leg, -1.0, 1.0, origin=(0.0, 0.0))):
        solids.insert(1, (shape, "body"))
    at |= {"point_right": (-point[0], point[1]), "point_left": point}
    lines = ground((-330.0, bench), (330.0, bench), (-0.7, -0.7))
    return View(name="front", solids=tuple(solids), lines=lines, at=at)
