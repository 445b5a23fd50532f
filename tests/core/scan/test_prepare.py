"""A scan made ready: joined, in mm, its holes, islands and roughness told."""

from pathlib import Path

import numpy as np
import pytest
import trimesh

from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.progress import Step, finish
from floorpan.scan.prepare import facing_up_share, flipped, prepare
from floorpan.scan.quality import describe
from floorpan.scan.read import RawScan, read_scan
from floorpan.scan.writers import write_ply
from made_up_sheets import cube, globe, joined, sheet, tunnel_floor, without


def raw_of(mesh: Mesh, folder: Path) -> RawScan:
    write_ply(mesh, folder / "made.ply")
    return finish(read_scan(folder / "made.ply"))


def test_a_floor_with_a_window(tmp_path: Path) -> None:
    """In inches: a sheet of 40 x 20 with a window of 4 x 2 and a flake beside it."""
    floor = joined(without(sheet(40, 20, 1.0), (-2, -1), (2, 1)), sheet(2, 2, 1.0, low=(30, 0)))
    steps: list[Step] = []
    ready = finish(prepare(raw_of(floor, tmp_path), "in"), steps.append)
    assert ready.facts.size_mm == pytest.approx((52 * 25.4, 20 * 25.4, 0.0))
    assert ready.facts.islands == 2
    assert ready.facts.holes == 1
    assert ready.facts.holes_mm2 == pytest.approx(8 * 25.4**2)
    assert ready.facts.longest_hole_mm == pytest.approx(20**0.5 * 25.4)
    assert ready.facts.triangles == len(floor.faces)
    assert ready.facts.flipped_edges == ready.facts.non_manifold_edges == ready.facts.collapsed == 0
    assert [step.done for step in steps] == sorted(step.done for step in steps)


def test_loose_triangles_are_joined(shared_data: Path) -> None:
    raw = finish(read_scan(shared_data / "scans_mesh" / "foot_reference.stl"))
    ready = finish(prepare(raw, "mm"))
    assert len(raw.mesh.points) == 3 * len(raw.mesh.faces)
    assert len(ready.mesh.points) == 4199
    assert trimesh.Trimesh(ready.mesh.points, ready.mesh.faces, process=False).is_watertight
    assert ready.facts.holes == 0
    assert len(ready.unseen.rims) == 0


def test_faces_that_collapse_are_left_out_and_told(tmp_path: Path) -> None:
    """Two points that are one only to the last bit: a needle with area before, none once joined in mm."""
    mesh = sheet(100, 100, 10.0)
    points = np.vstack([mesh.points, mesh.points[0]])
    faces = np.vstack([mesh.faces, [[0, len(mesh.points), 1]]]).astype(np.int32)
    raw = raw_of(mesh, tmp_path)
    spoilt = RawScan(**{name: getattr(raw, name) for name in raw.__slots__} | {"mesh": Mesh(points, faces)})  # type: ignore[arg-type]
    ready = finish(prepare(spoilt, "mm"))
    assert ready.facts.collapsed == 1
    assert len(ready.mesh.faces) == len(mesh.faces)


def test_roughness_is_told(tmp_path: Path) -> None:
    raw = raw_of(tunnel_floor(4.0, noise=0.3), tmp_path)
    assert describe(raw).noise_mm == pytest.approx(0.3, rel=0.15)
    assert finish(prepare(raw, "mm")).rough.sigma_mm == describe(raw, "mm").noise_mm


def test_facts_of_real_scans(shared_data: Path) -> None:
    """Triangles, size and islands as the data's own notes give them."""
    facts = describe(finish(read_scan(shared_data / "scans_depthcam/depthcam_three_cylinders.ply")), "mm")
    assert facts.triangles == 83869
    assert facts.points == 42968
    assert facts.islands == 3
    assert facts.size_mm == pytest.approx((931.508, 706.69, 1049.0), abs=1e-3)
    assert facts.holes > 0
    assert facts.noise_mm > 0.0


def test_the_proposed_unit_is_taken_where_none_is_given(shared_data: Path) -> None:
    raw = finish(read_scan(shared_data / "scans_mesh/boot_metres.obj"))
    assert describe(raw).size_mm == pytest.approx((307.0, 202.3, 110.3), abs=1.0)
    assert describe(raw, "in").size_mm[0] == pytest.approx(0.307 * 25.4, abs=0.1)


def test_an_unknown_unit_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadValue):
        finish(prepare(raw_of(cube(), tmp_path), "furlong"))


def test_which_way_a_floor_faces() -> None:
    floor = tunnel_floor(20.0)
    assert facing_up_share(floor, Pose()) == pytest.approx(1.0)
    assert facing_up_share(flipped(floor), Pose()) == pytest.approx(0.0)
    assert facing_up_share(floor, Pose.turned((1, 0, 0), 180.0)) == pytest.approx(0.0, abs=1e-9)
    assert facing_up_share(globe(), Pose()) == pytest.approx(0.5, abs=1e-6)


def test_turned_over_twice_is_as_it_was() -> None:
    floor = tunnel_floor(40.0)
    assert np.array_equal(flipped(flipped(floor)).faces, floor.faces)
