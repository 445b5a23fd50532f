"""Reading: the same shape written in every way the formats allow, and numbers another library reads."""

import hashlib
import struct
import tracemalloc
from pathlib import Path

import numpy as np
import pytest
import trimesh

from floorpan.errors import BadValue, FloorpanError, NoSurface, UnreadableScan
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import face_areas
from floorpan.geometry.weld import weld
from floorpan.progress import Step, finish
from floorpan.scan.read import RawScan, read_scan
from floorpan.scan.readers.parsed import CUT_OFF, LOOSE, NO_AREA, NO_SENSE, NOT_NUMBERS, TOO_FEW, WRONG_POINT
from floorpan.scan.writers import write_ply
from made_up_sheets import cube, tunnel_floor

TETRA = ((1, 1, 1), (-1, 1, -1), (-1, -1, 1), (1, -1, -1))
FACES = ((0, 1, 2), (0, 3, 1), (0, 2, 3), (1, 3, 2))
AREA = 8 * 3**0.5
"""Check value 9.12: this tetrahedron has the area 8 sqrt 3."""


def read(path: Path, data: bytes | str) -> RawScan:
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    return finish(read_scan(path))


def is_tetra(raw: RawScan) -> bool:
    mesh = weld(raw.mesh).mesh
    return len(mesh.points) == 4 and len(mesh.faces) == 4 and abs(face_areas(mesh).sum() - AREA) < 1e-5


def stl(head: bytes = b"", count: int | None = None, faces: tuple[tuple[int, ...], ...] = FACES) -> bytes:
    body = b"".join(
        struct.pack("<12fH", 0, 0, 0, *(float(v) for k in face for v in TETRA[k]), 0) for face in faces
    )
    return head.ljust(80, b" ") + struct.pack("<I", len(faces) if count is None else count) + body


def stl_text(end: str = "\n", upper: bool = False) -> str:
    lines = ["solid a name with facet and vertex in it"]
    for face in FACES:
        lines += ["facet normal 0 0 0", " outer loop"]
        lines += ["  vertex {} {} {}".format(*(f"{float(v):.3e}" for v in TETRA[k])) for k in face]
        lines += [" endloop", "endfacet"]
    text = end.join([*lines, "endsolid", ""])
    return text.upper() if upper else text


class TestStl:
    @pytest.mark.parametrize("head", [b"", b"solid made here", b"\x00" * 80, b"solid\nfacet normal"])
    def test_binary_whatever_its_head_says(self, tmp_path: Path, head: bytes) -> None:
        raw = read(tmp_path / "a.stl", stl(head))
        assert is_tetra(raw)
        assert raw.dropped == {}

    @pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
    @pytest.mark.parametrize("upper", [False, True])
    def test_text(self, tmp_path: Path, end: str, upper: bool) -> None:
        assert is_tetra(read(tmp_path / "a.stl", stl_text(end, upper)))

    def test_several_solids_in_one_text(self, tmp_path: Path) -> None:
        assert len(read(tmp_path / "a.stl", stl_text() + stl_text()).mesh.faces) == 8

    def test_text_in_many_runs(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr("floorpan.scan.readers.stl._CHUNK", 200)
        for end in ("\n", "\r\n"):
            assert is_tetra(read(tmp_path / "a.stl", stl_text(end)))

    def test_a_file_that_counts_too_few(self, tmp_path: Path) -> None:
        raw = read(tmp_path / "a.stl", stl(count=1))
        assert is_tetra(raw)
        assert "counts 1 triangles and holds 4" in raw.notes[0]

    def test_a_file_that_counts_nothing(self, tmp_path: Path) -> None:
        assert is_tetra(read(tmp_path / "a.stl", stl(count=0)))

    def test_a_tail_of_something_else_is_no_triangle(self, tmp_path: Path) -> None:
        raw = read(tmp_path / "a.stl", stl() + b"\xff\x7f" * 75)
        assert is_tetra(raw)

    def test_a_file_that_counts_billions_takes_no_memory(self, tmp_path: Path) -> None:
        path = tmp_path / "a.stl"
        path.write_bytes(stl(count=4_000_000_000))
        tracemalloc.start()
        raw = finish(read_scan(path))
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert is_tetra(raw)
        assert raw.dropped[CUT_OFF] == 4_000_000_000 - 4
        assert peak < 20e6

    def test_a_file_that_ends_in_the_middle_of_a_triangle(self, tmp_path: Path) -> None:
        raw = read(tmp_path / "a.stl", stl()[:-20])
        assert len(raw.mesh.faces) == 3
        assert raw.dropped == {CUT_OFF: 1}
        assert raw.notes == ("This file ends in the middle of a triangle. 3 were read.",)

    def test_text_with_words_for_numbers(self, tmp_path: Path) -> None:
        raw = read(tmp_path / "a.stl", stl_text().replace("vertex -1.000e+00", "vertex oops", 1))
        assert len(raw.mesh.faces) == 3
        assert raw.dropped[NOT_NUMBERS] == 1


PLY_HEAD = "ply\nformat {} 1.0\ncomment c\nelement vertex 4\n{}element face {}\n{}end_header\n"
XYZ = "property float x\nproperty float y\nproperty float z\n"
LIST = "property list uchar int vertex_indices\n"


def ply(order: str, *, vertex: str = XYZ, face: str = LIST, count: int = 4, head_end: str = "\n") -> bytes:
    """Rows in the types of these two heads; extra properties hold 7."""
    name = {"<": "binary_little_endian", ">": "binary_big_endian"}[order]
    out = PLY_HEAD.format(name, vertex, count, face).replace("\n", head_end).encode()
    kinds = {
        "float": "f",
        "float32": "f",
        "double": "d",
        "uchar": "B",
        "uint8": "B",
        "int": "i",
        "int32": "i",
    }
    kinds |= {"uint": "I", "short": "h", "ushort": "H", "char": "b"}
    for point in TETRA:
        values = dict(zip("xyz", point, strict=True))
        for line in vertex.splitlines():
            _, kind, prop = line.split()
            out += struct.pack(order + kinds[kind], values.get(prop, 7))
    for corners in FACES:
        for line in face.splitlines():
            words = line.split()
            if words[1] == "list" and words[4].startswith("vert"):
                out += struct.pack(order + kinds[words[2]] + "3" + kinds[words[3]], 3, *corners)
            elif words[1] == "list":
                out += struct.pack(order + kinds[words[2]] + "2" + kinds[words[3]], 2, 7, 7)
            else:
                out += struct.pack(order + kinds[words[1]], 7)
    return out


PLY_CASES = {
    "plain": {},
    "double": {"vertex": XYZ.replace("float", "double")},
    "other spelling": {
        "vertex": XYZ.replace("float", "float32"),
        "face": "property list uint8 int32 vertex_index\n",
    },
    "normals and colours": {
        "vertex": XYZ + "property float nx\nproperty uchar red\nproperty uchar green\nproperty uchar blue\n"
    },
    "columns in another order": {
        "vertex": "property uchar flag\nproperty double z\nproperty float x\nproperty short q\nproperty float y\n"
    },
    "face colour after": {"face": LIST + "property uchar red\n"},
    "face flag before": {"face": "property int flag\n" + LIST},
    "two lists": {"face": LIST + "property list uchar float texcoord\n"},
    "short numbers": {"face": "property list uchar ushort vertex_indices\n"},
    "wide counter": {"face": "property list int uint vertex_indices\n"},
}


class TestPly:
    @pytest.mark.parametrize("case", PLY_CASES)
    @pytest.mark.parametrize("order", ["<", ">"])
    def test_binary(self, tmp_path: Path, case: str, order: str) -> None:
        raw = read(tmp_path / "a.ply", ply(order, **PLY_CASES[case]))  # type: ignore[arg-type]
        assert is_tetra(raw)
        assert (raw.colours is not None) == (case == "normals and colours")

    @pytest.mark.parametrize("end", ["\r\n", "\n"])
    def test_line_ends_of_the_head(self, tmp_path: Path, end: str) -> None:
        assert is_tetra(read(tmp_path / "a.ply", ply("<", head_end=end)))

    def test_text(self, tmp_path: Path) -> None:
        rows = "".join(f"{x} {y} {z} 7\n" for x, y, z in TETRA) + "".join(
            f"3 {a} {b} {c}\n" for a, b, c in FACES
        )
        assert is_tetra(
            read(tmp_path / "a.ply", PLY_HEAD.format("ascii", XYZ + "property int q\n", 4, LIST) + rows)
        )

    def test_text_with_quads_and_extra_lists(self, tmp_path: Path) -> None:
        rows = "0 0 0\n1 0 0\n1 1 0\n0 1 0\n4 0 1 2 3 2 5 5\n2 0 1 0\n"
        face = LIST + "property list uchar float t\n"
        raw = read(tmp_path / "a.ply", PLY_HEAD.format("ascii", XYZ, 2, face) + rows)
        assert face_areas(raw.mesh).sum() == pytest.approx(1.0)
        assert raw.dropped == {TOO_FEW: 1}

    def test_binary_faces_of_different_lengths(self, tmp_path: Path) -> None:
        head = PLY_HEAD.format("binary_little_endian", XYZ, 3, LIST).replace("vertex 4", "vertex 5").encode()
        points = struct.pack("<15f", 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0.5, 2, 0)
        faces = (
            struct.pack("<B3i", 3, 0, 1, 2)
            + struct.pack("<B2i", 2, 0, 1)
            + struct.pack("<B5i", 5, 0, 1, 2, 4, 3)
        )
        raw = read(tmp_path / "a.ply", head + points + faces)
        assert face_areas(raw.mesh).sum() == pytest.approx(0.5 + 1.5)
        assert raw.dropped == {TOO_FEW: 1}

    @pytest.mark.parametrize("order", ["<", ">"])
    def test_a_file_that_ends_early(self, tmp_path: Path, order: str) -> None:
        raw = read(tmp_path / "a.ply", ply(order)[:-5])
        assert len(raw.mesh.faces) == 3
        assert raw.dropped == {CUT_OFF: 1}
        assert "3 faces were read" in raw.notes[0]

    def test_a_head_that_counts_billions_takes_no_memory(self, tmp_path: Path) -> None:
        path = tmp_path / "a.ply"
        path.write_bytes(ply("<").replace(b"face 4", b"face 9999999999"))
        tracemalloc.start()
        raw = finish(read_scan(path))
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert is_tetra(raw)
        assert raw.dropped[CUT_OFF] == 9999999999 - 4
        assert peak < 20e6

    def test_points_without_faces(self, tmp_path: Path) -> None:
        data = b"ply\nformat ascii 1.0\nelement vertex 2\n" + XYZ.encode() + b"end_header\n0 0 0\n1 1 1\n"
        with pytest.raises(NoSurface, match="2 points without a surface"):
            read(tmp_path / "a.ply", data)

    @pytest.mark.parametrize(
        "head",
        [
            b"ply\nformat ascii 1.0\nelement vertex 4\n",
            b"ply\nelement vertex 4\nproperty float x\nend_header\n",
            b"ply\nformat ascii 1.0\nelement vertex four\nend_header\n",
            b"ply\nformat ascii 1.0\nelement vertex 1\nproperty sometype x\nend_header\n1\n",
            b"ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nend_header\n1\n",
        ],
    )
    def test_heads_that_cannot_be_followed(self, tmp_path: Path, head: bytes) -> None:
        with pytest.raises(UnreadableScan, match="PLY"):
            read(tmp_path / "a.ply", head)

    def test_colours_go_with_their_points(self, tmp_path: Path) -> None:
        rows = "9 9 9 1 1 1\n" + "".join(f"{x} {y} {z} {k} 20 30\n" for k, (x, y, z) in enumerate(TETRA))
        rows += "".join(f"3 {a + 1} {b + 1} {c + 1}\n" for a, b, c in FACES)
        vertex = XYZ + "property uchar red\nproperty uchar green\nproperty uchar blue\n"
        text = PLY_HEAD.format("ascii", vertex, 4, LIST).replace("vertex 4", "vertex 5")
        raw = read(tmp_path / "a.ply", text + rows)
        assert raw.dropped == {LOOSE: 1}
        assert raw.colours is not None
        assert raw.colours.tolist() == [[k, 20, 30] for k in range(4)]


OBJ = "".join(f"v {x} {y} {z}\n" for x, y, z in TETRA)


class TestObj:
    @pytest.mark.parametrize("word", ["{}", "{}/7", "{}/7/3", "{}//3"])
    def test_every_way_to_name_a_corner(self, tmp_path: Path, word: str) -> None:
        faces = "".join("f " + " ".join(word.format(k + 1) for k in face) + "\n" for face in FACES)
        assert is_tetra(read(tmp_path / "a.obj", OBJ + "vt 0 0\nvn 0 0 1\n" + faces))

    def test_negative_numbers_count_back(self, tmp_path: Path) -> None:
        faces = "".join("f " + " ".join(str(k - 4) for k in face) + "\n" for face in FACES)
        assert is_tetra(read(tmp_path / "a.obj", "v 9 9 9\n" + OBJ + faces + "v 1 2 3\n"))

    @pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
    def test_encodings(self, tmp_path: Path, encoding: str) -> None:
        faces = "".join("f " + " ".join(str(k + 1) for k in face) + "\n" for face in FACES)
        text = "# gr\u00f6\u00dfe\n" + OBJ + faces
        mark = {"utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}.get(encoding, b"")
        assert is_tetra(read(tmp_path / "a.obj", mark + text.encode(encoding)))

    @pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
    def test_blanks_comments_and_continued_lines(self, tmp_path: Path, end: str) -> None:
        text = (
            OBJ.replace("v 1 1 1", "  v\t1   1 1   # first")
            + "f 1 \\\n2 3\nf 1 4 2 #x\no part\nf 1 3 4\n\nf 2 4 3"
        )
        assert is_tetra(read(tmp_path / "a.obj", text.replace("\n", end)))

    def test_in_many_runs(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """Faces between points, in runs of a few lines, negative numbers too."""
        monkeypatch.setattr("floorpan.scan.readers.obj._CHUNK", 24)
        lines = OBJ.splitlines()
        text = "\n".join([*lines[:3], "f 1 2 3", lines[3], "f -4 -1 -3", "f 1 3 4", "f 2 4 3"])
        assert is_tetra(read(tmp_path / "a.obj", text))

    def test_what_makes_no_sense_keeps_the_count_of_points(self, tmp_path: Path) -> None:
        faces = "".join("f " + " ".join(str(k + 2) for k in face) + "\n" for face in FACES)
        raw = read(
            tmp_path / "a.obj", "v oops\n" + OBJ + faces + "f 1 2 3\nf 2 3\nf 2 3 99\nf 2 2 3\nf a b c\n"
        )
        assert is_tetra(raw)
        assert raw.dropped == {NO_SENSE: 1, NOT_NUMBERS: 1, TOO_FEW: 1, WRONG_POINT: 2, NO_AREA: 1}

    @pytest.mark.parametrize("word", ["{}", "{}/7", "{}//3"])
    def test_points_counted_from_zero_are_refused(self, tmp_path: Path, word: str) -> None:
        """Read one point off, three of its faces would fall away and the fourth would be the wrong triangle."""
        faces = "".join("f " + " ".join(word.format(k) for k in face) + "\n" for face in FACES)
        with pytest.raises(UnreadableScan, match="names point 0") as told:
            read(tmp_path / "a.obj", OBJ + faces)
        assert told.value.code == "point-zero"

    def test_a_zero_behind_a_stroke_names_no_point(self, tmp_path: Path) -> None:
        faces = "".join("f " + " ".join(f"{k + 1}/0/0" for k in face) + "\n" for face in FACES)
        assert is_tetra(read(tmp_path / "a.obj", OBJ + faces))

    def test_a_concave_face(self, tmp_path: Path) -> None:
        text = "v 0 0 0\nv 4 0 0\nv 4 4 0\nv 2 1 0\nv 0 4 0\nf 1 2 3 4 5\n"
        assert face_areas(read(tmp_path / "a.obj", text).mesh).sum() == pytest.approx(10.0)

    def test_colours_behind_points(self, tmp_path: Path) -> None:
        text = "v 0 0 0 1 0 0\nv 1 0 0 0 1 0\nv 0 1 0 0 0 0.5\nf 1 2 3\n"
        raw = read(tmp_path / "a.obj", text)
        assert raw.colours is not None
        assert raw.colours.tolist() == [[255, 0, 0], [0, 255, 0], [0, 0, 128]]


def test_a_written_mesh_reads_back_to_the_last_bit(tmp_path: Path) -> None:
    mesh = tunnel_floor(20.0, noise=0.4)
    write_ply(mesh, tmp_path / "out.ply")
    raw = finish(read_scan(tmp_path / "out.ply"))
    assert np.array_equal(raw.mesh.points, mesh.points)
    assert np.array_equal(raw.mesh.faces, mesh.faces)
    theirs = trimesh.load(tmp_path / "out.ply", process=False)
    assert np.array_equal(theirs.vertices, mesh.points)
    assert np.array_equal(theirs.faces, mesh.faces)


def test_bytes_are_named_by_their_hash_and_steps_rise(tmp_path: Path) -> None:
    path = tmp_path / "A.PLY"
    write_ply(cube(), path)
    steps: list[Step] = []
    raw = finish(read_scan(path, unit="cm"), steps.append)
    assert raw.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert raw.suffix == ".ply"
    assert raw.unit_given == "cm"
    done = [step.done for step in steps]
    assert done == sorted(done)
    assert done[-1] == 1.0


def test_a_ply_by_another_name_is_read_as_what_it_is(tmp_path: Path) -> None:
    write_ply(cube(), tmp_path / "a.stl")
    raw = finish(read_scan(tmp_path / "a.stl"))
    assert raw.suffix == ".ply"
    assert len(raw.mesh.faces) == 12


@pytest.mark.parametrize(("name", "words"), [("a.step", "not read here"), ("gone.stl", "cannot be opened")])
def test_what_is_no_scan_is_said(tmp_path: Path, name: str, words: str) -> None:
    (tmp_path / "a.step").write_text("1 2 3\n")
    with pytest.raises(UnreadableScan, match=words):
        finish(read_scan(tmp_path / name))


@pytest.mark.parametrize("suffix", [".stl", ".ply", ".obj"])
@pytest.mark.parametrize("data", [b"", b"\x00", b"solid", b"ply", b"f 1 2 3\n", b"\x00" * 500])
def test_next_to_nothing_gives_one_clear_fault(tmp_path: Path, suffix: str, data: bytes) -> None:
    path = tmp_path / ("a" + suffix)
    path.write_bytes(data)
    with pytest.raises(FloorpanError):
        finish(read_scan(path))


def test_an_unknown_unit_is_refused_before_reading(tmp_path: Path) -> None:
    with pytest.raises(BadValue):
        finish(read_scan(tmp_path / "gone.stl", unit="furlong"))


def test_memory_stays_below_four_times_the_arrays(tmp_path: Path) -> None:
    mesh = tunnel_floor(1.2)
    write_ply(mesh, tmp_path / "a.ply")
    tracemalloc.start()
    raw = finish(read_scan(tmp_path / "a.ply"))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert isinstance(raw.mesh, Mesh)
    assert peak < 4 * (raw.mesh.points.nbytes + raw.mesh.faces.nbytes)
