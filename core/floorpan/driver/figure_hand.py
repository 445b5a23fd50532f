"""Hand and foot by themselves: a flat right hand from its back, a fist on a rod, a foot from above [mm]."""

import functools

from shapely import affinity
from shapely.geometry import Polygon

from floorpan.driver.figure_shapes import joined, limb, smooth
from floorpan.driver.figure_side import View, mean_man
from floorpan.driver.sketch import At, Tone

_KNUCKLES_SHARE = 0.46


@functools.cache
def flat_hand() -> View:
    """Fingers to the left, thumb up; the wrist's crease at x = 0."""
    size = mean_man()
    long, half = size["hand_length_mm"], size["hand_breadth_mm"] / 2.0
    knuckles = -long * _KNUCKLES_SHARE
    ridge = (knuckles, half - 13.0), (knuckles, 13.0 - half)
    palm = joined(
        [limb((0.0, 0.0, 29.0), (*end, 13.0)) for end in ridge] + [limb(*((*end, 13.0) for end in ridge))]
    )
    reach = (0.93, 1.0, 0.94, 0.80)
    broad = (9.6, 9.8, 9.2, 8.2)
    fingers = [
        limb(
            (knuckles, half - 11.0 - 22.0 * place, wide + 1.2),
            (-long * far + wide, half - 11.0 - 21.4 * place, wide),
        )
        for place, (far, wide) in enumerate(zip(reach, broad, strict=True))
    ]
    thumb = limb((-20.0, 24.0, 19.0), (-62.0, 52.0, 12.5), (-98.0, 62.0, 10.0))
    arm = limb((140.0, 0.0, 37.0), (0.0, 0.0, 29.0))
    hand = joined([palm, *fingers, arm])
    middle = half - 11.0 - 21.4
    at: dict[str, At] = {
        "crease": (0.0, 0.0),
        "tip": (-long, middle),
        "knuckles_top": (knuckles, half),
        "knuckles_foot": (knuckles, -half),
    }
    solids: tuple[tuple[Polygon, Tone], ...] = ((thumb, "limb"), (hand, "limb"))
    return View(name="hand", solids=solids, at=at)


@functools.cache
def fist(*, glove_mm: float = 0.0) -> View:
    """A fist about an upright rod, seen from the back of the hand, thumb up; the wrist's crease at x = 0.

    glove_mm : thickness of a glove drawn over it
    """
    size = mean_man()
    grip = (-size["wrist_to_grip_mm"], 0.0)
    rod = limb((grip[0], -110.0, 15.0), (grip[0], 110.0, 15.0))
    arm = limb((170.0, 0.0, 40.0), (0.0, 0.0, 29.0))
    back = smooth(
        *((10.0, 29.0), (-22.0, 38.0), (-60.0, 45.0), (-92.0, 40.0), (-97.0, 20.0), (-98.0, -6.0)),
        *((-94.0, -34.0), (-70.0, -44.0), (-24.0, -38.0), (10.0, -29.0)),
    )
    fingers = [
        limb((-74.0, 31.0 - 20.6 * place, 11.5), (-93.0, 31.0 - 20.6 * place, 11.0)) for place in range(4)
    ]
    thumb = limb((-18.0, 26.0, 17.0), (-52.0, 46.0, 13.0), (-78.0, 50.0, 11.0))
    hand = joined([arm, back, *fingers])
    solids: list[tuple[Polygon, Tone]] = [(rod, "steel")]
    if glove_mm > 0.0:
        bare = joined([hand, thumb])
        mouth = Polygon([(-200.0, -120.0), (48.0, -120.0), (48.0, 120.0), (-200.0, 120.0)])
        solids.append((joined([bare.buffer(glove_mm).intersection(mouth)]), "add"))
    solids += [(thumb, "limb"), (hand, "limb")]
    solids += [(finger, "limb") for finger in fingers]
    foot_x, foot_y = min(back.exterior.coords, key=lambda corner: corner[1])[:2]
    at: dict[str, At] = {
        "crease": (0.0, 0.0),
        "grip": grip,
        "knuckle": (grip[0] - 30.0, 10.0),
        "hand_foot": (float(foot_x), float(foot_y)),
        "glove_foot": (float(foot_x), float(foot_y) - glove_mm),
    }
    return View(name="fist", solids=tuple(solids), at=at)


@functools.cache
def foot_above() -> View:
    """A right foot from above, toes to the left, the heel at x = 0."""
    size = mean_man()
    long, broad = size["foot_length_mm"], size["foot_breadth_mm"]
    ball = -long * 0.70
    top = broad * 0.52
    sole = smooth(
        *(
            (0.0, 0.0),
            (-12.0, 24.0),
            (-48.0, 33.0),
            (-110.0, 32.0),
            (ball + 20.0, top - 3.0),
            (ball - 4.0, top),
        ),
        *((-long + 46.0, top - 8.0), (-long + 54.0, -4.0), (ball - 8.0, top - broad + 8.0)),
        *((ball + 4.0, top - broad), (-120.0, -41.0), (-48.0, -33.0), (-12.0, -24.0)),
    )
    small = [(-long + 20.0 + 13.0 * k, top - 44.0 - 14.0 * k) for k in range(4)]
    toes = [
        limb((-long + 60.0, top - 20.0, 19.0), (-long + 16.0, top - 20.0, 16.0)),
        *(limb((x + 44.0, y + 3.0, 11.0), (x, y, 9.5 - 0.5 * k)) for k, (x, y) in enumerate(small)),
    ]
    shape = joined([sole, *toes])
    least, greatest = shape.bounds[1], shape.bounds[3]
    shape = joined([affinity.scale(shape, 1.0, broad / (greatest - least), origin=(0.0, 0.0))])
    low, high = shape.bounds[1], shape.bounds[3]
    at: dict[str, At] = {
        "heel": (0.0, 0.0),
        "toe": (shape.bounds[0], top - 20.0),
        "ball_top": _at_level(shape, high),
        "ball_foot": _at_level(shape, low),
    }
    return View(name="foot", solids=((shape, "limb"),), at=at)


def _at_level(shape: Polygon, level: float) -> At:
    """The corner of an outline at its lowest or highest level."""
    x, y = min(shape.exterior.coords, key=lambda corner: abs(corner[1] - level))[:2]
    return (float(x), float(y))
