"""The straight arm and its links add up, joint to joint, whatever was measured and whatever was worked out.

The straight arm follows the survey's own percentiles, its links are bell curves: taken one by one they miss their
sum by a millimetre or two. The links that were not measured are stretched alike, because reach goes by the
straight arm; where all three are measured the straight arm is their sum.
"""

from collections.abc import Collection

import numpy as np

from floorpan.driver.body_figures import place_of
from floorpan.errors import BadValue
from floorpan.frames import Floats

SHOULDER_TO_GRIP = "shoulder_to_grip_mm"
LINKS = ("upper_arm_mm", "elbow_to_wrist_mm", "wrist_to_grip_mm")


def check_arm(known: Collection[str]) -> None:
    """Raises BadValue where the straight arm and all its links are measured."""
    if {SHOULDER_TO_GRIP, *LINKS} <= set(known):
        raise BadValue(
            "measured-twice",
            "The straight arm and all three of its parts are given: one of them follows from the rest.",
            "Leave out the elbow to wrist.",
        )


def told_by_the_arm(known: Collection[str]) -> str | None:
    """The length that is plain arithmetic because the three others are known, if there is one."""
    left = [key for key in (SHOULDER_TO_GRIP, *LINKS) if key not in known]
    return left[0] if len(left) == 1 else None


def with_arm_added_up(bodies: Floats, known: Collection[str]) -> Floats:
    """A copy of (..., M) bodies whose links make up their straight arm [mm]; what is known stays as it is."""
    bodies = bodies.copy()
    straight = place_of(SHOULDER_TO_GRIP)
    links = np.sum([bodies[..., place_of(key)] for key in LINKS], axis=0)
    unknown = [place_of(key) for key in LINKS if key not in known]
    if unknown:
        left = bodies[..., unknown]
        missing = bodies[..., straight] - links
        bodies[..., unknown] = left * (1.0 + missing / left.sum(axis=-1))[..., None]
    else:
        bodies[..., straight] = links
    return bodies
