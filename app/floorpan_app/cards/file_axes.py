"""Car axes for a scan that stands straight in its file already: which of the file's axes is up, and which is front."""

from typing import Final

import numpy as np

from floorpan.frames import Pose

WAYS: Final = ("+X", "\u2212X", "+Y", "\u2212Y", "+Z", "\u2212Z")


def pose_of(up: str, front: str) -> Pose:
    """From the file's axes into car axes: Z up, X against the front, Y so that they are right-handed.

    Raises BadValue where both name the same axis.
    """
    z_axis, x_axis = _way(up), -_way(front)
    matrix = np.eye(4)
    matrix[:3, :3] = np.stack([x_axis, np.cross(z_axis, x_axis), z_axis])
    return Pose.from_matrix(matrix)


def fronts(up: str) -> tuple[str, ...]:
    """What can be front when that is up: what lies square to it."""
    return tuple(way for way in WAYS if way[1] != up[1])


def _way(way: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    axis = np.zeros(3)
    axis["XYZ".index(way[1])] = 1.0 if way[0] == "+" else -1.0
    return axis
