"""Normals, colours from values, isolines and stand-ins of meshes."""

import numpy as np
import pytest

from app.viewport import made_up_cabin as cabin
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.solids import ball
from floorpan_app.viewport.rounded import skin_of
from floorpan_app.viewport.surfaces import (
    STAND_IN_TRIANGLES,
    Shading,
    coloured,
    isolines,
    rgb,
    set_colours,
    smooth_normals,
    stand_in,
    surface,
)

WHITE, GREY, BLACK = ("#" + two * 3 for two in ("FF", "80", "00"))
PALE = "#EBF3ED"


def grid(count: int = 21) -> Mesh:
    x, y = np.meshgrid(np.linspace(0, 100, count), np.linspace(0, 100, count), indexing="ij")
    points = np.column_stack([x.ravel(), y.ravel(), np.zeros(count * count)])
    here = np.arange(count * count).reshape(count, count)
    a, b, c, d = here[:-1, :-1].ravel(), here[1:, :-1].ravel(), here[1:, 1:].ravel(), here[:-1, 1:].ravel()
    return Mesh(points, np.concatenate([np.stack([a, b, c], axis=1), np.stack([a, c, d], axis=1)]))


def test_normals_of_a_ball_point_outward() -> None:
    skin = skin_of(ball([0, 0, 0], 50.0))
    normals = smooth_normals(Mesh(skin.points, skin.faces))
    used = np.unique(skin.faces)
    alike = np.einsum("ij,ij->i", normals[used], skin.points[used] / 50.0)
    assert alike.min() > 0.99


def test_a_point_without_a_face_has_a_normal_all_the_same() -> None:
    mesh = Mesh(np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0], [9, 9, 9.0]]), np.array([[0, 1, 2]]))
    assert smooth_normals(mesh)[3] == pytest.approx((0.0, 0.0, 1.0))


def test_colours_run_straight_between_the_stops_and_hold_beyond_them() -> None:
    shading = Shading(
        values=np.array([-5.0, 0.0, 10.0, 20.0, 30.0, 99.0, np.nan]),
        stops=(BLACK, GREY, WHITE),
        least=0.0,
        greatest=40.0,
        unknown=GREY,
    )
    assert coloured(shading)[:, 0].tolist() == [0, 0, 64, 128, 192, 255, 128]


def test_isolines_lie_where_the_value_is_met() -> None:
    mesh = grid()
    radius = np.hypot(mesh.points[:, 0], mesh.points[:, 1])
    pieces = isolines(mesh, radius, (60.0,))
    # A quarter circle: chords of a 5 mm grid fall short of the arc by less than the square of 5 over 8 radii.
    assert np.hypot(pieces[..., 0], pieces[..., 1]) == pytest.approx(60.0, abs=0.1)
    length = np.linalg.norm(pieces[:, 1] - pieces[:, 0], axis=1).sum()
    assert length == pytest.approx(np.pi / 2 * 60.0, rel=2e-3)


def test_no_isoline_runs_through_what_is_not_known() -> None:
    mesh = grid()
    values = mesh.points[:, 0].copy()
    values[mesh.points[:, 1] > 50.0] = np.nan
    pieces = isolines(mesh, values, (52.0,))
    assert pieces[..., 1].max() == pytest.approx(50.0)
    assert isolines(mesh, values, (500.0,)).shape == (0, 2, 3)


def test_a_stand_in_is_small_and_near() -> None:
    scan, _ = cabin.floor_and_patches(150_000)
    coarse = stand_in(surface(scan.points, scan.faces, smooth_normals(scan)))
    assert 0.3 * STAND_IN_TRIANGLES < coarse.n_cells < 2.0 * STAND_IN_TRIANGLES
    points = np.asarray(coarse.points)
    inner = (points[:, 0] > 120.0) & (points[:, 0] < 1250.0) & (np.abs(points[:, 1]) < 560.0)
    away = points[inner, 2] - cabin.height(points[inner, 0], points[inner, 1])
    assert np.abs(away).max() < 12.0


def test_a_colour_is_read_as_shares() -> None:
    assert rgb(GREY) == pytest.approx((128 / 255,) * 3)


def test_a_stand_in_keeps_the_colours_as_whole_numbers() -> None:
    """Averages of colours are fractions; drawn as they come they turn a pale scan black."""
    scan, _ = cabin.floor_and_patches(150_000)
    shape = surface(scan.points, scan.faces, smooth_normals(scan))
    shading = Shading(
        values=np.zeros(len(scan.points)), stops=(PALE, BLACK), least=0.0, greatest=8.0, unknown=GREY
    )
    set_colours(shape, coloured(shading))
    given = stand_in(shape).GetPointData().GetScalars()
    assert given.GetDataTypeAsString() == "unsigned char"
    assert [given.GetComponent(7, k) for k in range(3)] == [0xEB, 0xF3, 0xED]
