"""Rims and dashes."""

import numpy as np
import pytest

from floorpan_app.viewport.lines import dashed, rims


def test_a_ring_of_faces_has_two_rims() -> None:
    # Eight triangles between an outer and an inner square.
    outer, inner = [0, 1, 2, 3], [4, 5, 6, 7]
    faces = []
    for here in range(4):
        after = (here + 1) % 4
        faces += [[outer[here], outer[after], inner[here]], [inner[here], outer[after], inner[after]]]
    loops = rims(np.array(faces, dtype=np.int32))
    assert sorted(sorted(set(loop.tolist())) for loop in loops) == [outer, inner]
    assert all(loop[0] == loop[-1] and len(loop) == 5 for loop in loops)


def test_a_closed_skin_has_no_rim() -> None:
    tetrahedron = np.array([[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]], dtype=np.int32)
    assert rims(tetrahedron) == []


def test_dashes_cover_their_share_of_the_path_round_its_corners() -> None:
    square = np.array([[0, 0, 0], [100, 0, 0], [100, 100, 0], [0, 100, 0], [0, 0, 0]], dtype=float)
    pieces = dashed(square, 10.0, 6.0)
    lengths = np.linalg.norm(pieces[:, 1] - pieces[:, 0], axis=1)
    # 400 = 25 periods of 16.
    assert lengths.sum() == pytest.approx(250.0)
    on_edge = (np.isclose(pieces[..., :2], 0.0) | np.isclose(pieces[..., :2], 100.0)).any(axis=-1)
    assert on_edge.all()


def test_a_path_of_no_length_has_no_dashes() -> None:
    assert dashed(np.zeros((3, 3)), 10.0, 6.0).shape == (0, 2, 3)
