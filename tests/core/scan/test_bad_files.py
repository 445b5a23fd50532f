"""Every file of the bad meshes: what is expected of each, told beforehand."""

from pathlib import Path

import numpy as np
import pytest

from floorpan.errors import FloorpanError, UnreadableScan
from floorpan.progress import finish
from floorpan.scan.read import read_scan
from floorpan.scan.readers.parsed import CUT_OFF, LOOSE, NO_AREA, NOT_NUMBERS, TOO_FEW, WRONG_POINT
from shared_data import ABSENT, FOLDER

# Triangles, largest side in file units, what was left out. Counts and sizes as the data's own notes give them.
READABLE: dict[str, tuple[int, float, dict[str, int]]] = {
    "StarWithEmptyHeader.stl": (68, 3.0, {}),
    "box_UTF16BE.obj": (12, 1.0, {}),
    "concave_polygon.obj": (64, 1.485, {}),
    "cube_bad.stl": (12, 1.0, {}),
    "cube_binary_header_with_RN_newline.ply": (12, 1.0, {}),
    "deg_faces.obj": (3, 1.148, {NO_AREA: 1, LOOSE: 1}),
    "derived_big_endian.ply": (24407, 199.469, {}),
    "derived_mixed_line_ends.stl": (2444, 41.72, {}),
    # 60 % of 2444 triangles: 1466 whole ones.
    "derived_truncated_binary.stl": (1466, 41.72, {CUT_OFF: 978}),
    "fan3.obj": (3, 6.0, {}),
    "fixed_top.ply": (4772, 120.003, {}),
    # One facet of four corners becomes two triangles.
    "fourVertices.ascii.stl": (5, 1.0, {}),
    "huge_units.obj": (576, 50800.0, {}),
    # It counts 66 and holds 4.
    "incorrectFaceCounter.bin.stl": (4, 1.0, {CUT_OFF: 62}),
    # Point numbers 12 and 0 are not there; a face names point 8 twice in a row.
    "malformed.obj": (7, 1.0, {WRONG_POINT: 2, NO_AREA: 1}),
    "missingEndsolid.ascii.stl": (4, 1.0, {}),
    "moebius.obj": (448, 39.57, {}),
    "multibody.stl": (32, 1.088, {}),
    "nancolor.obj": (12, 1.0, {}),
    "negative_indices.obj": (12, 2.0, {}),
    "non_manifold_wrap.obj": (12, 2.0, {}),
    "notANumberNormal.ascii.stl": (4, 1.0, {}),
    "obj_slashes_only.obj": (88, 2.0, {}),
    "polygonfaces.obj": (2, 1000.0, {LOOSE: 1}),
    "single_triangle_no_normal.stl": (1, 1.0, {}),
    "soup.stl": (100, 0.997, {}),
    "triangle_with_empty_solid.stl": (1, 2.0, {}),
    "triangulation_trap.obj": (28, 3.0, {}),
    "unit_cube.STL": (12, 1.0, {}),
    "wrongHeader.bin.stl": (12, 100.0, {}),
}
POINTS = "points_emptyface.ply"
UNREADABLE: dict[str, tuple[type[FloorpanError], str]] = {
    "empty.stl": (UnreadableScan, "no triangle"),
    "inf_nan.obj": (UnreadableScan, NOT_NUMBERS),
    "invalid-face-definition.obj": (UnreadableScan, TOO_FEW),
}


@pytest.mark.parametrize("name", READABLE)
def test_what_can_be_read_is(shared_data: Path, name: str) -> None:
    triangles, largest, dropped = READABLE[name]
    raw = finish(read_scan(shared_data / "bad_meshes" / name))
    assert len(raw.mesh.faces) == triangles
    assert np.ptp(raw.mesh.bounds, axis=0).max() == pytest.approx(largest, abs=6e-4)
    assert raw.dropped == dropped
    assert np.isfinite(raw.mesh.points).all()
    assert raw.mesh.faces.min() >= 0
    assert raw.mesh.faces.max() < len(raw.mesh.points)


def test_points_without_triangles_are_read_as_points(shared_data: Path) -> None:
    raw = finish(read_scan(shared_data / "bad_meshes" / POINTS))
    assert raw.points_only
    assert len(raw.mesh.points) == 1024
    assert "1\u2009024 points and no triangle" in raw.notes[-1]


@pytest.mark.parametrize("name", UNREADABLE)
def test_what_cannot_is_said(shared_data: Path, name: str) -> None:
    kind, words = UNREADABLE[name]
    with pytest.raises(kind, match=words) as told:
        finish(read_scan(shared_data / "bad_meshes" / name))
    assert told.value.remedy


def test_no_file_is_forgotten() -> None:
    if not FOLDER.is_dir():
        pytest.skip(ABSENT)
    there = {path.name for path in (FOLDER / "bad_meshes").iterdir()}
    assert there == READABLE.keys() | UNREADABLE.keys() | {POINTS}


@pytest.mark.parametrize("name", ["sfm_owl.ply", "boot_metres.obj", "exhaust_part.stl"])
@pytest.mark.parametrize("seed", range(6))
def test_any_file_cut_or_spoilt_gives_a_mesh_or_one_clear_fault(
    shared_data: Path, tmp_path: Path, name: str, seed: int
) -> None:
    """Cut anywhere, or with bytes turned at random."""
    random = np.random.default_rng(seed)
    data = bytearray((shared_data / "scans_mesh" / name).read_bytes()[:60_000])
    if seed % 2:
        data = data[: int(random.integers(0, len(data)))]
    else:
        for at in random.integers(0, len(data), 40):
            data[at] = int(random.integers(0, 256))
    spoilt = tmp_path / name
    spoilt.write_bytes(data)
    try:
        raw = finish(read_scan(spoilt))
    except FloorpanError as fault:
        told = fault.what and fault.remedy
    else:
        told = np.isfinite(raw.mesh.points).all() and raw.mesh.faces.max(initial=0) < len(raw.mesh.points)
    assert told
