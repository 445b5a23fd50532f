import errno
import hashlib
import sys
from pathlib import Path

import pytest

from floorpan.errors import BadValue, NotSaved, ProjectDamaged, UnreadableScan
from floorpan.progress import Step, finish
from floorpan.project import imports
from floorpan.project.imports import IMPORTS, Import, copy_in, fault_of, path_of

# FIPS 180-4's test message "abc" and its digest.
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "car.floorpan"
    place.mkdir()
    return place


def scan(tmp_path: Path, data: bytes = b"abc", name: str = "floor.PLY") -> Path:
    path = tmp_path / name
    path.write_bytes(data)
    return path


def test_the_very_bytes_are_kept_under_their_hash(folder: Path, tmp_path: Path) -> None:
    one = finish(copy_in(folder, scan(tmp_path)))
    assert Import(sha256=ABC, original_name="floor.PLY", suffix=".ply", size_bytes=3) == one
    assert one.file_name == "ba7816bf8f01cfea.ply"
    assert path_of(folder, one).read_bytes() == b"abc"
    assert [path_of(folder, one)] == list((folder / IMPORTS).iterdir())
    assert finish(fault_of(folder, one)) == ""


def test_progress_is_told_and_never_falls(folder: Path, tmp_path: Path) -> None:
    data = bytes(range(256)) * 20_000
    steps: list[Step] = []
    one = finish(copy_in(folder, scan(tmp_path, data)), steps.append)
    assert one.sha256 == hashlib.sha256(data).hexdigest()
    assert len(steps) > 3
    assert [step.done for step in steps] == sorted(step.done for step in steps)
    assert steps[-1].done == 1.0


def test_a_copy_that_is_stopped_leaves_nothing(folder: Path, tmp_path: Path) -> None:
    work = copy_in(folder, scan(tmp_path, b"x" * 5_000_000))
    next(work)
    work.close()
    assert list((folder / IMPORTS).iterdir()) == []


def test_the_same_scan_is_kept_once(folder: Path, tmp_path: Path) -> None:
    first = finish(copy_in(folder, scan(tmp_path)))
    again = finish(copy_in(folder, scan(tmp_path, name="other.ply")))
    assert first.file_name == again.file_name
    assert len(list((folder / IMPORTS).iterdir())) == 1


def test_a_scan_that_is_gone_or_was_changed_is_told_apart(folder: Path, tmp_path: Path) -> None:
    one = finish(copy_in(folder, scan(tmp_path)))
    path_of(folder, one).write_bytes(b"abd")
    assert finish(fault_of(folder, one)) == "changed"
    path_of(folder, one).write_bytes(b"abcabc")
    assert finish(fault_of(folder, one)) == "changed"
    path_of(folder, one).unlink()
    assert finish(fault_of(folder, one)) == "missing"
    assert finish(copy_in(folder, scan(tmp_path))) == one
    assert finish(fault_of(folder, one)) == ""


@pytest.mark.parametrize("name", ["floor", "floor.", "floor.tar~", "floor.waytoolong1", ".ply"])
def test_a_scan_has_an_ending(name: str, folder: Path, tmp_path: Path) -> None:
    with pytest.raises(UnreadableScan, match="ending"):
        finish(copy_in(folder, scan(tmp_path, name=name)))


def test_a_source_that_is_no_file_is_refused(folder: Path, tmp_path: Path) -> None:
    for name in ("missing.ply", "folder.ply"):
        (tmp_path / "folder.ply").mkdir(exist_ok=True)
        with pytest.raises(UnreadableScan) as caught:
            finish(copy_in(folder, tmp_path / name))
        assert name in caught.value.what


def test_a_full_disk_leaves_nothing(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(file: int, data: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(imports, "write_all", full)
    with pytest.raises(NotSaved, match="disk is full"):
        finish(copy_in(folder, scan(tmp_path)))
    assert list((folder / IMPORTS).iterdir()) == []


@pytest.mark.parametrize(
    "named",
    [
        {"sha256": "../../../etc/passwd"},
        {"sha256": ABC.upper()},
        {"sha256": ABC[:-1]},
        {"suffix": ""},
        {"suffix": "./../x"},
        {"suffix": ".ply/../../x"},
        {"suffix": ".PLY"},
        {"original_name": "a\nb"},
        {"size_bytes": -1},
    ],
)
def test_a_record_that_could_lead_elsewhere_is_refused(named: dict[str, object]) -> None:
    whole: dict[str, object] = {"sha256": ABC, "original_name": "a.ply", "suffix": ".ply", "size_bytes": 3}
    with pytest.raises(BadValue):
        Import(**{**whole, **named})  # type: ignore[arg-type]


@pytest.mark.skipif(sys.platform == "win32", reason="links of a POSIX system")
def test_links_in_the_project_are_not_followed(folder: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    source = scan(tmp_path)
    one = finish(copy_in(folder, source))
    path_of(folder, one).unlink()
    path_of(folder, one).symlink_to(source)
    assert finish(fault_of(folder, one)) == "missing"
    path_of(folder, one).unlink()
    (folder / IMPORTS).rmdir()
    (folder / IMPORTS).symlink_to(outside)
    (outside / one.file_name).write_bytes(b"abc")
    assert finish(fault_of(folder, one)) == "missing"
    with pytest.raises(ProjectDamaged, match="link"):
        finish(copy_in(folder, source))
    assert [one.file_name] == [path.name for path in outside.iterdir()]


@pytest.mark.skipif(sys.platform == "win32", reason="names of a POSIX system")
def test_a_name_that_is_half_text_is_kept_readable(folder: Path, tmp_path: Path) -> None:
    path = Path(str(tmp_path) + "/fl\udcff\x07or.ply")
    path.write_bytes(b"abc")
    assert finish(copy_in(folder, path)).original_name == "fl??or.ply"
