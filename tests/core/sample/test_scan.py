"""The simulated scan: exact before noise, holed where it says, the same every time."""

import hashlib
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose, assert_array_equal

from core.sample.conftest import COARSE_MM
from floorpan.sample.build import build_car
from floorpan.sample.car import Car
from floorpan.sample.lost import black_patches
from floorpan.sample.meshes import parts
from floorpan.sample.plan import CarSizes
from floorpan.sample.scanner import MOST_DRIFT_MM, NOISE_SIGMA_MM, Scan, moved, seen_surface, simulate_scan
from floorpan.sample.surface import Surface, cross
from floorpan.sample.targets import PICK_SIGMA_MM, picked_targets, targets

SIZES = CarSizes()
MIRROR = np.array((1.0, -1.0, 1.0))


@pytest.fixture(scope="module")
def surface() -> Surface:
    return seen_surface(SIZES, with_seats=True, spacing_mm=COARSE_MM)[0]


def part_sizes(scan: Scan) -> np.ndarray:
    """Faces of every part of the scan."""
    count = np.bincount(parts(len(scan.points), scan.faces)[scan.faces[:, 0]])
    return count[count > 0]


def outward_share(car: Car, points: np.ndarray, faces: np.ndarray) -> float:
    """The share of faces that look along the distance's gradient in their middle, as the union itself gives it."""
    area = cross(points, faces)
    middle = points[faces].mean(axis=1)
    step = 0.01
    uphill = [car.distance(middle + step * axis) - car.distance(middle - step * axis) for axis in np.eye(3)]
    return float(np.mean(np.sum(area * np.stack(uphill, axis=1), axis=1) > 0.0))


def test_before_noise_every_point_is_on_the_car_and_every_face_looks_out(surface: Surface, car: Car) -> None:
    assert np.abs(car.distance(surface.points)).max() < 1e-6
    assert outward_share(car, surface.points, surface.faces) > 0.999
    assert_allclose(np.linalg.norm(surface.normals, axis=1), 1.0, atol=1e-9)


def test_the_scan_has_as_many_triangles_as_a_handheld_one(scan: Scan) -> None:
    assert 250_000 <= len(scan.faces) <= 350_000
    assert_array_equal(np.unique(scan.faces), np.arange(len(scan.points)))
    a, b, c = scan.faces.T
    assert not ((a == b) | (b == c) | (c == a)).any()


def test_the_scan_is_off_by_its_noise_and_drift_and_no_more(scan: Scan, car: Car) -> None:
    part = parts(len(scan.points), scan.faces)
    count = np.bincount(part[scan.faces[:, 0]], minlength=len(scan.points))
    away = car.distance(scan.in_car()[count[part] > 60])
    # Noise lies along the ray, so at most all of it square to the surface; the largest of 160,000 draws is near
    # 4.6 sigma.
    assert np.abs(away).max() < MOST_DRIFT_MM + 5.5 * NOISE_SIGMA_MM
    assert 0.5 * NOISE_SIGMA_MM < away.std() < 1.5 * NOISE_SIGMA_MM
    # Neighbours share their drift: over many it leaves a mean that white noise of this many draws would not.
    x, y, _ = scan.in_car()[count[part] > 60].T
    places = [
        away[(abs(x - at) < 40.0) & (abs(y - 12.0) < 40.0)].mean() for at in (-150.0, 50.0, 480.0, 900.0)
    ]
    assert np.ptp(places) > 0.02


def test_the_scan_shows_no_underside_and_nothing_outside(scan: Scan) -> None:
    low, high = scan.in_car().min(axis=0), scan.in_car().max(axis=0)
    assert (low > (SIZES.front_x_mm, -SIZES.half_width_mm, -2.0)).all()
    assert (high < (SIZES.rear_x_mm + 10.0, SIZES.half_width_mm, SIZES.roof_line_z_mm)).all()


@pytest.mark.parametrize("side", ["left", "right"])
def test_black_patches_hold_no_point_and_are_ringed_by_points(side: str, scan: Scan) -> None:
    sizes = replace(SIZES, driver_side=side)
    points = scan.in_car() * (MIRROR if side == "right" else 1.0)
    tunnel = build_car(sizes).labelled(only=["tunnel"])
    on_tunnel = points[np.abs(tunnel.distance(points)) < 1.5]
    for patch in black_patches(sizes):
        assert patch.distance(points).min() > 0.0
        near = on_tunnel[patch.distance(on_tunnel) < 20.0]
        across, along, _ = patch.placement.local(near)
        quadrants = {(bool(u > 0.0), bool(v > 0.0)) for u, v in zip(across, along, strict=True)}
        assert len(quadrants) == 4
    flank = black_patches(sizes)[0].bounds()
    assert flank[0, 0] < 425.0
    assert flank[1, 0] > 515.0
    assert np.sign(flank[0, 1]) == np.sign(flank[1, 1]) == sizes.passenger_sign


def test_shadows_leave_holes_under_the_seats_and_behind_the_dash(scan: Scan) -> None:
    x, y, z = scan.in_car().T
    for h_point in (SIZES.driver_h_point_mm, SIZES.passenger_h_point_mm):
        under = (np.abs(x - 500.0) < 100.0) & (np.abs(y - h_point[1]) < 120.0) & (z < 20.0)
        assert not under.any()
    assert not ((x < -200.0) & (z > 440.0)).any()
    seen_floor = (np.abs(x) < 100.0) & (np.abs(np.abs(y) - 380.0) < 40.0) & (z < 3.0)
    assert seen_floor.sum() > 300


def test_the_scraps_in_the_air_are_as_many_as_told_and_stay_at_the_sides(scan: Scan, car: Car) -> None:
    sizes = part_sizes(scan)
    assert 6 <= scan.specks <= 10
    assert np.count_nonzero(sizes <= 60) == scan.specks
    assert sizes.min() >= 5
    assert sizes[sizes > 60].min() >= 150
    part = parts(len(scan.points), scan.faces)
    count = np.bincount(part[scan.faces[:, 0]], minlength=len(scan.points))
    floating = scan.in_car()[count[part] <= 60]
    assert np.abs(floating[:, 1]).min() > 220.0
    assert car.distance(floating).min() > 10.0


def digest(scan: Scan) -> str:
    return hashlib.sha256(scan.points.tobytes() + scan.faces.tobytes() + scan.pose.tobytes()).hexdigest()


def test_the_same_seed_gives_the_same_scan_and_another_seed_another(coarse_scan: Scan) -> None:
    again = simulate_scan(SIZES, seed=1, spacing_mm=COARSE_MM)
    assert digest(again) == digest(coarse_scan)
    other = simulate_scan(SIZES, seed=2, spacing_mm=COARSE_MM)
    assert digest(other) != digest(coarse_scan)
    assert np.abs(other.pose - coarse_scan.pose).max() > 1.0


def test_right_hand_drive_is_scanned_as_the_mirror_image(coarse_scan: Scan) -> None:
    sizes = replace(SIZES, driver_side="right")
    right = simulate_scan(sizes, seed=1, spacing_mm=COARSE_MM)
    assert_allclose(right.in_car(), coarse_scan.in_car() * MIRROR, atol=1e-9)
    assert np.linalg.det(right.pose[:3, :3]) == pytest.approx(1.0)
    assert outward_share(build_car(sizes), right.in_car(), right.faces) > 0.99


def test_without_seats_the_floor_under_them_is_seen() -> None:
    bare = simulate_scan(SIZES, seed=1, with_seats=False, spacing_mm=COARSE_MM)
    x, y, z = bare.in_car().T
    under = (np.abs(x - 500.0) < 100.0) & (np.abs(y - SIZES.driver_h_point_mm[1]) < 120.0) & (z < 3.0)
    assert under.sum() > 200


def test_the_pose_is_rigid_and_turned_about_all_axes(scan: Scan) -> None:
    turn = scan.pose[:3, :3]
    assert_allclose(turn @ turn.T, np.eye(3), atol=1e-12)
    assert np.linalg.det(turn) == pytest.approx(1.0)
    assert_array_equal(scan.pose[3], (0.0, 0.0, 0.0, 1.0))
    assert np.degrees(np.arccos((np.trace(turn) - 1.0) / 2.0)) > 6.0
    assert np.abs(scan.pose[:3, 3]).min() > 100.0


def test_picks_are_off_by_the_picking_error(scan: Scan) -> None:
    named = targets(SIZES)
    picks = [picked_targets(scan, SIZES, seed) for seed in range(40)]
    assert all(list(pick) == list(named) for pick in picks)
    in_car = np.stack([moved(np.array(tuple(pick.values())), scan.pose) for pick in picks])
    off = in_car - np.array(tuple(named.values()))
    # 840 draws: their standard deviation is within 2.5 % of sigma, one sigma; four of those are allowed.
    assert off.std() == pytest.approx(PICK_SIGMA_MM, rel=0.1)
    assert picked_targets(scan, SIZES, 3) == picks[3]
