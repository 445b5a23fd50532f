"""Every mesh and point file of the shared data folder: what is read from it and what is left out, or how it is refused.

Counts and sizes are those that the data's own notes give for each file, found with a general library (trimesh); where
the notes have none, the line says where its figure is from.
"""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

import numpy as np
import pytest
import trimesh

from floorpan.errors import UnreadableScan
from floorpan.geometry.normals import face_areas
from floorpan.progress import finish
from floorpan.scan import RawScan, read_scan
from floorpan.scan.readers.parsed import CUT_OFF, LOOSE, NO_AREA, NOT_NUMBERS, TOO_FEW
from shared_data import ABSENT, FOLDER

# Measurements of people, and the notes on all of it.
NO_SCANS = ("anthropometry", "SOURCES.md", "manifest.json")


@dataclass(frozen=True, slots=True)
class Read:
    """What a file gives.

    longest : the largest side in file units, as printed to three places
    like  : what trimesh agrees with: every row of the triangles to the last bit, their area where faces of more than
            three corners may be cut along another diagonal, or nothing where it reads the file worse or not at all
    """

    triangles: int
    longest: float
    dropped: dict[str, int] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    like: Literal["rows", "area", "none"] = "rows"


@dataclass(frozen=True, slots=True)
class Cloud:
    """Points without triangles."""

    points: int
    longest: float
    note: str


@dataclass(frozen=True, slots=True)
class Refused:
    """A fault by its code, with words that its sentence holds."""

    code: str
    words: str


FILES: dict[str, Read | Cloud | Refused] = {
    "scans_mesh/boot_metres.obj": Read(39906, 0.307),
    "scans_mesh/demosthenes-low-res.obj": Read(16719, 2.694),
    # 11036 and 35079 as stored, of which the notes call 3 and 7 degenerate.
    "scans_mesh/exhaust_part.stl": Read(11033, 12.06, {NO_AREA: 3}, like="area"),
    "scans_mesh/sfm_birdBath.ply": Read(35072, 308.239, {NO_AREA: 7}, like="area"),
    "scans_mesh/foot_reference.stl": Read(8394, 270.942),
    "scans_mesh/hammer.obj": Read(60160, 8.246),
    "scans_mesh/open_heightfield_surface.stl": Read(5131, 40.888),
    "scans_mesh/sfm_owl.ply": Read(24407, 199.469),
    "scans_mesh/sfm_seaVase.ply": Read(35483, 448.961),
    "scans_mesh/wavy_mesh_with_hole.ply": Read(1347, 10.5),
    "scans_depthcam/depthcam_boxes_and_cylinders.ply": Read(84151, 1075.0),
    "scans_depthcam/depthcam_stacked_boxes.ply": Read(81824, 912.204),
    "scans_depthcam/depthcam_three_cylinders.ply": Read(83869, 1049.0),
    "scans_depthcam/depthcam_two_round_objects.ply": Read(84890, 1033.0),
    "scans_points/lidar_parked_cars.ply": Cloud(10031, 6.68, "10\u2009031 points and no triangle"),
    "cups/food_can.obj": Read(15728, 0.102),
    "cups/squeeze_bottle.obj": Read(15728, 0.192),
    "car_interior/utv_b_no_cage_mm.ply": Read(4862, 2616.09),
    "bad_meshes/StarWithEmptyHeader.stl": Read(68, 3.0),
    "bad_meshes/box_UTF16BE.obj": Read(12, 1.0, like="area"),
    # The library cuts the hollow polygon as a fan, over its own rim.
    "bad_meshes/concave_polygon.obj": Read(64, 1.485, like="none"),
    "bad_meshes/cube_bad.stl": Read(12, 1.0),
    "bad_meshes/cube_binary_header_with_RN_newline.ply": Read(12, 1.0),
    # 4 as stored; one names a point twice, and its sixth point is the corner of none.
    "bad_meshes/deg_faces.obj": Read(3, 1.148, {NO_AREA: 1, LOOSE: 1}, like="area"),
    "bad_meshes/derived_big_endian.ply": Read(24407, 199.469),
    "bad_meshes/derived_mixed_line_ends.stl": Read(2444, 41.72),
    # 73387 bytes: a head of 84, 1466 triangles of 50 and a piece of one, of 2444 in the whole file.
    "bad_meshes/derived_truncated_binary.stl": Read(
        1466,
        41.72,
        {CUT_OFF: 978},
        ("This file ends in the middle of a triangle. 1\u2009466 were read.",),
        like="none",
    ),
    "bad_meshes/empty.stl": Refused("no-triangles", "no triangle"),
    "bad_meshes/fan3.obj": Read(3, 6.0),
    "bad_meshes/fixed_top.ply": Read(4772, 120.003),
    # Four facets in the text, one of them with four corners: two triangles.
    "bad_meshes/fourVertices.ascii.stl": Read(5, 1.0, like="none"),
    "bad_meshes/huge_units.obj": Read(576, 50800.0),
    # It counts 66; 284 bytes are a head of 84 and 4 triangles of 50.
    "bad_meshes/incorrectFaceCounter.bin.stl": Read(
        4, 1.0, {CUT_OFF: 62}, ("This file counts 66 triangles. 4 were read.",), like="none"
    ),
    "bad_meshes/inf_nan.obj": Refused("no-triangles", f"3 {NOT_NUMBERS}"),
    # Two faces, of one corner and of two.
    "bad_meshes/invalid-face-definition.obj": Refused("no-triangles", f"2 {TOO_FEW}"),
    # It names point 0 where points count from one; point 12 of 8 and a point twice in a row as well.
    "bad_meshes/malformed.obj": Refused("point-zero", "point 0"),
    # Four facets in the text; the library gives none.
    "bad_meshes/missingEndsolid.ascii.stl": Read(4, 1.0, like="none"),
    # Twisted quads, so that the area hangs on the diagonal.
    "bad_meshes/moebius.obj": Read(448, 39.57, like="none"),
    "bad_meshes/multibody.stl": Read(32, 1.088),
    "bad_meshes/nancolor.obj": Read(12, 1.0),
    "bad_meshes/negative_indices.obj": Read(12, 2.0, like="area"),
    "bad_meshes/non_manifold_wrap.obj": Read(12, 2.0),
    "bad_meshes/notANumberNormal.ascii.stl": Read(4, 1.0),
    "bad_meshes/obj_slashes_only.obj": Read(88, 2.0),
    "bad_meshes/points_emptyface.ply": Cloud(1024, 265.507, "1\u2009024 points and no triangle"),
    # A bent pentagon: three triangles however it is cut, but the area hangs on the cut.
    "bad_meshes/polygonfaces.obj": Read(3, 1000.0, like="none"),
    "bad_meshes/single_triangle_no_normal.stl": Read(1, 1.0),
    "bad_meshes/soup.stl": Read(100, 0.997),
    "bad_meshes/triangle_with_empty_solid.stl": Read(1, 2.0),
    "bad_meshes/triangulation_trap.obj": Read(28, 3.0, like="area"),
    "bad_meshes/unit_cube.STL": Read(12, 1.0),
    "bad_meshes/wrongHeader.bin.stl": Read(12, 100.0),
}


@pytest.mark.parametrize("name", FILES)
def test_it_is_read_as_told_or_refused(shared_data: Path, name: str) -> None:
    expected = FILES[name]
    if isinstance(expected, Refused):
        with pytest.raises(UnreadableScan, match=expected.words) as told:
            finish(read_scan(shared_data / name))
        assert told.value.code == expected.code
        assert told.value.remedy
        return
    raw = finish(read_scan(shared_data / name))
    mesh = raw.mesh
    assert np.isfinite(mesh.points).all()
    assert np.ptp(mesh.bounds, axis=0).max() == pytest.approx(expected.longest, abs=6e-4)
    assert raw.points_only == isinstance(expected, Cloud)
    if isinstance(expected, Cloud):
        assert len(mesh.points) == expected.points
        assert raw.dropped == {}
        (note,) = raw.notes
        assert expected.note in note
        return
    assert len(mesh.faces) == expected.triangles
    assert raw.dropped == expected.dropped
    assert raw.notes == expected.notes
    assert mesh.faces.min() == 0
    assert mesh.faces.max() == len(mesh.points) - 1
    agrees_with_another_library(raw, shared_data / name, expected.like)


def agrees_with_another_library(raw: RawScan, path: Path, like: str) -> None:
    if like == "none":
        return
    theirs = trimesh.load(path, process=False, force="mesh")
    assert raw.mesh.bounds == pytest.approx(theirs.bounds)
    assert len(raw.mesh.faces) + raw.dropped.get(NO_AREA, 0) == len(theirs.faces)
    if like == "rows":
        assert np.array_equal(raw.mesh.points[raw.mesh.faces], theirs.vertices[theirs.faces])
    assert face_areas(raw.mesh).sum() == pytest.approx(theirs.area, rel=1e-9)


def test_no_file_is_forgotten() -> None:
    if not FOLDER.is_dir():
        pytest.skip(ABSENT)
    found = (path.relative_to(FOLDER) for path in FOLDER.rglob("*") if path.is_file())
    assert {path.as_posix() for path in found if path.parts[0] not in NO_SCANS} == FILES.keys()
