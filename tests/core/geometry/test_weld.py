"""Welding against sorting whole rows, and what it must leave alone."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.geometry import weld as module
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import cube


def soup(mesh: Mesh) -> Mesh:
    """Every face with points of its own."""
    points = mesh.points[mesh.faces].reshape(-1, 3)
    return Mesh(points, np.arange(len(points), dtype=np.int32).reshape(-1, 3))


@pytest.mark.parametrize(
    "name", ["scans_mesh/exhaust_part.stl", "scans_mesh/foot_reference.stl", "bad_meshes/soup.stl"]
)
def test_as_many_points_as_distinct_rows(shared_data: Path, name: str) -> None:
    """numpy's unique over whole rows is the second way."""
    raw = finish(read_scan(shared_data / name)).mesh
    welded = weld(raw)
    assert len(welded.mesh.points) == len(np.unique(raw.points, axis=0))
    assert np.array_equal(welded.mesh.points[welded.mesh.faces], raw.points[raw.faces])
    assert np.array_equal(welded.mesh.points[welded.new_point], raw.points)


def test_a_welded_mesh_comes_back_as_it_was() -> None:
    once = weld(soup(cube())).mesh
    twice = weld(once)
    assert len(once.points) == 8
    assert np.array_equal(twice.mesh.points, once.points)
    assert np.array_equal(twice.mesh.faces, once.faces)


def test_zero_and_minus_zero_are_one_point() -> None:
    points = np.array([[0.0, 0, 0], [1, 0, 0], [0, 1, 0], [-0.0, 0, 0], [1, -0.0, 0], [0, 0, 1]])
    welded = weld(Mesh(points, np.array([[0, 1, 2], [3, 4, 5]], dtype=np.int32)))
    assert len(welded.mesh.points) == 4
    assert welded.mesh.faces.tolist() == [[0, 1, 2], [0, 1, 3]]


def test_collapsed_faces_keep_their_row_and_are_told() -> None:
    points = np.array([[0.0, 0, 0], [1, 0, 0], [1, 0, 0], [0, 1, 0]])
    welded = weld(Mesh(points, np.array([[0, 1, 2], [0, 1, 3]], dtype=np.int32)))
    assert welded.collapsed.tolist() == [True, False]
    assert welded.mesh.faces.tolist() == [[0, 1, 1], [0, 1, 2]]


def test_points_that_differ_in_the_last_bit_stay_apart() -> None:
    points = np.array([[0.0, 0, 0], [1, 0, 0], [np.nextafter(1.0, 2), 0, 0], [0, 1, 0]])
    assert len(weld(Mesh(points, np.array([[0, 1, 3], [0, 2, 3]], dtype=np.int32))).mesh.points) == 4


def test_hashes_that_collide_change_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    expected = weld(soup(cube()))
    monkeypatch.setattr(module, "_hash", lambda points: np.zeros(len(points), dtype=np.uint64))
    found = weld(soup(cube()))
    assert np.array_equal(found.mesh.points, expected.mesh.points)
    assert np.array_equal(found.mesh.faces, expected.mesh.faces)


@given(st.lists(st.tuples(*[st.sampled_from([-1.0, -0.0, 0.0, 1.0, 1e-300])] * 3), min_size=3, max_size=60))
def test_any_points(rows: list[tuple[float, float, float]]) -> None:
    points = np.array(rows)
    faces = np.arange(len(points) // 3 * 3, dtype=np.int32).reshape(-1, 3)
    welded = weld(Mesh(points, faces))
    assert len(welded.mesh.points) == len({tuple(v + 0.0 for v in row) for row in rows})
    assert np.array_equal(welded.mesh.points[welded.mesh.faces], points[faces])


@given(
    st.lists(st.tuples(*[st.sampled_from([-2.5, -0.0, 0.0, 1.0, 3.0])] * 3), min_size=3, max_size=200),
    st.sampled_from([1, 3, 16]),
    st.booleans(),
)
def test_points_are_numbered_by_first_use_however_they_are_looked_up(
    rows: list[tuple[float, float, float]], at_once: int, crowded: bool
) -> None:
    """A dictionary is the second way, with points looked at in short runs and with every place in the table taken."""
    points = np.array(rows)
    faces = np.arange(len(points) // 3 * 3, dtype=np.int32).reshape(-1, 3)
    number: dict[tuple[float, ...], int] = {}
    expected = [number.setdefault(tuple(v + 0.0 for v in row), len(number)) for row in rows]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "_AT_ONCE", at_once)
        patch.setattr(module, "_FEW", 0)
        if crowded:
            patch.setattr(module, "_place", lambda mixed, places: (mixed % np.uint64(2)).astype(np.int64))
        welded = weld(Mesh(points, faces))
    assert welded.new_point.tolist() == expected
    assert welded.mesh.points.tolist() == [list(row) for row in number]
    assert welded.mesh.faces.ravel().tolist() == expected[: faces.size]


def test_points_that_are_no_numbers_join_nothing() -> None:
    points = np.array([[np.nan, 0, 0], [0, 0, 0], [np.nan, 0, 0], [0, 0, 0]])
    welded = weld(Mesh(points, np.array([[0, 1, 2]], dtype=np.int32)))
    assert welded.new_point.tolist() == [0, 1, 2, 1]
