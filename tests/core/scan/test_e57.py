"""E57: points of every scan, posed, in metres; whatever is broken in it ends in one clear refusal."""

import struct
import sys
import tempfile
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from floorpan.errors import BadValue, FloorpanError, NoSurface, UnreadableScan
from floorpan.geometry.normals import face_areas
from floorpan.progress import finish
from floorpan.project.starting import start_project
from floorpan.scan import RawScan, read_scan
from floorpan.scan.prepare import prepare
from floorpan.scan.readers.e57 import MARKED
from floorpan.scan.readers.parsed import NOT_NUMBERS

Floats = NDArray[np.float64]

WRITES_E57 = "pye57 is not set up: it is the extra e57, and has no wheel for every machine"


def wavy(count: int = 40) -> Floats:
    """A floor of count x count points [m], 1.6 m long, whose waves are 20 mm high."""
    x, y = np.meshgrid(np.linspace(0.0, 1.6, count), np.linspace(-0.6, 0.6, count))
    return np.column_stack([x.ravel(), y.ravel(), 0.02 * np.sin(8.0 * x.ravel()) * np.cos(5.0 * y.ravel())])


def write(
    path: Path, *scans: Floats, fields: dict[str, NDArray[np.generic]] | None = None, **pose: Floats
) -> Path:
    """An E57 of these points [m], written by the library itself in single precision."""
    pye57 = pytest.importorskip("pye57", reason=WRITES_E57)
    with pye57.E57(str(path), mode="w") as file:
        for points in scans:
            named = dict(zip(("cartesianX", "cartesianY", "cartesianZ"), points.T, strict=True))
            file.write_scan_raw(named | (fields or {}), **pose)
    return path


def paged(plain: bytes) -> bytes:
    """Bytes in pages of 1024, each ending in its CRC-32C, as ASTM E2807 has them."""
    table = np.arange(256, dtype=np.uint32)
    for _ in range(8):
        table = np.where(table & 1, (table >> 1) ^ np.uint32(0x82F63B78), table >> 1)
    pages = np.frombuffer(plain + bytes(-len(plain) % 1020), dtype=np.uint8).reshape(-1, 1020)
    checks = np.full(len(pages), 0xFFFFFFFF, dtype=np.uint32)
    for column in pages.T:
        checks = table[(checks ^ column) & 0xFF] ^ (checks >> 8)
    ends = (~checks).astype(">u4").view(np.uint8).reshape(-1, 4)
    return np.hstack([pages, ends]).tobytes()


def plain(data: bytes) -> bytes:
    """The bytes without the checksums of their pages."""
    return np.frombuffer(data, dtype=np.uint8).reshape(-1, 1024)[:, :1020].tobytes()


def reworded(path: Path, *changes: tuple[str, str]) -> Path:
    """The same file with its description changed, its lengths and checksums made right again."""
    data = path.read_bytes()
    offset, size = struct.unpack_from("<QQ", data, 24)
    held = plain(data)
    start = offset // 1024 * 1020 + offset % 1024
    text = held[start : start + size].decode()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    whole = held[:start] + text.encode()
    pages = -(-len(whole) // 1020)
    lengths = struct.pack("<QQQ", 1024 * pages, offset, len(text.encode()))
    path.write_bytes(paged(whole[:16] + lengths + whole[40:]))
    return path


def read(path: Path, unit: str | None = None) -> RawScan:
    return finish(read_scan(path, unit))


class TestReading:
    def test_points_come_in_mm_from_metres(self, tmp_path: Path) -> None:
        """ASTM E2807: lengths are metres."""
        raw = read(write(tmp_path / "a.e57", wavy()))
        assert raw.points_only
        assert raw.suffix == ".e57"
        assert raw.unit_written == "m"
        assert raw.proposal.unit == "mm"
        # Single precision of 1.6 m.
        np.testing.assert_allclose(raw.mesh.points, 1000.0 * wavy(), atol=1e-3)

    def test_no_other_unit_is_believed(self, tmp_path: Path) -> None:
        path = write(tmp_path / "a.e57", wavy())
        with pytest.raises(BadValue) as caught:
            read(path, "in")
        assert caught.value.code == "unit-is-written"
        assert read(path, "mm").unit_given == "mm"

    def test_every_scan_stands_where_its_pose_says(self, tmp_path: Path) -> None:
        """Turned first, then moved; the turn by a general reference library's quaternions."""
        turn = Rotation.from_euler("xyz", [0.3, -0.5, 1.1])
        x, y, z, w = turn.as_quat()
        move = np.array([2.0, -1.0, 0.5])
        path = write(tmp_path / "a.e57", wavy(), wavy(20), rotation=np.array([w, x, y, z]), translation=move)
        expected = 1000.0 * (turn.apply(np.vstack([wavy(), wavy(20)])) + move)
        raw = read(path)
        np.testing.assert_allclose(raw.mesh.points, expected, atol=1e-3)
        assert any("2 scans" in note for note in raw.notes)

    def test_marked_points_are_left_out_and_counted(self, tmp_path: Path) -> None:
        marks = np.zeros(1600, dtype=np.int8)
        marks[:7], marks[7:10] = 1, 2
        raw = read(write(tmp_path / "a.e57", wavy(), fields={"cartesianInvalidState": marks}))
        assert raw.dropped == {MARKED: 10}
        np.testing.assert_allclose(raw.mesh.points, 1000.0 * wavy()[10:], atol=1e-3)

    def test_what_is_no_number_is_left_out_and_counted(self, tmp_path: Path) -> None:
        points = wavy()
        points[3, 0], points[5, 2] = 77.0, 78.0
        path = write(tmp_path / "a.e57", points)
        held = plain(path.read_bytes())
        for value, none in ((77.0, np.nan), (78.0, np.inf)):
            assert held.count(struct.pack("<f", value)) == 1
            held = held.replace(struct.pack("<f", value), struct.pack("<f", none))
        path.write_bytes(paged(held))
        raw = read(path)
        assert raw.dropped == {NOT_NUMBERS: 2}
        assert len(raw.mesh.points) == 1598

    def test_range_and_angles(self, tmp_path: Path) -> None:
        """ASTM E2807: azimuth from X towards Y, elevation from the level up; here from their definition, backwards."""
        points = wavy() + np.array([1.0, 0.5, -0.8])
        far = np.linalg.norm(points, axis=1)
        around, up = np.arctan2(points[:, 1], points[:, 0]), np.arcsin(points[:, 2] / far)
        marks = np.zeros(1600, dtype=np.int8)
        marks[-4:] = 2
        path = write(
            tmp_path / "a.e57", np.column_stack([far, around, up]), fields={"cartesianInvalidState": marks}
        )
        reworded(
            path,
            ("cartesianInvalidState", "sphericalInvalidState"),
            ("cartesianX", "sphericalRange"),
            ("cartesianY", "sphericalAzimuth"),
            ("cartesianZ", "sphericalElevation"),
        )
        raw = read(path)
        np.testing.assert_allclose(raw.mesh.points, 1000.0 * points[:-4], atol=1e-3)
        assert raw.dropped == {MARKED: 4}

    def test_colours_go_along(self, tmp_path: Path) -> None:
        fields = {name: np.arange(1600) % 256 for name in ("colorRed", "colorGreen", "colorBlue")}
        raw = read(write(tmp_path / "a.e57", wavy(), fields=fields))
        assert raw.colours is not None
        np.testing.assert_array_equal(raw.colours, np.repeat(np.arange(1600)[:, None] % 256, 3, axis=1))

    def test_a_colour_of_another_kind_is_passed_by(self, tmp_path: Path) -> None:
        fields = {name: np.arange(1600) % 200 for name in ("colorRed", "colorGreen", "colorBlue")}
        path = write(tmp_path / "a.e57", wavy(), fields=fields)
        old = '<colorRed type="Integer" minimum="0" maximum="255"/>'
        new = '<colorRed type="Integer" minimum="1000" maximum="1255">1000</colorRed>'
        raw = read(reworded(path, (old, new)))
        assert raw.colours is None
        assert len(raw.mesh.points) == 1600

    def test_more_than_are_unpacked_at_once(self, tmp_path: Path) -> None:
        points = wavy(800)
        raw = read(write(tmp_path / "a.e57", points))
        np.testing.assert_allclose(raw.mesh.points, 1000.0 * points, atol=1e-3)

    def test_it_becomes_a_project(self, tmp_path: Path) -> None:
        source = write(tmp_path / "a.e57", wavy(60))
        project = finish(start_project(tmp_path / "car", source, None))
        assert project.layout.scans[0].suffix == ".e57"
        assert project.layout.scans[0].unit == "mm"

    def test_a_surface_is_laid_over_it(self, tmp_path: Path) -> None:
        """Within 1.6 m by 1.2 m the area of a nearly level floor; the waves add less than one in a hundred."""
        raw = read(write(tmp_path / "a.e57", wavy(60)))
        area = face_areas(finish(prepare(raw, "mm")).mesh).sum()
        assert area == pytest.approx(1600.0 * 1200.0, rel=0.02)


class TestRefusals:
    def test_without_the_extra_part(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setitem(sys.modules, "pye57", None)
        path = tmp_path / "a.e57"
        path.write_bytes(b"ASTM-E57")
        with pytest.raises(UnreadableScan) as caught:
            read(path)
        assert caught.value.code == "e57-not-set-up"
        assert "floorpan[e57]" in caught.value.remedy

    @pytest.mark.parametrize("share", [0.0, 0.001, 0.2, 0.7, 0.999])
    def test_cut_off(self, tmp_path: Path, share: float) -> None:
        path = write(tmp_path / "a.e57", wavy())
        data = path.read_bytes()
        path.write_bytes(data[: int(share * len(data))])
        refused(path)

    def test_a_spoilt_page(self, tmp_path: Path) -> None:
        path = write(tmp_path / "a.e57", wavy())
        data = bytearray(path.read_bytes())
        data[5000] ^= 1
        path.write_bytes(data)
        refused(path)

    @pytest.mark.parametrize(
        "count",
        ["1601", "4000", "1000000000", "9223372036854775807", "-1", "99999999999999999999999", "many"],
    )
    def test_a_count_that_is_none(self, tmp_path: Path, count: str) -> None:
        path = write(tmp_path / "a.e57", wavy())
        refused(reworded(path, ('recordCount="1600"', f'recordCount="{count}"')))

    def test_points_that_take_no_room(self, tmp_path: Path) -> None:
        """A whole number of one value takes no bit: any count of it would fit into any file."""
        path = write(tmp_path / "a.e57", wavy())
        names = [
            ("cartesian" + axis, f'cartesian{axis} type="Integer" minimum="3" maximum="3"/><a')
            for axis in "XYZ"
        ]
        names = [(f"<{old} ", f"<{new} ") for old, new in names]
        names += [(f"</cartesian{axis}>", "</a>") for axis in "XZ"]
        refused(reworded(path, *names, ('recordCount="1600"', 'recordCount="1000000000000"')))

    @pytest.mark.parametrize(
        ("old", "new"),
        [
            ("<e57Root", '<!DOCTYPE e57Root [<!ENTITY a "b">]><e57Root'),
            ("<images2D", '<a type="Structure">' * 50 + "</a>" * 50 + "<images2D"),
            ("<images2D", "".join(f'<a{n} type="Integer"/>' for n in range(200)) + "<images2D"),
            (
                "<e57Root",
                '<e57Root xmlns:x="http://www.w3.org/2001/XMLSchema-instance" x:schemaLocation="a b"',
            ),
            ('<w type="Float">1</w>', '<w type="Float">0</w>'),
            ('<w type="Float">1</w>', ""),
            ("cartesianX", "somewhereX"),
            ("data3D", "dataNone"),
        ],
    )
    def test_a_description_that_will_not_do(self, tmp_path: Path, old: str, new: str) -> None:
        path = write(tmp_path / "a.e57", wavy())
        refused(reworded(path, (old, new)))

    def test_all_of_it_marked(self, tmp_path: Path) -> None:
        path = write(
            tmp_path / "a.e57", wavy(), fields={"cartesianInvalidState": np.zeros(1600, dtype=np.int8)}
        )
        # A mark of one value takes no bit; the description alone tells which it is.
        old, new = (
            'State type="Integer" minimum="0" maximum="0"/>',
            'State type="Integer" minimum="1" maximum="1">1</',
        )
        refused(reworded(path, (old, new + "cartesianInvalidState>")), "no point that was measured")

    def test_too_few_for_a_surface(self, tmp_path: Path) -> None:
        with pytest.raises(NoSurface):
            read(write(tmp_path / "a.e57", wavy(5)))


def refused(path: Path, why: str = "This E57 cannot be read") -> None:
    """Reading says what is wrong in one clear refusal."""
    with pytest.raises(UnreadableScan, match=why) as caught:
        read(path)
    assert caught.value.code == "e57-not-read"
    assert caught.value.remedy


def spoilt(data: bytes, random: np.random.Generator) -> bytes:
    """Bytes changed under checksums that are right again: in the head, the description, the packets or anywhere."""
    held = bytearray(plain(data))
    offset, size = struct.unpack_from("<QQ", data, 24)
    start = offset // 1024 * 1020 + offset % 1024
    first, last = [(8, 48), (start, start + size), (48, 170), (0, len(held))][int(random.integers(4))]
    for at in random.integers(first, last, int(random.integers(1, 5))):
        held[at] = int(random.choice([0, 1, 0x2D, 0x30, 0x39, 0x7F, 0xFF, int(random.integers(256))]))
    return paged(bytes(held))


def read_spoilt(folder: Path, how_many: int, seed: int) -> None:
    random = np.random.default_rng(seed)
    marks = np.zeros(400, dtype=np.int8)
    marks[:3] = 1
    colours = {name: np.arange(400) % 256 for name in ("colorRed", "colorGreen", "colorBlue")}
    source = write(folder / "a.e57", wavy(20), wavy(20), fields={"cartesianInvalidState": marks, **colours})
    whole, path = source.read_bytes(), folder / "b.e57"
    for number in range(how_many):
        path.write_bytes(spoilt(whole, random))
        try:
            raw = read(path)
        except FloorpanError as fault:
            told = bool(fault.what and fault.remedy)
        except Exception as fault:
            raise AssertionError(f"number {number}") from fault
        else:
            told = bool(np.isfinite(raw.mesh.points).all()) and len(raw.mesh.points) <= 800
        assert told, number


@pytest.mark.parametrize("seed", range(4))
def test_spoilt_under_right_checksums_it_is_a_scan_or_one_clear_error(tmp_path: Path, seed: int) -> None:
    read_spoilt(tmp_path, 60, seed)


@pytest.mark.long
def test_the_same_many_times(tmp_path: Path) -> None:
    # No more in one process: the library keeps 2 MB for every file whose packets it could not begin to read (2026-11).
    read_spoilt(tmp_path, 2000, 100)


def test_leaving_off_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write(tmp_path / "a.e57", wavy(400))
    (tmp_path / "copies").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "copies"))
    work = read_scan(path)
    for step in work:
        if step.doing.startswith("Unpacking"):
            break
    assert len(list((tmp_path / "copies").iterdir())) == 1
    work.close()
    assert list((tmp_path / "copies").iterdir()) == []
