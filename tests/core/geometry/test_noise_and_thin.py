"""Roughness against noise that was put in; its bound against simulation."""

from pathlib import Path

import numpy as np
import pytest

from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.noise import noise_bound_mm, noise_sigma_mm, roughness
from floorpan.geometry.solids import ball, box
from floorpan.geometry.surface import Surface
from floorpan.geometry.weld import weld
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from made_up_sheets import bent, body, sheet, tunnel_floor


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
