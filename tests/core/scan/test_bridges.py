"""Bridges over holes of known surfaces: a plane, a ridge, a dome; and of an open data set's wavy sheet."""

import math
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from floorpan.errors import BadValue, NoSuchThing, WrongStep
from floorpan.geometry.edges import boundary_loops, edges
from floorpan.geometry.holes import unseen_patches
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_normals
from floorpan.geometry.surface import Surface
from floorpan.progress import finish
from floorpan.scan.bridges import SEEN, Bridge, bridge_holes, hole_for
from floorpan.scan.prepare import prepare
from floorpan.scan.read import read_scan

Floats = NDArray[np.float64]
RADIUS_MM = 200.0


def height_of(kind: str, x: Floats, y: Floats) -> Floats:
    """Closed forms: a plane, a cylinder along y, a ball's top."""
    if kind == "plane":
        return 0.1 * x
    square = x**2 if kind == "ridge" else x**2 + y**2
    return np.asarray(np.sqrt(RADIUS_MM**2 - square) - RADIUS_MM)


def holed(kind: str, *holes: tuple[float, float, float]) -> Mesh:
    """A sheet 160 mm square with round holes (x, y, radius) whose rims lie on the surface."""
    side = np.linspace(-80.0, 80.0, 81)
    x, y = np.meshgrid(side, side, indexing="ij")
    n = np.arange(x.size).reshape(x.shape)
    a, b, c, d = n[:-1, :-1], n[1:, :-1], n[1:, 1:], n[:-1, 1:]
    faces = np.concatenate([np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)])
    points = np.column_stack([x.ravel(), y.ravel(), height_of(kind, x, y).ravel()])
    keep = np.ones(len(faces), dtype=bool)
    for at_x, at_y, radius in holes:
        inside = np.hypot(points[:, 0] - at_x, points[:, 1] - at_y) < radius
        keep &= ~inside[faces].any(axis=1)
    return Mesh(points, faces.astype(np.int32)).kept(keep)


def off_true(kind: str, mesh: Mesh, mask: NDArray[np.bool_]) -> float:
    """How far faces of a mask lie off the true surface, straight up, looked at in 15 places of each."""
    share = np.array([(i, j, 4 - i - j) for i in range(5) for j in range(5 - i)]) / 4.0
    at = np.einsum("sk,tkx->tsx", share, mesh.points[mesh.faces[mask]]).reshape(-1, 3)
    return float(np.abs(at[:, 2] - height_of(kind, at[:, 0], at[:, 1])).max())


@pytest.mark.parametrize("shape", ["flat", "curved"])
@pytest.mark.parametrize(("kind", "most_mm"), [("plane", 1e-9), ("ridge", 3.5), ("dome", 3.5)])
def test_a_bridge_closes_its_hole_and_tells_how_far_it_may_be_off(
    kind: str, most_mm: float, shape: str
) -> None:
    mesh = holed(kind, (5.0, -3.0, 20.0))
    unseen = unseen_patches(mesh)
    (hole,) = unseen.holes
    made = Bridge(
        id="bridge-1", at_mm=(5.0, -3.0, 0.0), longest_mm=60.0, shape="flat" if shape == "flat" else "curved"
    )
    found = bridge_holes(mesh, unseen, [made])
    assert found.missed == ()
    assert (found.mesh.faces[: len(mesh.faces)] == mesh.faces).all()
    assert (found.bridge_of_face[: len(mesh.faces)] == SEEN).all()
    assert found.bridged.sum() == len(found.mesh.faces) - len(mesh.faces) > 0
    # Nothing but the outer rim is open, and the bridge faces as the sheet around it.
    assert len(boundary_loops(found.mesh)) == 1
    assert edges(found.mesh).flipped == 0
    assert edges(found.mesh).non_manifold == 0
    # Along a straight run of the rim the cut leaves slivers that stand upright; none looks down.
    up = face_normals(found.mesh)[found.bridged][:, 2]
    assert up.min() > -1e-6
    assert np.median(up) > 0.9
    assert found.unseen.holes == ()
    assert len(found.unseen.patches.faces) == 0
    # Closed form: what it says it may be off by holds, and is no scare.
    off = off_true(kind, found.mesh, found.bridged)
    (u,) = found.u_mm
    sagitta = 0.0 if kind == "plane" else RADIUS_MM - math.sqrt(RADIUS_MM**2 - (hole.longest_mm / 2) ** 2)
    assert off <= u + 1e-9
    assert u <= max(most_mm, 1e-9)
    if shape == "curved":
        assert off < 0.1 * sagitta + 1e-9
    elif kind == "dome":
        # The rim of a hole in a dome lies nearly level: only the sagitta tells what the patch cuts off.
        # The rim runs between 20 mm, the hole's own radius, and half its longest span.
        assert 0.98 * (RADIUS_MM - math.sqrt(RADIUS_MM**2 - 20.0**2)) < off <= sagitta


def test_holes_are_closed_only_on_request_and_each_by_its_own_point() -> None:
    mesh = holed("dome", (-40.0, 0.0, 8.0), (40.0, 0.0, 8.0), (0.0, 50.0, 20.0))
    unseen = unseen_patches(mesh)
    assert len(unseen.holes) == 3
    nothing = bridge_holes(mesh, unseen, [])
    assert nothing.mesh is mesh
    assert nothing.unseen is unseen
    assert not nothing.near_bridge(np.zeros((1, 3)), 1000.0).any()
    two = [
        Bridge(id="bridge-1", at_mm=(-40.0, 0.0, -4.0), shape="curved"),
        Bridge(id="bridge-2", at_mm=(43.0, 1.0, -4.0), shape="curved"),
        Bridge(id="bridge-3", at_mm=(40.0, 0.0, -4.0)),
    ]
    found = bridge_holes(mesh, unseen, two)
    assert found.ids == ("bridge-1", "bridge-2")
    assert set(found.bridge_of_face.tolist()) == {SEEN, 0, 1}
    assert len(boundary_loops(found.mesh)) == 2
    x = found.mesh.points[found.mesh.faces].mean(axis=1)[:, 0]
    assert (x[found.bridge_of_face == 0] < 0.0).all()
    assert (x[found.bridge_of_face == 1] > 0.0).all()
    assert off_true("dome", found.mesh, found.bridged) < 0.05
    (left,) = found.unseen.holes
    assert left.longest_mm == max(hole.longest_mm for hole in unseen.holes)
    assert set(found.unseen.patch_of_face.tolist()) == {0}
    places = np.array([[-40.0, 0.0, -4.0], [-40.0, 15.0, -4.0], [0.0, 0.0, 0.0]])
    assert found.near_bridge(places, 5.0).tolist() == [True, False, False]
    assert found.near_bridge(places, 12.0).tolist() == [True, True, False]


def test_a_wide_hole_is_not_bridged() -> None:
    mesh = holed("plane", (0.0, 0.0, 30.0))
    unseen = unseen_patches(mesh)
    wide = Bridge(id="bridge-1", at_mm=(0.0, 0.0, 0.0))
    with pytest.raises(WrongStep) as refused:
        hole_for(unseen, wide)
    assert refused.value.code == "hole-too-wide"
    with pytest.raises(NoSuchThing) as missing:
        hole_for(unseen, Bridge(id="bridge-2", at_mm=(0.0, 0.0, 200.0)))
    assert missing.value.code == "no-hole-there"
    found = bridge_holes(mesh, unseen, [wide, Bridge(id="bridge-2", at_mm=(0.0, 0.0, 200.0))])
    assert found.mesh is mesh
    assert [(one.id, one.code) for one in found.missed] == [
        ("bridge-1", "hole-too-wide"),
        ("bridge-2", "no-hole-there"),
    ]
    with pytest.raises(NoSuchThing):
        hole_for(unseen_patches(holed("plane")), wide)
    with pytest.raises(BadValue):
        Bridge(id="bridge-1", at_mm=(math.inf, 0.0, 0.0))


def test_a_hole_that_bends_back_gets_a_flat_bridge() -> None:
    # Two round holes run together: from their middle the rim is not seen all round.
    mesh = holed(
        "plane", (-9.0, 0.0, 10.0), (9.0, 0.0, 10.0), (0.0, 9.0, 10.0), (-9.0, 20.0, 10.0), (-9.0, 34.0, 8.0)
    )
    unseen = unseen_patches(mesh)
    made = Bridge(id="bridge-1", at_mm=(0.0, 0.0, 0.0), longest_mm=100.0, shape="curved")
    found = bridge_holes(mesh, unseen, [made])
    assert len(found.mesh.points) == len(mesh.points)
    assert len(boundary_loops(found.mesh)) == 1


def test_the_hole_of_a_wavy_sheet(shared_data: Path) -> None:
    # wavy_mesh_with_hole.ply of the Noether test meshes (Apache-2.0), taken as cm.
    ready = finish(prepare(finish(read_scan(shared_data / "scans_mesh/wavy_mesh_with_hole.ply", "cm")), "cm"))
    hole = ready.unseen.holes[0]
    x, y, z = hole.line.mean(axis=0).tolist()
    loops = len(boundary_loops(ready.mesh))
    for shape in ("flat", "curved"):
        made = Bridge(
            id="bridge-1", at_mm=(x, y, z), longest_mm=100.0, shape="flat" if shape == "flat" else "curved"
        )
        found = bridge_holes(ready.mesh, ready.unseen, [made])
        assert found.ids == ("bridge-1",)
        assert len(boundary_loops(found.mesh)) == loops - 1
        assert found.u_mm[0] > 0.0


def test_holes_punched_in_a_real_scene_are_bridged_within_what_is_told(shared_data: Path) -> None:
    # A depth-camera scene of the Object Segmentation Database (BSD-3-Clause): what was taken out is the truth.
    ready = finish(
        prepare(finish(read_scan(shared_data / "scans_depthcam/depthcam_three_cylinders.ply", "mm")), "mm")
    )
    mesh = ready.mesh
    middle = mesh.points[mesh.faces].mean(axis=1)
    places: list[Floats] = []
    for at in middle[np.random.default_rng(1).choice(len(middle), 200, replace=False)]:
        if all(float(np.linalg.norm(at - other)) > 70.0 for other in places):
            places.append(at)
    gone = np.min([np.linalg.norm(middle - at, axis=1) for at in places], axis=0) < 12.0
    holed_scene = mesh.kept(~gone)
    unseen = unseen_patches(holed_scene)
    wanted = [
        Bridge(id=str(k), at_mm=(float(x), float(y), float(z)), longest_mm=48.0)
        for k, (x, y, z) in enumerate(places)
    ]
    found = bridge_holes(holed_scene, unseen, wanted)
    assert len(found.ids) > 30
    held = 0
    for number, (id, u_mm) in enumerate(zip(found.ids, found.u_mm, strict=True)):
        lost = gone & (np.linalg.norm(middle - places[int(id)], axis=1) < 12.0)
        patch = Surface(found.mesh.kept(found.bridge_of_face == number), floor=False)
        off = np.abs(patch.signed(mesh.points[np.unique(mesh.faces[lost])]).distance_mm)
        held += bool(off.max() <= u_mm)
    assert held / len(found.ids) >= 0.95
