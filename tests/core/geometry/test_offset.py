"""Covers: against planes, cylinders and steps in closed form, and against distances worked out by another library."""

import math

import igl
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.geometry.heights import HeightGrid
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.offset import aside_mm, gap_over_cover, up_mm
from floorpan.geometry.offset_heights import offset_heights, offset_profile, sheet_of
from floorpan.geometry.offset_line import offset_line
from floorpan.geometry.solids import Solid, ball
from floorpan.geometry.surface import Surface
from floorpan.progress import finish

Floats = NDArray[np.float64]


def sheet(x: Floats, y: Floats, z: Floats) -> Mesh:
    """A grid of points (NX, NY) as a mesh facing up."""
    n = np.arange(x.size).reshape(x.shape)
    a, b, c, d = n[:-1, :-1], n[1:, :-1], n[1:, 1:], n[:-1, 1:]
    faces = np.concatenate([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    return Mesh(np.column_stack([x.ravel(), y.ravel(), z.ravel()]), faces.astype(np.int32))


def rolled(profile: Floats) -> Mesh:
    """A profile (N, 2) of x and z drawn out along y from -100 to 100 mm."""
    y = np.linspace(-100.0, 100.0, 5)
    x = np.repeat(profile[:, :1], 5, axis=1)
    return sheet(x, np.repeat(y[None], len(profile), axis=0), np.repeat(profile[:, 1:], 5, axis=1))


def covered(mesh: Mesh, thick_mm: float, cell_mm: float = 2.0, wide_mm: float = 60.0) -> HeightGrid:
    """Heights with a cover of one thickness over a window about the origin."""
    window = np.array([wide_mm, 20.0])
    return finish(offset_heights(mesh, np.full(len(mesh.faces), thick_mm), -window, window, cell_mm))


@pytest.mark.parametrize(
    ("slope_deg", "printed"), [(0.0, "12.0"), (30.0, "13.9"), (45.0, "17.0"), (60.0, "24.0"), (70.0, "35.1")]
)
def test_twelve_mm_of_carpet_measured_down_a_panel(slope_deg: float, printed: str) -> None:
    # Trade table for 12 mm, worked out as t / cos: common practice, to the printed digit.
    assert f"{up_mm(12.0, slope_deg):.1f}" == printed
    # And the height field finds the same over a sloping floor: t / cos(slope) over the bare one.
    rise = math.tan(math.radians(slope_deg))
    mesh = rolled(np.array([[-200.0, -200.0 * rise], [200.0, 200.0 * rise]]))
    over = covered(mesh, 12.0)
    x, _ = over.centres()
    assert over.z - x * rise == pytest.approx(np.full(over.z.shape, up_mm(12.0, slope_deg)), abs=1e-9)
    if slope_deg > 0.0:
        assert aside_mm(12.0, slope_deg) == pytest.approx(12.0 / math.sin(math.radians(slope_deg)))


@pytest.mark.parametrize(("slope_deg", "code"), [(90.0, "slope-too-steep"), (-1.0, "slope-too-steep")])
def test_upright_has_no_height(slope_deg: float, code: str) -> None:
    with pytest.raises(BadValue) as refused:
        up_mm(12.0, slope_deg)
    assert refused.value.code == code


def test_level_has_no_width() -> None:
    with pytest.raises(BadValue) as refused:
        aside_mm(12.0, 0.0)
    assert refused.value.code == "slope-too-flat"


@pytest.mark.parametrize(("sign", "radius_mm"), [(1.0, 100.0), (-1.0, 100.0)])
def test_over_a_cylinder_the_cover_is_a_cylinder(sign: float, radius_mm: float) -> None:
    # Closed form: radius + t over a ridge, radius - t in a valley. The mesh is inscribed, its facets stand
    # R (1 - cos(half step)) inside the ridge at most, so the cover is off by that much and no more.
    turn = np.linspace(-math.pi / 2.05, math.pi / 2.05, 801)
    profile = radius_mm * np.column_stack([np.sin(turn), sign * np.cos(turn)])
    facet = radius_mm * (1.0 - math.cos((turn[1] - turn[0]) / 2.0))
    over = covered(rolled(profile), 12.0, wide_mm=70.0)
    x, _ = over.centres()
    away = np.hypot(x, over.z)
    assert away == pytest.approx(np.full(away.shape, radius_mm + sign * 12.0), abs=facet + 1e-9)


def test_over_a_step_the_cover_ends_in_a_quarter_round() -> None:
    # Closed form: up to the wall 34 + t, over the lower floor a quarter round of radius t, beyond it t.
    mesh = rolled(np.array([[-200.0, 34.0], [0.0, 34.0], [0.0, 0.0], [200.0, 0.0]]))
    over = covered(mesh, 12.0, cell_mm=1.0)
    x, _ = over.centres()
    round_end = 34.0 + np.sqrt(np.maximum(144.0 - x**2, 0.0))
    true = np.where(x < 0.0, 46.0, np.where(x < 12.0, round_end, 12.0))
    assert over.z == pytest.approx(true, abs=1e-9)


def test_a_thicker_cover_ends_over_a_thinner_one() -> None:
    mesh = rolled(np.array([[-200.0, 0.0], [0.0, 0.0], [200.0, 0.0]]))
    left = mesh.points[mesh.faces].mean(axis=1)[:, 0] < 0.0
    for thin in (0.0, 5.0):
        over = finish(
            offset_heights(
                mesh, np.where(left, 12.0, thin), np.array([-40.0, -20.0]), np.array([40.0, 20.0]), 1.0
            )
        )
        x, _ = over.centres()
        true = np.where(x < 0.0, 12.0, np.maximum(np.sqrt(np.maximum(144.0 - x**2, 0.0)), thin))
        assert over.z == pytest.approx(true, abs=1e-9)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_every_point_of_a_cover_is_just_its_thickness_away(seed: int) -> None:
    # Distances by libigl, on a rough floor with a step and three thicknesses: the nearest of (distance - thickness)
    # over the areas is nought all over the cover.
    random = np.random.default_rng(seed)
    x, y = np.meshgrid(np.arange(24) * 5.0, np.arange(24) * 5.0, indexing="ij")
    z = random.normal(0.0, 2.0, x.shape) + 20.0 * np.sin(x / 40.0) + (x > 60.0) * 25.0
    mesh = sheet(x + random.normal(0, 0.8, x.shape), y + random.normal(0, 0.8, x.shape), z)
    middle = mesh.points[mesh.faces].mean(axis=1)
    thick = np.where(middle[:, 1] > 60.0, 12.0, np.where(middle[:, 0] > 80.0, 5.0, 0.0))
    window = np.array([-20.0, -20.0]), np.array([140.0, 140.0])
    over = finish(offset_heights(mesh, thick, *window, 3.0, beyond=True))
    gx, gy = over.centres()
    known = np.isfinite(over.z)
    points = np.column_stack([gx[known], gy[known], over.z[known]])
    left = np.full(len(points), np.inf)
    for one in np.unique(thick):
        part = mesh.kept(thick == one)
        square = igl.point_mesh_squared_distance(points, part.points, part.faces)[0]
        left = np.minimum(left, np.sqrt(square) - one)
    assert np.abs(left).max() < 1e-6
    inside = finish(offset_heights(mesh, thick, *window, 3.0))
    bare = HeightGrid.over(mesh, *window, 3.0)
    assert (np.isnan(inside.z) == np.isnan(bare.z)).all()


@pytest.mark.parametrize("heading_deg", [0.0, 30.0, 90.0, 200.0])
def test_a_section_of_a_slope_carries_its_cover_whichever_way_it_is_cut(heading_deg: float) -> None:
    # Closed form: t / cos(slope) straight up over the floor, also where the floor slopes across the section.
    rise = math.tan(math.radians(60.0))
    mesh = rolled(np.array([[-200.0, -200.0 * rise], [200.0, 200.0 * rise]]))
    way = 70.0 * np.array([math.cos(math.radians(heading_deg)), math.sin(math.radians(heading_deg))])
    line = finish(offset_profile(mesh, np.full(len(mesh.faces), 12.0), -way, way, 3.0))
    assert line[0, :2] == pytest.approx(-way)
    assert line[-1, :2] == pytest.approx(way)
    assert np.linalg.norm(np.diff(line[:, :2], axis=0), axis=1).max() <= 3.0 + 1e-9
    assert line[:, 2] - line[:, 0] * rise == pytest.approx(np.full(len(line), 24.0), abs=1e-9)


def test_a_section_over_a_step_and_past_the_floors_end() -> None:
    mesh = rolled(np.array([[-200.0, 34.0], [0.0, 34.0], [0.0, 0.0], [200.0, 0.0]]))
    line = finish(
        offset_profile(
            mesh, np.full(len(mesh.faces), 12.0), np.array([-50.5, 5.0]), np.array([249.5, 5.0]), 1.0
        )
    )
    x = line[:, 0]
    round_end = 34.0 + np.sqrt(np.maximum(144.0 - x**2, 0.0))
    true = np.where(x < 0.0, 46.0, np.where(x < 12.0, round_end, 12.0))
    on_floor = x < 199.5
    assert line[on_floor, 2] == pytest.approx(true[on_floor], abs=1e-9)
    assert np.isnan(line[x > 200.5, 2]).all()


def test_a_sheet_of_a_height_field_has_its_corners_and_faces_up() -> None:
    z = np.array([[0.0, 1.0, 2.0], [0.0, np.nan, 2.0], [0.0, 1.0, 2.0], [5.0, 6.0, 7.0]])
    mesh = sheet_of(HeightGrid(np.array([10.0, 20.0]), 2.0, z))
    assert len(mesh.points) == 11
    assert mesh.points[0].tolist() == [11.0, 21.0, 0.0]
    assert len(mesh.faces) == 4
    a, b, c = (mesh.points[mesh.faces[:, k]] for k in range(3))
    assert (np.cross(b - a, c - a)[:, 2] > 0.0).all()


def test_a_section_line_over_a_step() -> None:
    line = np.array([[-50.0, 34.0], [0.0, 34.0], [0.0, 0.0], [50.0, 0.0]])
    found = offset_line([(line, 12.0)])
    (over,) = found.lines
    assert found.error_mm < 0.005
    assert over[0] == pytest.approx([-50.0, 46.0])
    assert over[-1] == pytest.approx([50.0, 12.0])
    assert (np.diff(over[:, 0]) > -1e-9).all()
    # Closed form of the step, within the stated error and never outside it.
    on_round = over[(over[:, 0] > 1e-9) & (over[:, 1] > 34.0)]
    away = np.linalg.norm(on_round - [0.0, 34.0], axis=1)
    assert away.max() <= 12.0 + 1e-9
    assert away.min() >= 12.0 - found.error_mm
    assert len(on_round) > 8


def test_a_section_line_with_a_bare_part() -> None:
    one, two = np.array([[-50.0, 0.0], [0.0, 0.0]]), np.array([[0.0, 0.0], [50.0, 0.0]])
    found = offset_line([(one, 12.0), (two, 0.0)])
    assert sum(float(np.abs(np.diff(line[:, 0])).sum()) for line in found.lines) == pytest.approx(
        100.0, abs=0.02
    )
    bare = min(found.lines, key=lambda line: float(line[:, 1].max()))
    assert bare[0] == pytest.approx([12.0, 0.0], abs=0.01)
    assert bare[-1] == pytest.approx([50.0, 0.0])


def test_a_section_line_the_other_way_is_covered_below() -> None:
    (over,) = offset_line([(np.array([[50.0, 0.0], [-50.0, 0.0]]), 12.0)]).lines
    assert over[:, 1] == pytest.approx(np.full(len(over), -12.0))


def test_a_dense_jagged_line_is_thinned_first_and_says_so() -> None:
    x = np.linspace(0.0, 100.0, 4001)
    line = np.column_stack([x, np.random.default_rng(1).normal(0.0, 0.005, len(x))])
    found = offset_line([(line, 12.0)], simplify_mm=0.02)
    assert found.error_mm == pytest.approx(0.02 + 12.0 * (1.0 - math.cos(math.pi / 128.0)))
    heights = np.concatenate([over[:, 1] for over in found.lines])
    assert heights == pytest.approx(np.full(len(heights), 12.0), abs=found.error_mm + 0.02)


@pytest.mark.parametrize("parts", [[(np.zeros((1, 2)), 12.0)], [(np.array([[0.0, 0.0], [1.0, 0.0]]), -1.0)]])
def test_a_section_without_a_line_is_refused(parts: list[tuple[Floats, float]]) -> None:
    with pytest.raises(BadValue) as refused:
        offset_line(parts)
    assert refused.value.code == "no-line"


@given(x=st.floats(-60.0, 60.0), thin=st.floats(0.0, 11.0), high=st.floats(20.0, 80.0))
def test_the_gap_over_areas_of_different_cover_is_the_least(x: float, thin: float, high: float) -> None:
    # Closed form: a ball over a level floor whose left half carries 12 mm, its right half less.
    flat = rolled(np.array([[-300.0, 0.0], [0.0, 0.0], [300.0, 0.0]]))
    left = flat.points[flat.faces].mean(axis=1)[:, 0] < 0.0
    halves = [(Surface(flat.kept(left)), 12.0), (Surface(flat.kept(~left)), thin)]
    body = (Solid(ball(np.zeros(3), 10.0), Pose(shift_mm=(x, 0.0, high))),)
    found = gap_over_cover(body, halves)
    over_left = math.hypot(max(x, 0.0), high) - 10.0 - 12.0
    over_right = math.hypot(max(-x, 0.0), high) - 10.0 - thin
    assert found.gap_mm == pytest.approx(min(over_left, over_right), abs=1e-6)
    assert found.gap_mm == pytest.approx(found.bare.distance_mm - found.thick_mm, abs=1e-12)
    near = gap_over_cover(body, halves, limit_mm=found.gap_mm + 1.0)
    assert near.gap_mm == pytest.approx(found.gap_mm, abs=1e-9)
    assert gap_over_cover(body, halves, limit_mm=found.gap_mm - 1.0).index == -1


def test_a_body_in_the_carpet_has_a_negative_gap() -> None:
    flat = Surface(rolled(np.array([[-300.0, 0.0], [300.0, 0.0]])))
    body = (Solid(ball(np.zeros(3), 10.0), Pose(shift_mm=(0.0, 0.0, 15.0))),)
    assert gap_over_cover(body, [(flat, 12.0)]).gap_mm == pytest.approx(-7.0)
