"""Silhouettes, cuts and footprints against closed forms and a general mesh library."""

import math

import numpy as np
import pytest
import shapely
import trimesh
from shapely.geometry import Polygon

from core.geometry.test_mesh_solids import box_mesh, channel
from core.report.made_up import floor
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.mesh_solids import mesh_hull
from floorpan.geometry.solids import Solid, ball, box, capsule
from floorpan.report.outlines import (
    Side,
    carpet_band,
    cut_of_body,
    cut_of_mesh,
    footprint,
    rings,
    silhouette,
)

ABOVE = Side(name="above", right=(1.0, 0.0, 0.0), up=(0.0, 1.0, 0.0))


def at(*numbers: float) -> np.ndarray:
    return np.array(numbers, dtype=float)


def test_a_ball_covers_a_disc() -> None:
    """pi r^2; a polygon of 64 corners covers 0.16 % less."""
    shape = silhouette((Solid(ball(at(10, 20, 30), 55.0)),), ABOVE)
    assert shape.area == pytest.approx(math.pi * 55.0**2, rel=2e-3)
    assert (shape.centroid.x, shape.centroid.y) == pytest.approx((10.0, 20.0))


def test_a_rod_covers_its_length_and_its_round_ends() -> None:
    """2 r L + pi r^2 with the length as seen: 300 along X, its 400 along Z are not seen from above."""
    shape = silhouette((Solid(capsule(at(0, 0, 0), at(300, 0, 400), 10.0)),), ABOVE)
    assert shape.area == pytest.approx(2 * 10.0 * 300.0 + math.pi * 100.0, rel=2e-3)


def test_two_that_overlap_are_counted_once() -> None:
    one = Solid(box(at(0, 0, 0), at(100, 50, 10)))
    moved = Solid(one.hull, Pose(shift_mm=(50.0, 0.0, 0.0)))
    assert silhouette((one, moved), ABOVE).area == pytest.approx(150.0 * 50.0)


@pytest.mark.parametrize("depth", [0.0, 20.0, 45.0])
def test_a_cut_ball_is_a_disc_of_the_chord(depth: float) -> None:
    """Radius sqrt(r^2 - d^2); the polyhedron lies inside by at most 1 % of the radius."""
    shape = cut_of_body((Solid(ball(at(500, 30, 200), 55.0)),), 500.0 + depth)
    radius = math.sqrt(55.0**2 - depth**2)
    found = math.sqrt(shape.area / math.pi)
    assert radius - 0.02 * 55.0 <= found <= radius + 1e-9


def test_a_cut_box_is_its_cross_section() -> None:
    shape = cut_of_body((Solid(box(at(0, -40, 10), at(100, 60, 90))),), 37.0)
    assert shape.bounds == pytest.approx((-40.0, 10.0, 60.0, 90.0))
    assert shape.area == pytest.approx(100.0 * 80.0)


def test_a_cut_beside_a_body_is_empty() -> None:
    assert cut_of_body((Solid(ball(at(0, 0, 0), 50.0)),), 50.1).is_empty
    assert cut_of_body((), 0.0).is_empty


def test_a_cut_floor_is_one_line_of_its_own_heights() -> None:
    [line] = cut_of_mesh(floor(), 300.3)
    held = line[np.argsort(line[:, 0])]
    corners = np.array([-450.0, -300.0, -120.0, -90.0, 0.0, 90.0, 120.0, 300.0, 450.0])
    heights = np.array([60.0, 50.0, 60.0, 170.0, 180.0, 170.0, 60.0, 50.0, 60.0])
    assert held[:, 1] == pytest.approx(np.interp(held[:, 0], corners, heights), abs=0.25)
    assert (held[0, 0], held[-1, 0]) == pytest.approx((-450.0, 450.0))


def test_a_hole_parts_the_line() -> None:
    assert len(cut_of_mesh(floor(), 1000.0)) == 2


@pytest.mark.parametrize("axis", [0, 1, 2])
def test_a_cut_sphere_agrees_with_a_general_library(axis: int) -> None:
    ball_ = trimesh.creation.icosphere(subdivisions=4, radius=100.0)
    normal = np.eye(3)[axis]
    path = ball_.section(plane_origin=31.7 * normal, plane_normal=normal)
    assert path is not None
    lines = cut_of_mesh(Mesh(ball_.vertices, ball_.faces), 31.7, axis)
    assert sum(np.linalg.norm(np.diff(line, axis=0), axis=1).sum() for line in lines) == pytest.approx(
        path.length, rel=5e-3
    )
    assert Polygon(lines[0]).area == pytest.approx(math.pi * (100.0**2 - 31.7**2), rel=1e-2)


def test_a_plane_through_corners_gives_no_more_than_there_is() -> None:
    true = 2 * sum(math.hypot(*run) for run in ((150, 10), (180, 10), (30, 110), (90, 10)))
    [line] = cut_of_mesh(floor(), 200.0 + 1300.0 / 39 * 3)
    assert np.linalg.norm(np.diff(line, axis=0), axis=1).sum() == pytest.approx(true)


def test_the_footprint_is_the_floor_less_its_hole_to_a_cell() -> None:
    """1300 x 900 with a hole of 200 x 30: within a cell along all edges."""
    shape = footprint(floor(), ABOVE, cell_mm=10.0)
    true = 1300.0 * 900.0 - 200.0 * 30.0
    assert abs(shape.area - true) <= 10.0 * 2 * (1300 + 900 + 200 + 30)
    assert not shape.contains(shapely.Point(966.0, 105.0))
    assert shape.contains(shapely.Point(500.0, 105.0))


def test_nothing_covers_nothing() -> None:
    nothing = Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=int))
    assert footprint(nothing, ABOVE).is_empty
    assert cut_of_mesh(nothing, 0.0) == ()
    assert silhouette((), ABOVE).is_empty


def test_carpet_lies_over_a_flat_floor_whichever_way_it_was_cut() -> None:
    line = np.array([[-100.0, 20.0], [100.0, 20.0]])
    for way in (line, line[::-1]):
        band = carpet_band(way, 12.0)
        assert band.bounds == pytest.approx((-100.0, 20.0, 100.0, 32.0))
    assert carpet_band(line, 0.0).is_empty


def test_rings_turn_one_way_outside_and_the_other_inside() -> None:
    shape = Polygon([(0, 0), (9, 0), (9, 9), (0, 9)], [[(3, 3), (3, 6), (6, 6), (6, 3)]])
    outer, inner = (Polygon(ring) for ring in rings(shape))
    assert outer.exterior.is_ccw != inner.exterior.is_ccw
    assert rings(shapely.LineString([(0, 0), (1, 1)])) == ()


def test_a_dented_mesh_covers_and_cuts_what_it_is() -> None:
    """A channel 200 long, 100 by 80 across less 60 by 60: its outline from the front and its cut are its section."""
    solid = Solid(mesh_hull(channel()), Pose(shift_mm=(40.0, 5.0, 10.0)))
    front = Side(name="front", right=(0.0, 1.0, 0.0), up=(0.0, 0.0, 1.0))
    section = 100.0 * 80.0 - 60.0 * 60.0
    assert silhouette((solid,), front).area == pytest.approx(section, rel=1e-6)
    assert silhouette((solid,), ABOVE).area == pytest.approx(200.0 * 100.0, rel=1e-6)
    assert cut_of_body((solid,), 40.0).area == pytest.approx(section, rel=1e-6)
    assert cut_of_body((solid,), 200.0).is_empty


def test_a_hollow_in_a_mesh_stays_hollow_and_an_open_one_is_a_stroke() -> None:
    tube = trimesh.creation.annulus(r_min=40.0, r_max=50.0, height=100.0, sections=720)
    turned = trimesh.transformations.rotation_matrix(math.pi / 2, [0, 1, 0])
    tube.apply_transform(turned)
    solid = Solid(mesh_hull(Mesh(tube.vertices, tube.faces)))
    assert cut_of_body((solid,), 10.0).area == pytest.approx(math.pi * (50.0**2 - 40.0**2), rel=1e-4)
    box_ = box_mesh((0, 0, 0), (9, 9, 9))
    open_hull = mesh_hull(Mesh(box_.points, np.delete(box_.faces, [4, 5], axis=0)))
    assert 0.0 < cut_of_body((Solid(open_hull),), 4.0).area < 36.0
