"""A list of deeds done to a scan: what goes, what is counted, and that nothing else moves."""

from pathlib import Path

import numpy as np
import pytest

from floorpan.errors import BadValue, EmptyCrop
from floorpan.geometry.edges import edges, islands
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.weld import weld
from floorpan.progress import Step, finish
from floorpan.scan.cleaning import (
    LESS_NOISE,
    TO_A_PLACE,
    UPWARD,
    Cleaned,
    CutForeignFaces,
    DropSmallIslands,
    DropUselessFaces,
    KeepOneSheet,
    NamedIslands,
    RemoveSpikes,
    TurnFaces,
    clean_up,
)
from floorpan.scan.read import read_scan
from made_up_sheets import joined, sheet, tunnel_floor

EVERY: tuple[Cleaned, ...] = (
    DropUselessFaces(),
    CutForeignFaces(),
    RemoveSpikes(height_mm=5.0),
    DropSmallIslands(fewer_triangles=50, smaller_mm=20.0),
    TurnFaces(toward=UPWARD),
    KeepOneSheet(),
)


def real(path: Path) -> Mesh:
    return weld(finish(read_scan(path)).mesh).mesh


def raised(mesh: Mesh, height: float) -> Mesh:
    return Mesh(mesh.points + np.array([0.0, 0.0, height]), mesh.faces)


def three_islands() -> Mesh:
    return joined(
        sheet(100, 100, 10.0), sheet(30, 30, 10.0, low=(100.0, 0.0)), sheet(5, 5, 5.0, low=(0.0, 90.0))
    )


def test_nothing_to_do_gives_the_very_mesh() -> None:
    mesh = three_islands()
    assert finish(clean_up(mesh, ())).mesh is mesh
    found = finish(clean_up(mesh, (*EVERY[:3], DropSmallIslands(), TurnFaces(), KeepOneSheet())))
    assert found.mesh is mesh
    assert [sum(v for k, v in count.items() if k != "sheets") for count in found.counts] == [0] * 6


@pytest.mark.parametrize(
    ("deed", "gone", "faces"),
    [
        (DropSmallIslands(fewer_triangles=19), 2, 200),
        (DropSmallIslands(fewer_triangles=18), 1, 218),
        (DropSmallIslands(smaller_mm=30.1), 2, 200),
        (DropSmallIslands(smaller_mm=29.9), 1, 218),
        (NamedIslands(at_mm=((115.0, 16.0, 0.0),)), 1, 202),
        (NamedIslands(at_mm=((115.0, 16.0, 0.0), (1.0, 91.0, 0.0)), keep=True), 1, 20),
    ],
)
def test_islands_that_go(deed: Cleaned, gone: int, faces: int) -> None:
    found = finish(clean_up(three_islands(), (deed,)))
    assert found.counts[0]["islands left out"] == gone
    assert len(found.mesh.faces) == faces
    assert found.counts[0]["triangles left out"] == 220 - faces


def test_a_place_where_nothing_is_left_takes_nothing_else() -> None:
    """The island is gone by size already: the place on it must not name its neighbour."""
    mesh = three_islands()
    for keep in (False, True):
        named = NamedIslands(at_mm=((1.0, 91.0, 0.0),), keep=keep)
        found = finish(clean_up(mesh, (DropSmallIslands(fewer_triangles=10), named)))
        assert len(found.mesh.faces) == 218
        assert found.counts[1]["places without an island"] == 1


def test_nothing_left_is_told() -> None:
    with pytest.raises(EmptyCrop):
        finish(clean_up(three_islands(), (DropSmallIslands(smaller_mm=1000.0),)))


def test_a_spike_leaves_a_hole_and_no_patch() -> None:
    floor = tunnel_floor(5.0, noise=0.2)
    points = floor.points.copy()
    middle = int(np.argmin(np.abs(points[:, :2] - [10.0, 150.0]).sum(axis=1)))
    points[middle, 2] += 30.0
    found = finish(clean_up(Mesh(points, floor.faces), (RemoveSpikes(),)))
    assert found.counts[0]["spikes"] == 1
    assert found.counts[0]["triangles left out"] == 6
    assert len(edges(found.mesh).open_pairs) - len(edges(floor).open_pairs) == 6
    # What stays has not moved.
    assert np.array_equal(found.mesh.points, np.delete(points, middle, axis=0))


def test_deeds_are_done_in_their_order() -> None:
    floor = tunnel_floor(8.0)
    upper = raised(floor, 1.0).kept(np.arange(len(floor.faces)) < len(floor.faces) - 10)
    mesh = joined(upper, floor)
    found = finish(clean_up(mesh, (KeepOneSheet(), DropSmallIslands(fewer_triangles=20))))
    assert np.array_equal(found.mesh.points, floor.points)


def test_a_place_in_the_cabin_turns_the_roof_down() -> None:
    roof = raised(sheet(100, 100, 10.0), 900.0)
    deed = TurnFaces(toward=TO_A_PLACE, seen_from_mm=(0.0, 0.0, 400.0))
    found = finish(clean_up(joined(sheet(100, 100, 10.0), roof), (deed,)))
    assert found.counts[0] == {"triangles turned": 200, "sheets": 2}


def test_a_moebius_strip_is_told(shared_data: Path) -> None:
    found = finish(clean_up(real(shared_data / "bad_meshes" / "moebius.obj"), (TurnFaces(),)))
    assert found.counts[0]["sheets that cannot face one way"] == 1
    assert found.counts[0]["edges of the seam"] > 0


@pytest.mark.parametrize(
    "name",
    [
        "scans_mesh/sfm_seaVase.ply",
        "scans_mesh/sfm_birdBath.ply",
        "scans_depthcam/depthcam_stacked_boxes.ply",
        "car_interior/utv_b_no_cage_mm.ply",
    ],
)
def test_real_scans_come_out_clean_and_the_same_each_time(shared_data: Path, name: str) -> None:
    mesh = real(shared_data / name)
    first, again = (finish(clean_up(mesh, EVERY)) for _ in range(2))
    assert np.array_equal(first.mesh.points, again.mesh.points)
    assert np.array_equal(first.mesh.faces, again.mesh.faces)
    assert first.counts == again.counts
    found = edges(first.mesh)
    assert found.non_manifold == 0
    assert found.flipped == first.counts[4].get("edges of the seam", 0)
    left = {tuple(point) for point in first.mesh.points}
    assert left <= {tuple(point) for point in mesh.points}
    assert len(first.mesh.faces) > 0.4 * len(mesh.faces)
    assert int(islands(first.mesh).max()) <= int(islands(mesh).max())


def test_steps_never_fall_and_work_can_be_closed() -> None:
    steps: list[Step] = []
    finish(clean_up(tunnel_floor(8.0), EVERY), steps.append)
    done = [step.done for step in steps]
    assert done == sorted(done)
    assert done[-1] == 1.0
    work = clean_up(tunnel_floor(8.0), EVERY)
    next(work)
    work.close()


@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        (RemoveSpikes, {"sigmas": 1.0}),
        (RemoveSpikes, {"height_mm": float("nan")}),
        (NamedIslands, {"at_mm": ()}),
        (NamedIslands, {"at_mm": ((0.0, float("inf"), 0.0),)}),
        (TurnFaces, {"up": (0.0, 0.0, 0.0)}),
        (TurnFaces, {"toward": "sideways"}),
        (KeepOneSheet, {"within_mm": 0.0}),
        (DropSmallIslands, {"smaller_mm": -1.0}),
    ],
)
def test_what_cannot_be(kind: type, fields: dict[str, object]) -> None:
    with pytest.raises(BadValue):
        kind(**fields)
    assert KeepOneSheet(stays=LESS_NOISE) == KeepOneSheet(stays=LESS_NOISE)
