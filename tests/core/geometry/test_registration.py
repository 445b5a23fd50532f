"""Surfaces laid on each other: known motions come back, and moves that a shape leaves open are told.

The shapes are closed forms, so which moves they leave open is known: a plane two slides and a turn, a prismatic tunnel
one slide, a cylinder a slide and a turn, a ball three turns (N. Gelfand et al., 3DIM 2003, table 1).
"""

from collections.abc import Callable

import numpy as np
import pytest

from floorpan.frames import STILL, Pose
from floorpan.geometry.local_planes import Neighbourhoods, spread_out
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.registration import SurfaceMatch, match_surfaces
from floorpan.progress import finish
from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import simulate_scan

Shape = Callable[[Floats, Floats], tuple[Floats, Floats, Floats]]


def sheet(shape: Shape, *, noise_mm: float = 0.0, seed: int = 1, step_mm: float = 4.0) -> Mesh:
    u, v = np.meshgrid(np.arange(0.0, 600.0, step_mm), np.arange(0.0, 400.0, step_mm), indexing="ij")
    points = np.stack(shape(u, v), axis=-1).reshape(-1, 3)
    points = points + noise_mm * np.random.default_rng(seed).standard_normal(points.shape)
    number = np.arange(u.size).reshape(u.shape)
    a, b, c, d = (
        part.ravel() for part in (number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:])
    )
    return Mesh(points, np.vstack([np.column_stack([a, b, c]), np.column_stack([a, c, d])]).astype(np.int32))


def plane(u: Floats, v: Floats) -> tuple[Floats, Floats, Floats]:
    return u, v, np.zeros_like(u)


def tunnel(u: Floats, v: Floats) -> tuple[Floats, Floats, Floats]:
    return u, v, 120.0 * np.exp(-(((v - 200.0) / 70.0) ** 4))


def cylinder(u: Floats, v: Floats) -> tuple[Floats, Floats, Floats]:
    return u, 100.0 * np.sin(v / 100.0 - 2.0), 100.0 * np.cos(v / 100.0 - 2.0)


def ball(u: Floats, v: Floats) -> tuple[Floats, Floats, Floats]:
    p, q = 2.0 * (u / 600.0 - 0.5), 1.6 * (v / 400.0 - 0.5)
    return 200.0 * np.sin(p) * np.cos(q), 200.0 * np.sin(q), 200.0 * np.cos(p) * np.cos(q)


def stepped(u: Floats, v: Floats) -> tuple[Floats, Floats, Floats]:
    """The tunnel with a cross-member beside it, whose walls face fore and aft."""
    x, y, z = tunnel(u, v)
    return x, y, z + np.where(v < 120.0, 60.0 * np.exp(-(((u - 300.0) / 40.0) ** 4)), 0.0)


def laid(fixed: Mesh, moved: Mesh, start: Pose = STILL, **how: float) -> SurfaceMatch:
    match = finish(match_surfaces(fixed, moved, start, **how))
    assert match is not None
    return match


@pytest.fixture(scope="module")
def floor() -> Mesh:
    scan = simulate_scan(CarSizes(), 1, with_seats=False, spacing_mm=9.0)
    return Mesh(scan.in_car(), scan.faces)


@pytest.mark.parametrize("seed", range(5))
def test_a_known_motion_comes_back_to_the_ninth_digit(floor: Mesh, seed: int) -> None:
    draws = np.random.default_rng(seed)
    middle = floor.bounds.mean(axis=0)
    turn = Pose.turned(tuple(draws.standard_normal(3)), float(draws.uniform(0.5, 3.0)), tuple(middle))
    motion = turn.after(Pose(shift_mm=tuple(draws.uniform(-8.0, 8.0, 3))))
    match = laid(floor, floor.moved(motion.inverse().matrix()), radius_mm=18.0)
    assert match.loose == ()
    corners = floor.bounds
    assert np.abs(match.pose.apply(motion.inverse().apply(corners)) - corners).max() < 1e-9
    assert match.rms_mm < 1e-9
    assert match.settled


@pytest.mark.parametrize(
    ("shape", "slides", "turns"),
    [
        (plane, [(1, 0, 0), (0, 1, 0)], [(0, 0, 1)]),
        (tunnel, [(1, 0, 0)], []),
        (cylinder, [(1, 0, 0)], [(1, 0, 0)]),
        (ball, [], [(1, 0, 0), (0, 1, 0), (0, 0, 1)]),
        (stepped, [], []),
    ],
)
@pytest.mark.parametrize("noise_mm", [0.0, 0.3])
def test_the_moves_a_shape_leaves_open_are_told(
    shape: Shape, slides: list[object], turns: list[object], noise_mm: float
) -> None:
    match = laid(
        sheet(shape, noise_mm=noise_mm),
        sheet(shape, noise_mm=noise_mm, seed=2),
        Pose(shift_mm=(0.2, 0.3, 0.4)),
    )
    for kind, wanted in (("slide", slides), ("turn", turns)):
        told = np.array([way.along for way in match.loose if way.kind == kind]).reshape(-1, 3)
        known = np.array(wanted, dtype=float).reshape(-1, 3)
        assert len(told) == len(known)
        # The ways told span the ways known, whichever of them the library gave.
        assert np.abs(told - told @ known.T @ known).max(initial=0.0) < 0.05


def test_a_move_that_is_left_open_stays_as_it_was_at_the_start() -> None:
    start = Pose(shift_mm=(7.0, 0.6, 0.4))
    match = laid(sheet(tunnel, noise_mm=0.2), sheet(tunnel, noise_mm=0.2, seed=2), start)
    x, y, z = match.pose.shift_mm
    assert abs(x - 7.0) < 0.2
    assert abs(y) < 0.3
    assert abs(z) < 0.1


def test_roughness_is_averaged_away_and_what_is_left_covers_the_truth(floor: Mesh) -> None:
    """Two noisy scans of the same car, the truth known: two times what is left covers the middle and the corners."""
    other = simulate_scan(CarSizes(), 2, with_seats=False, spacing_mm=9.0)
    match = laid(floor, Mesh(other.in_car(), other.faces), Pose(shift_mm=(4.0, -3.0, 2.0)), radius_mm=18.0)
    off = match.pose.apply(floor.bounds) - floor.bounds
    assert np.linalg.norm(off, axis=1).max() < 2.0 * match.rms_mm
    assert match.places > 0.9 * match.offered


def test_surfaces_that_lie_nowhere_together_are_not_matched() -> None:
    assert finish(match_surfaces(sheet(plane), sheet(tunnel), Pose(shift_mm=(0.0, 0.0, 500.0)))) is None


def test_a_back_is_not_laid_on_a_front() -> None:
    front = sheet(tunnel)
    back = Mesh(front.points, front.faces[:, ::-1])
    assert finish(match_surfaces(front, back)) is None


def test_a_plane_through_level_points_is_level_and_in_their_middle() -> None:
    planes = Neighbourhoods(sheet(plane), 10.0).planes(np.array([50 * 100 + 50]))
    np.testing.assert_allclose(planes.normal, [[0.0, 0.0, 1.0]], atol=1e-12)
    np.testing.assert_allclose(planes.centre, [[200.0, 200.0, 0.0]], atol=1e-9)


def test_places_that_are_spread_out_share_no_cube() -> None:
    points = np.random.default_rng(3).uniform(-50.0, 50.0, (5000, 3))
    chosen = points[spread_out(points, 20.0)]
    assert len(np.unique(np.floor(chosen / 20.0), axis=0)) == len(chosen) == 6**3
