"""The files against a general mesh reader and against their own layout."""

import struct
from pathlib import Path

import numpy as np
import trimesh
from numpy.testing import assert_allclose, assert_array_equal

from floorpan.sample.files import write_ply, write_stl
from floorpan.sample.scanner import Scan

CORNERS = np.array(((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (0.0, 10.0, 0.0), (0.0, 0.0, 10.0)))
FACES = np.array(((0, 2, 1), (0, 1, 3), (0, 3, 2), (1, 2, 3)), dtype=np.int32)


def test_a_ply_file_byte_by_byte(tmp_path: Path) -> None:
    write_ply(tmp_path / "a.ply", CORNERS, FACES)
    header, body = (tmp_path / "a.ply").read_bytes().split(b"end_header\n")
    assert header.startswith(b"ply\nformat binary_little_endian 1.0\n")
    assert b"element vertex 4\nproperty float x\nproperty float y\nproperty float z\n" in header
    assert b"element face 4\nproperty list uchar int vertex_indices\n" in header
    assert len(body) == 4 * 12 + 4 * 13
    assert struct.unpack("<3f", body[12:24]) == (10.0, 0.0, 0.0)
    assert struct.unpack("<B3i", body[48:61]) == (3, 0, 2, 1)


def test_an_stl_file_byte_by_byte(tmp_path: Path) -> None:
    write_stl(tmp_path / "a.stl", CORNERS, FACES)
    raw = (tmp_path / "a.stl").read_bytes()
    assert len(raw) == 84 + 50 * 4
    assert not raw.startswith(b"solid")
    assert struct.unpack("<I", raw[80:84]) == (4,)
    assert struct.unpack("<12fH", raw[84:134]) == (0, 0, -1, 0, 0, 0, 0, 10, 0, 10, 0, 0, 0)


def test_a_face_without_area_is_written_with_no_normal(tmp_path: Path) -> None:
    write_stl(tmp_path / "a.stl", CORNERS, np.array(((0, 1, 1),), dtype=np.int32))
    assert struct.unpack("<3f", (tmp_path / "a.stl").read_bytes()[84:96]) == (0.0, 0.0, 0.0)


def test_another_reader_finds_the_scan_in_both_files(tmp_path: Path, coarse_scan: Scan) -> None:
    write_ply(tmp_path / "scan.ply", coarse_scan.points, coarse_scan.faces)
    write_stl(tmp_path / "scan.stl", coarse_scan.points, coarse_scan.faces)
    ply = trimesh.load_mesh(tmp_path / "scan.ply", process=False)
    assert_array_equal(ply.vertices, coarse_scan.points.astype("<f4"))
    assert_array_equal(ply.faces, coarse_scan.faces)
    stl = trimesh.load_mesh(tmp_path / "scan.stl", process=False)
    assert_array_equal(stl.vertices[stl.faces], coarse_scan.points.astype("<f4")[coarse_scan.faces])
    assert_allclose(stl.area, ply.area, rtol=1e-9)
