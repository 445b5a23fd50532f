"""3MF, and points as text: read from what the formats say, whatever is broken in them."""

import io
import zipfile
from pathlib import Path

import numpy as np
import pytest

from floorpan.errors import BadValue, FloorpanError, NoSurface, UnreadableScan
from floorpan.geometry.normals import face_areas
from floorpan.progress import finish
from floorpan.project.starting import start_project
from floorpan.scan import RawScan, read_scan
from floorpan.scan.prepare import prepare
from floorpan.scan.readers.parsed import NO_SENSE

NAMESPACE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
TETRA = """<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/>
<vertex x="0" y="0" z="1"/></vertices><triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/>
<triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles></mesh>"""
ITEM = '<item objectid="1"/>'


def model(objects: str, build: str = ITEM, unit: str = "millimeter", head: str = "") -> bytes:
    text = (
        f'<?xml version="1.0"?>{head}<model unit="{unit}" xmlns="{NAMESPACE}"><resources>{objects}</resources>'
        f"<build>{build}</build></model>"
    )
    return text.encode()


def packed(text: bytes, name: str = "3D/3dmodel.model") -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr(name, text)
    return held.getvalue()


def read(path: Path, data: bytes, unit: str | None = None) -> RawScan:
    path.write_bytes(data)
    return finish(read_scan(path, unit))


ONE = f'<object id="1" type="model">{TETRA}</object>'


class TestThreeMf:
    @pytest.mark.parametrize(
        ("unit", "mm"),
        [
            ("micron", 0.001),
            ("millimeter", 1.0),
            ("centimeter", 10.0),
            ("inch", 25.4),
            ("foot", 304.8),
            ("meter", 1000.0),
        ],
    )
    def test_its_unit_is_read(self, tmp_path: Path, unit: str, mm: float) -> None:
        """The units of the 3MF Core Specification, section 3.4."""
        raw = read(tmp_path / "a.3mf", packed(model(ONE, unit=unit)))
        assert len(raw.mesh.faces) == 4
        # Three right triangles of half a unit square, and one of side sqrt 2.
        assert face_areas(raw.mesh).sum() == pytest.approx((1.5 + np.sqrt(3.0) / 2.0) * mm**2)
        assert raw.unit_written == unit
        assert (raw.unit_given, raw.proposal.unit, raw.proposal.sure) == (None, "mm", True)
        assert unit in raw.proposal.why

    def test_pieces_stand_where_they_are_built(self, tmp_path: Path) -> None:
        """A transform is four rows: what x, y, z and the origin become (section 3.3)."""
        parts = (
            ONE
            + '<object id="2"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 1 10 0 0"/>'
            + '<component objectid="1"/></components></object>'
        )
        turned = '<item objectid="2" transform="0 1 0 -1 0 0 0 0 1 0 0 5"/>'
        raw = read(tmp_path / "a.3mf", packed(model(parts, turned)))
        assert len(raw.mesh.faces) == 8
        # x goes to y and y to -x, then 5 up: the far piece's origin was at (10, 0, 0).
        assert any(np.allclose(place, (0.0, 10.0, 5.0)) for place in raw.mesh.points)
        assert any(np.allclose(place, (-1.0, 10.0, 5.0)) for place in raw.mesh.points)

    @pytest.mark.parametrize(
        "data",
        [
            b"PK\x03\x04 no archive",
            packed(b"no xml at all"),
            packed(model(ONE), name="readme.txt"),
            packed(model(ONE, '<item objectid="7"/>')),
            packed(model(ONE, unit="cubit")),
            packed(model(ONE, head='<!DOCTYPE model [<!ENTITY a "aaaa">]>')),
            packed(model('<object id="1"><components><component objectid="1"/></components></object>')),
            packed(model(ONE.replace('v1="0"', 'v1="nought"', 1))),
            packed(model(ONE, '<item objectid="1" transform="1 0 0"/>')),
            packed(model('<object id="1"><mesh/></object>')),
            packed(model(ONE))[:-200],
        ],
    )
    def test_what_holds_nothing_certain_is_one_clear_error(self, tmp_path: Path, data: bytes) -> None:
        with pytest.raises(UnreadableScan) as fault:
            read(tmp_path / "a.3mf", data)
        assert fault.value.remedy

    def test_a_small_file_that_unpacks_to_gigabytes_is_refused(self, tmp_path: Path) -> None:
        data = packed(model(ONE) + b" " * 60_000_000)
        assert len(data) < 100_000
        with pytest.raises(UnreadableScan, match="larger than any scan"):
            read(tmp_path / "a.3mf", data)

    def test_another_unit_than_the_written_one_is_refused(self, tmp_path: Path) -> None:
        with pytest.raises(BadValue) as fault:
            read(tmp_path / "a.3mf", packed(model(ONE, unit="inch")), "in")
        assert fault.value.code == "unit-is-written"
        assert read(tmp_path / "a.3mf", packed(model(ONE, unit="inch")), "mm").unit_given == "mm"

    def test_a_project_needs_no_word_about_its_unit(self, tmp_path: Path) -> None:
        source = tmp_path / "a.3mf"
        source.write_bytes(packed(model(ONE, unit="inch")))
        project = finish(start_project(tmp_path / "p.floorpan", source, None))
        assert project.layout.scans[0].unit == "mm"
        assert project.layout.scans[0].suffix == ".3mf"


def sheet(side: int = 20) -> np.ndarray:
    random = np.random.default_rng(5)
    x, y = (axis.ravel() for axis in np.meshgrid(np.arange(side) * 3.0, np.arange(side) * 3.0))
    spread = random.uniform(-0.8, 0.8, (len(x), 2))
    return np.column_stack([x + spread[:, 0], y + spread[:, 1], np.full(len(x), 7.0)])


def lines(points: np.ndarray, parting: str = " ", comma: bool = False, tail: str = "") -> bytes:
    text = "\n".join(parting.join(f"{value:.4f}" for value in row) + tail for row in points)
    return (text.replace(".", ",") if comma else text).encode() + b"\n"


class TestPointText:
    @pytest.mark.parametrize(
        ("parting", "comma"),
        [
            (" ", False),
            ("\t", False),
            (", ", False),
            (",", False),
            (";", False),
            (";", True),
            ("\t", True),
            (" ", True),
        ],
    )
    def test_every_manner_of_writing_gives_the_same_points(
        self, tmp_path: Path, parting: str, comma: bool
    ) -> None:
        points = sheet()
        raw = read(tmp_path / "a.xyz", lines(points, parting, comma))
        assert raw.points_only
        assert raw.mesh.points == pytest.approx(points, abs=1e-4)
        assert raw.dropped == {}

    def test_a_head_is_passed_by_and_wrong_lines_are_counted(self, tmp_path: Path) -> None:
        body = lines(sheet()).split(b"\n")
        body[100] = b"here the scanner hiccuped"
        raw = read(tmp_path / "a.csv", b"x y z\n# a note\n" + b"\n".join(body))
        assert len(raw.mesh.points) == 399
        assert raw.dropped == {NO_SENSE: 1}

    def test_colours_at_the_end_are_kept(self, tmp_path: Path) -> None:
        raw = read(tmp_path / "a.txt", lines(sheet(), tail=" 12 200 255"))
        assert raw.colours is not None
        assert raw.colours[0].tolist() == [12, 200, 255]

    def test_utf_16_and_line_ends_of_other_systems(self, tmp_path: Path) -> None:
        text = lines(sheet()).decode().replace("\n", "\r\n")
        raw = read(tmp_path / "a.asc", b"\xff\xfe" + text.encode("utf-16-le"))
        assert len(raw.mesh.points) == 400

    @pytest.mark.parametrize("data", [b"", b"no points here\nnor here\n", lines(sheet()[:5])])
    def test_too_little_is_one_clear_error(self, tmp_path: Path, data: bytes) -> None:
        with pytest.raises((UnreadableScan, NoSurface)) as fault:
            read(tmp_path / "a.xyz", data)
        assert fault.value.remedy

    def test_points_become_a_surface_when_made_ready(self, tmp_path: Path) -> None:
        """A sheet of 57 mm square: its area, but for the ragged rim."""
        raw = read(tmp_path / "a.xyz", lines(sheet()), "mm")
        ready = finish(prepare(raw, "mm"))
        assert face_areas(ready.mesh).sum() == pytest.approx(57.0**2, rel=0.06)
        assert ready.facts.islands == 1

    def test_a_real_cloud_is_read_and_its_gaps_stay_open(self, shared_data: Path) -> None:
        raw = finish(read_scan(shared_data / "scans_points/lidar_parked_cars.ply", "m"))
        assert raw.points_only
        ready = finish(prepare(raw, "m"))
        assert ready.facts.triangles > 10_000
        assert ready.facts.islands > 20
        assert sum(ready.facts.dropped.values()) > 0


@pytest.mark.parametrize("seed", range(30))
@pytest.mark.parametrize("suffix", [".3mf", ".xyz"])
def test_cut_or_spoilt_they_give_a_scan_or_one_clear_error(tmp_path: Path, suffix: str, seed: int) -> None:
    random = np.random.default_rng(seed)
    data = bytearray(packed(model(ONE)) if suffix == ".3mf" else lines(sheet()))
    if seed % 2:
        data = data[: int(random.integers(0, len(data)))]
    else:
        for at in random.integers(0, len(data), 20):
            data[at] = int(random.integers(0, 256))
    try:
        raw = read(tmp_path / f"a{suffix}", bytes(data))
    except FloorpanError as fault:
        told = bool(fault.what and fault.remedy)
    else:
        told = bool(np.isfinite(raw.mesh.points).all())
    assert told
