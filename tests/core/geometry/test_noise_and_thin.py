"""Roughness against noise that was put in; its bound against simulation; thinning against what it promises."""

from pathlib import Path

import numpy as np
import pytest

from floorpan.frames import Pose
from floorpan.geometry.edges import edges
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.noise import noise_bound_mm, noise_sigma_mm, roughness
from floorpan.geometry.solids import ball, box
from floorpan.geometry.surface import Surface
from floorpan.geometry.thin import deviation, thin
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import bent, body, sheet, tunnel_floor, without


def rough(mesh: Mesh, sigma: float, seed: int = 0) -> Mesh:
    points = mesh.points.copy()
    points[:, 2] += np.random.default_rng(seed).normal(0.0, sigma, len(points))
    return Mesh(points, mesh.faces)


@pytest.mark.parametrize("sigma", [0.05, 0.1, 0.2, 0.5])
@pytest.mark.parametrize("step", [2.0, 4.0])
def test_white_noise_on_a_curved_sheet(sigma: float, step: float) -> None:
    """A trough of radius 150 to 300; within 15 % of the noise put in."""
    trough = bent(sheet(200, 200, step), lambda x, y: x * x / 300.0 + y * y / 600.0)
    assert noise_sigma_mm(rough(trough, sigma)) == pytest.approx(sigma, rel=0.15)


def test_ribs_and_a_tunnel_spoil_few_patches() -> None:
    assert noise_sigma_mm(tunnel_floor(3.0, noise=0.4)) == pytest.approx(0.4, rel=0.15)


def test_a_smooth_sheet_is_smooth() -> None:
    assert noise_sigma_mm(sheet(100, 100, 2.0)) < 1e-9
    assert noise_sigma_mm(sheet(20, 20, 10.0)) == 0.0


def test_roughness_follows_the_unit(shared_data: Path) -> None:
    mesh = weld(finish(read_scan(shared_data / "scans_mesh/sfm_owl.ply")).mesh).mesh
    grown = Mesh(mesh.points * 10.0, mesh.faces)
    assert noise_sigma_mm(grown) == pytest.approx(10.0 * noise_sigma_mm(mesh))


@pytest.mark.parametrize(
    ("kind", "sigma", "step"),
    [("flat", 0.2, 2.0), ("flat", 0.5, 2.0), ("ball", 0.2, 2.0), ("ball", 0.5, 2.0)],
)
def test_how_far_a_least_distance_falls_short(kind: str, sigma: float, step: float) -> None:
    """Simulated: a flat part of 240 x 240, 10 above a rough sheet, and a ball of radius 22 as high.

    The bound must cover what happened in nearly all runs without being far above the mean.
    """
    flat = sheet(300, 300, step)
    part = body(box([-120, -120, 10], [120, 120, 60]) if kind == "flat" else ball([0, 0, 32], 22.0))
    short = [10.0 - Surface(rough(flat, sigma, seed)).gap(part).distance_mm for seed in range(12)]
    bound = noise_bound_mm(sigma, kind)  # type: ignore[arg-type]
    assert np.mean(short) > 0.0
    assert np.mean(np.array(short) <= bound * 1.02) >= 0.9
    assert np.mean(short) > 0.4 * bound


class TestThinning:
    def test_fewer_faces_rim_kept_and_the_deviation_told(self) -> None:
        mesh = without(tunnel_floor(3.0), (100, 100), (140, 140))
        thinned, off = thin(mesh, 8000)
        assert 7000 < len(thinned.faces) <= 8400
        rim = {tuple(p) for p in mesh.points[np.unique(edges(mesh).open_pairs)]}
        kept = {tuple(p) for p in np.round(thinned.points[np.unique(edges(thinned).open_pairs)], 6)}
        assert kept == {tuple(np.round(p, 6)) for p in rim}
        assert 0.0 < off.mean_mm < off.p99_mm < off.worst_mm < 1.0
        assert off.whole

    def test_the_deviation_is_the_distance_both_ways(self) -> None:
        """A sheet 2 above another: 2 everywhere. A bump that only one of them has counts from its side."""
        one = sheet(100, 100, 10.0)
        other = Mesh(one.points + np.array([0.0, 0, 2.0]), one.faces)
        off = deviation(one, other)
        assert (off.mean_mm, off.p99_mm, off.worst_mm) == pytest.approx((2.0, 2.0, 2.0))
        bump = one.points.copy()
        bump[60, 2] = 9.0
        assert deviation(one, Mesh(bump, one.faces)).worst_mm == pytest.approx(9.0)

    def test_a_small_mesh_comes_back_as_it_is(self) -> None:
        mesh = sheet()
        assert thin(mesh, 10**6)[0] is mesh

    def test_far_from_the_origin(self) -> None:
        mesh = tunnel_floor(5.0)
        far = Mesh(mesh.points + 1e6, mesh.faces)
        _, off = thin(far, 4000)
        assert off.worst_mm < 2.0


def test_roughness_is_told_place_by_place() -> None:
    """White noise, one half three times as rough as the other; what was put in comes out at each middle."""
    mesh = sheet(300.0, 300.0, 3.0)
    points = mesh.points.copy()
    sigma = np.where(points[:, 0] < 0.0, 0.1, 0.3)
    points[:, 2] += sigma * np.random.default_rng(4).standard_normal(len(points))
    found = roughness(Mesh(points, mesh.faces))
    assert found.at(np.array([-90.0, 0.0, 0.0])) == pytest.approx(0.1, rel=0.2)
    assert found.at(np.array([90.0, 0.0, 0.0])) == pytest.approx(0.3, rel=0.2)
    move = Pose.turned((0.0, 0.0, 1.0), 180.0)
    assert found.moved(move).at(np.array([90.0, 0.0, 0.0])) == pytest.approx(0.1, rel=0.2)
