"""Room to a scanned part: never above exact distances, and not far below them."""

import math

import numpy as np
import pytest
import trimesh

from core.sample_case import sample_case
from core.small_case import level_floor
from floorpan.advice.knob_limits import KnobLimit
from floorpan.advice.laid_points import LONGEST_EDGE_MM, faces_near, laid_over
from floorpan.advice.sampled_limit import lost_mm
from floorpan.advice.scan_limit import SPACING_MM, TOLD_MM, scan_limit
from floorpan.frames import Floats, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.surface import Surface
from floorpan.progress import finish

RADIUS = 70.0
MOST_LOST = 2.0 * lost_mm(SPACING_MM) + LONGEST_EDGE_MM / math.sqrt(3.0)
LOW, HIGH = (-200.0, -200.0, -200.0), (200.0, 200.0, 200.0)


def limit_of(mesh: Mesh, low: Vector = LOW, high: Vector = HIGH, radius: float = RADIUS) -> KnobLimit:
    limit = finish(scan_limit("dash", mesh, low, high, radius))
    assert limit is not None
    return limit


def places(number: int, low: Vector = LOW, high: Vector = HIGH, seed: int = 3) -> Floats:
    return np.random.default_rng(seed).uniform(low, high, (number, 3))


def held(told: Floats, gap: Floats) -> None:
    """Never more than the gap; as much less as is promised at most, of gaps up to TOLD_MM."""
    assert (told <= gap + 1e-9).all()
    assert (told >= np.minimum(gap, TOLD_MM) - MOST_LOST - 1e-9).all()


def test_the_promise_is_what_the_words_say() -> None:
    assert abs(MOST_LOST - 18.5) < 0.05


@pytest.mark.parametrize("cells", [4, 40, 200])
def test_over_a_level_floor_the_gap_is_the_height(cells: int) -> None:
    """Closed form, with triangles of 350, 35 and 7 mm."""
    at = places(4000, (-200.0, -200.0, 0.0))
    told = limit_of(level_floor(cells=cells)).margin(at)
    gap = at[:, 2] - RADIUS
    held(told, gap)
    # Over a flat wall half is lost: what the laid points and the samples are off by cannot both come together.
    near = gap < TOLD_MM
    assert (told[near] >= gap[near] - 0.75 * MOST_LOST).all()


@pytest.mark.parametrize("deep_mm", [10.0, 120.0, 190.0])
def test_under_the_middle_of_a_floor_everything_is_filled(deep_mm: float) -> None:
    at = places(500, (-150.0, -150.0, -deep_mm), (150.0, 150.0, -deep_mm))
    told = limit_of(level_floor(cells=70)).margin(at)
    assert (told <= -RADIUS + 1e-9).all()


def test_about_a_box_the_gap_is_the_distance_to_a_box() -> None:
    """Closed form about faces, edges and corners of a box; inside is filled."""
    half = np.array([60.0, 80.0, 50.0])
    box = trimesh.creation.box(2.0 * half)
    at = places(6000)
    beyond = np.abs(at) - half
    away = np.linalg.norm(np.maximum(beyond, 0.0), axis=1)
    told = limit_of(Mesh(box.vertices, box.faces)).margin(at)
    outside = away > 0.0
    held(told[outside], away[outside] - RADIUS)
    assert (told[~outside] <= -RADIUS + lost_mm(SPACING_MM)).all()


def test_about_the_edge_of_an_open_sheet_nothing_is_behind() -> None:
    """The sheet ends at x = 0; beyond that the distance is the one to its edge, above and below alike."""
    sheet = level_floor(half_mm=300.0, cells=60).moved(
        np.array([[1.0, 0, 0, -300.0], [0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]])
    )
    limit = limit_of(sheet)
    beside = places(4000, (0.0, -100.0, -200.0))
    away = np.hypot(beside[:, 0], beside[:, 2])
    told = limit.margin(beside)
    assert (told <= away - RADIUS + 1e-9).all()
    # Far enough from what is filled behind the sheet.
    free = beside[:, 2] > -0.5 * beside[:, 0]
    held(told[free], away[free] - RADIUS)
    inward = np.array([[-150.0, 0.0, -60.0], [-120.0, 40.0, -150.0]])
    assert (limit.margin(inward) <= -RADIUS + 1e-9).all()


def test_no_hand_near_is_no_limit() -> None:
    far = level_floor().moved(np.array([[1.0, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, -900.0], [0, 0, 0, 1]]))
    assert finish(scan_limit("floor", far, LOW, HIGH, RADIUS)) is None


def test_a_tiny_part_beside_the_box_still_counts() -> None:
    tiny = trimesh.creation.icosphere(subdivisions=2, radius=6.0)
    centre = np.array([260.0, 0.0, 0.0])
    limit = limit_of(Mesh(tiny.vertices + centre, tiny.faces))
    at = places(3000)
    there = trimesh.Trimesh(tiny.vertices + centre, tiny.faces)
    _, away, _ = trimesh.proximity.closest_point_naive(there, at)
    held(limit.margin(at), away - RADIUS)


def test_room_changes_no_faster_than_the_limit_says() -> None:
    """What is skipped between voxels rests on it: pairs of places, near the sheet, its edge and what is filled."""
    limit = limit_of(level_floor(half_mm=120.0, cells=20))
    one = places(20_000)
    other = one + np.random.default_rng(4).normal(0.0, 3.0, one.shape)
    change = np.abs(limit.margin(one) - limit.margin(other))
    assert (change <= limit.steepness * np.linalg.norm(one - other, axis=1) + 1e-6).all()


def test_the_scanned_dash_of_the_sample_against_exact_distances() -> None:
    """Against the exact signed distance to every triangle, in a box as the hand's about the sample's knob."""
    case = sample_case(1)
    bench = case.bench()
    finish(bench.make_floors(case.layout))
    dash = next(area for area in bench.scene(case.layout).areas() if area.kind == "dash")
    low, high = (53.0, -214.0, 255.0), (558.0, 243.0, 672.0)
    limit = limit_of(dash.surface.mesh, low, high)
    at = places(3000, low, (250.0, 243.0, 672.0))
    exact = Surface(dash.surface.mesh, floor=False).signed(at)
    ahead = exact.distance_mm > 0.0
    assert ahead.sum() > 1000
    held(limit.margin(at)[ahead], exact.distance_mm[ahead] - RADIUS)


def test_what_is_cut_off_a_surface_makes_no_rim() -> None:
    """Only triangles near the box are laid; the cut through the sheet is far from any place that is asked."""
    floor = level_floor(cells=100)
    box = np.full(3, -100.0), np.full(3, 100.0)
    laid = laid_over(floor, faces_near(floor, *box))
    inside = (np.abs(laid.points) <= 100.0).all(axis=1)
    assert inside.any()
    assert laid.rim.any()
    assert not laid.rim[inside].any()
    assert np.allclose(laid.normals, [0.0, 0.0, 1.0])


def test_no_place_of_a_triangle_is_far_from_a_laid_point() -> None:
    """Of all triangles with edges no longer, the middle of one with three such edges is furthest from its corners."""
    mesh = level_floor(half_mm=150.0, cells=3)
    laid = laid_over(mesh, np.arange(len(mesh.faces)))
    at, _ = trimesh.sample.sample_surface(trimesh.Trimesh(mesh.points, mesh.faces), 3000, seed=1)
    away = np.linalg.norm(at[:, None] - laid.points[None], axis=2).min(axis=1)
    assert away.max() <= LONGEST_EDGE_MM / math.sqrt(3.0)
