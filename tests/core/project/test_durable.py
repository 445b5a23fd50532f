import errno
import os
import sys
from pathlib import Path

import pytest

from floorpan.errors import NotSaved, ProjectDamaged
from floorpan.project import durable
from floorpan.project.durable import check_inside, read_inside, sweep, write_whole

posix = pytest.mark.skipif(sys.platform == "win32", reason="links and limits of a POSIX system")


def test_a_file_is_put_in_place_whole_and_nothing_else_is_left(tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    write_whole(path, b"first")
    write_whole(path, b"second" * 100_000)
    assert path.read_bytes() == b"second" * 100_000
    assert [path] == list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("number", "word"),
    [
        (errno.ENOSPC, "disk is full"),
        (errno.EDQUOT, "disk is full"),
        (errno.EROFS, "takes no files"),
        (errno.EACCES, "takes no files"),
        (errno.EIO, "The system refused"),
    ],
)
@pytest.mark.parametrize("call", ["write", "fsync", "open"])
def test_what_the_system_refuses_leaves_the_last_save(
    number: int, word: str, call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.json"
    write_whole(path, b"good")

    def refuse(*arguments: object, **named: object) -> int:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as patch:
        patch.setattr(durable.os, call, refuse)
        with pytest.raises(NotSaved, match=word) as caught:
            write_whole(path, b"new")
    assert caught.value.remedy
    assert path.read_bytes() == b"good"
    assert [path] == list(tmp_path.iterdir())


@posix
def test_a_disk_that_fills_up_while_writing_leaves_the_last_save(tmp_path: Path) -> None:
    """The system's own refusal, by its limit on the length of files."""
    import resource

    path = tmp_path / "a.json"
    write_whole(path, b"good")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (10_000, before[1]))
    try:
        with pytest.raises(NotSaved, match="disk is full"):
            write_whole(path, b"x" * 100_000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert path.read_bytes() == b"good"
    assert [path] == list(tmp_path.iterdir())


def test_a_file_that_another_process_holds_is_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.json"
    write_whole(path, b"good")
    real, tries = os.replace, []

    def held_three_times(source: Path, target: Path) -> None:
        tries.append(target)
        if len(tries) <= 3:
            raise PermissionError(errno.EACCES, "held")
        real(source, target)

    monkeypatch.setattr(durable.os, "replace", held_three_times)
    monkeypatch.setattr(durable.time, "sleep", lambda seconds: None)
    write_whole(path, b"new")
    assert (path.read_bytes(), len(tries)) == (b"new", 4)


def test_a_file_that_is_held_for_good_is_not_saved(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.json"
    write_whole(path, b"good")
    waits: list[float] = []

    def held(source: Path, target: Path) -> None:
        raise PermissionError(errno.EACCES, "held")

    monkeypatch.setattr(durable.os, "replace", held)
    monkeypatch.setattr(durable.time, "sleep", waits.append)
    with pytest.raises(NotSaved):
        write_whole(path, b"new")
    assert path.read_bytes() == b"good"
    assert [path] == list(tmp_path.iterdir())
    assert 1.0 < sum(waits) < 3.0


def test_a_folder_that_is_gone_is_not_saved_into(tmp_path: Path) -> None:
    with pytest.raises(NotSaved, match="system refused"):
        write_whole(tmp_path / "gone" / "a.json", b"new")


@posix
def test_a_link_in_its_place_is_replaced_and_never_written_through(tmp_path: Path) -> None:
    outside, path = tmp_path / "outside", tmp_path / "a.json"
    outside.write_bytes(b"theirs")
    path.symlink_to(outside)
    write_whole(path, b"ours")
    assert (outside.read_bytes(), path.read_bytes()) == (b"theirs", b"ours")


@posix
def test_links_are_not_followed_on_reading(tmp_path: Path) -> None:
    folder, outside = tmp_path / "p", tmp_path / "outside"
    folder.mkdir()
    outside.mkdir()
    (outside / "a.json").write_bytes(b"theirs")
    (folder / "a.json").symlink_to(outside / "a.json")
    (folder / "deep").symlink_to(outside)
    (folder / "round").symlink_to(folder / "round")
    for name in ("a.json", "deep/a.json", "round"):
        with pytest.raises(ProjectDamaged, match="is a link"):
            read_inside(folder, folder / name, 100)


@posix
def test_a_project_reached_through_a_link_is_one_like_any_other(tmp_path: Path) -> None:
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / "a.json").write_bytes(b"ours")
    (tmp_path / "short").symlink_to(tmp_path / "p")
    assert read_inside(tmp_path / "short", tmp_path / "short" / "a.json", 100) == b"ours"


def test_only_plain_files_are_read(tmp_path: Path) -> None:
    (tmp_path / "a.json").mkdir()
    with pytest.raises(ProjectDamaged, match="no plain file"):
        read_inside(tmp_path, tmp_path / "a.json", 100)
    if sys.platform != "win32":
        os.mkfifo(tmp_path / "b.json")
        with pytest.raises(ProjectDamaged, match="no plain file"):
            read_inside(tmp_path, tmp_path / "b.json", 100)


def test_a_missing_file_is_none_and_a_long_one_is_cut_short(tmp_path: Path) -> None:
    assert read_inside(tmp_path, tmp_path / "a.json", 100) is None
    assert read_inside(tmp_path, tmp_path / "no" / "a.json", 100) is None
    check_inside(tmp_path, tmp_path / "a.json")
    (tmp_path / "a.json").write_bytes(b"x" * 1000)
    assert read_inside(tmp_path, tmp_path / "a.json", 100) == b"x" * 101


def test_a_file_that_the_system_keeps_back_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.json").write_bytes(b"x")

    def refuse(*arguments: object, **named: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(ProjectDamaged, match="permissions"):
        read_inside(tmp_path, tmp_path / "a.json", 100)


def test_what_writers_left_is_swept_and_nothing_else(tmp_path: Path) -> None:
    left = durable.temporary_beside(tmp_path / "a.json")
    left.write_bytes(b"half")
    (tmp_path / "a.json").write_bytes(b"whole")
    (tmp_path / "notes.tmp").write_bytes(b"theirs")
    sweep(tmp_path)
    assert {"a.json", "notes.tmp"} == {path.name for path in tmp_path.iterdir()}
