"""Axes taken from the file's own: the named ones become up and front, and nothing comes out mirrored."""

import numpy as np
import pytest

from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan_app.cards.file_axes import WAYS, fronts, pose_of

BOTH = [(up, front) for up in WAYS for front in fronts(up)]
ALONG = {
    "+X": (1.0, 0.0, 0.0), "\u2212X": (-1.0, 0.0, 0.0),
    "+Y": (0.0, 1.0, 0.0), "\u2212Y": (0.0, -1.0, 0.0),
    "+Z": (0.0, 0.0, 1.0), "\u2212Z": (0.0, 0.0, -1.0),
}  # fmt: skip


@pytest.mark.parametrize(("up", "front"), BOTH)
def test_up_becomes_z_and_front_runs_against_x(up: str, front: str) -> None:
    """Car axes after ISO 4130: X rearward, Z up."""
    turn = pose_of(up, front).matrix()[:3, :3]
    assert (turn @ ALONG[up]).tolist() == [0.0, 0.0, 1.0]
    assert (turn @ ALONG[front]).tolist() == [-1.0, 0.0, 0.0]


@pytest.mark.parametrize(("up", "front"), BOTH)
def test_the_axes_are_right_handed_and_stay_at_the_files_origin(up: str, front: str) -> None:
    """Right of somebody who faces forward is front x up (the right hand rule), and that is Y after ISO 4130."""
    pose = pose_of(up, front)
    turn = pose.matrix()[:3, :3]
    assert np.linalg.det(turn) == pytest.approx(1.0, abs=1e-12)
    assert (turn @ np.cross(ALONG[front], ALONG[up])).tolist() == [0.0, 1.0, 0.0]
    assert pose.shift_mm == (0.0, 0.0, 0.0)


def test_every_way_to_stand_is_there_once() -> None:
    """A cube has 24 turns onto itself (rotation group of the cube)."""
    turns = {tuple(pose_of(up, front).matrix().ravel().tolist()) for up, front in BOTH}
    assert len(BOTH) == len(turns) == 24


def test_a_file_in_car_axes_stays_as_it_is() -> None:
    assert pose_of("+Z", "\u2212X").matrix().tolist() == Pose().matrix().tolist()


@pytest.mark.parametrize("up", WAYS)
def test_front_lies_square_to_up(up: str) -> None:
    assert len(fronts(up)) == 4
    assert all(np.dot(ALONG[front], ALONG[up]) == 0.0 for front in fronts(up))


@pytest.mark.parametrize(("up", "front"), [("+X", "+X"), ("+Y", "\u2212Y")])
def test_one_axis_for_both_is_refused(up: str, front: str) -> None:
    with pytest.raises(BadValue):
        pose_of(up, front)
