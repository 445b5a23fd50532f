import json
import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from floorpan.errors import ProjectDamaged, ProjectLocked
from floorpan.project import lock as locks
from floorpan.project.lock import LOCK, Holder, is_stale, lock

HELD = "from pathlib import Path; import sys; from floorpan.project.lock import lock; lock(Path(sys.argv[1]))"


def write_lock(folder: Path, **named: object) -> None:
    held = {"host": socket.gethostname(), "process": os.getpid(), "began": "", **named}
    (folder / LOCK).write_text(json.dumps(held), encoding="utf-8")


def gone_process() -> int:
    """The number of a process that has just ended."""
    child = subprocess.Popen([sys.executable, "-c", ""])
    child.wait()
    return child.pid


def test_a_project_is_held_once_and_free_again(tmp_path: Path) -> None:
    with lock(tmp_path) as held:
        assert Holder.here() == held.holder
        with pytest.raises(ProjectLocked) as caught:
            lock(tmp_path)
        assert (socket.gethostname(), os.getpid()) == (
            caught.value.facts["host"],
            caught.value.facts["process"],
        )
        assert caught.value.facts["stale"] is False
        with pytest.raises(ProjectLocked):
            lock(tmp_path, take_stale=True)
    assert not (tmp_path / LOCK).exists()
    lock(tmp_path).release()


def test_a_window_that_was_killed_leaves_a_lock_that_can_be_taken(tmp_path: Path) -> None:
    subprocess.run([sys.executable, "-c", HELD, str(tmp_path)], check=True)
    assert is_stale(tmp_path)
    with pytest.raises(ProjectLocked, match="window that is gone") as caught:
        lock(tmp_path)
    assert caught.value.facts["stale"] is True
    with lock(tmp_path, take_stale=True):
        assert not is_stale(tmp_path)


def test_a_lock_of_another_computer_is_never_stale(tmp_path: Path) -> None:
    write_lock(tmp_path, host="garage-two", process=gone_process())
    with pytest.raises(ProjectLocked, match="on garage-two") as caught:
        lock(tmp_path, take_stale=True)
    assert caught.value.facts["stale"] is False


def test_a_process_number_used_again_does_not_keep_a_lock_alive(tmp_path: Path) -> None:
    if not Holder.here().began:
        pytest.skip("this system does not tell when a process began")
    write_lock(tmp_path, began="another boot/12345")
    assert is_stale(tmp_path)


def test_where_nobody_tells_when_it_began_a_running_process_holds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_lock(tmp_path, began="another boot/12345")
    monkeypatch.setattr(locks, "_began", lambda process: "")
    assert not is_stale(tmp_path)


@pytest.mark.parametrize("text", [b"", b"{", b"[]", b'"x"', b'{"host": 1}', b"\xff\x00", b"[" * 5000])
def test_a_lock_that_names_nobody_can_be_taken(text: bytes, tmp_path: Path) -> None:
    (tmp_path / LOCK).write_bytes(text)
    with pytest.raises(ProjectLocked) as caught:
        lock(tmp_path)
    assert caught.value.facts["stale"] is True
    lock(tmp_path, take_stale=True).release()


@pytest.mark.parametrize("process", [0, -1, 10**30])
def test_a_number_that_is_no_process_is_gone(process: int, tmp_path: Path) -> None:
    write_lock(tmp_path, process=process)
    assert is_stale(tmp_path)


def test_a_lock_that_another_took_meanwhile_stays(tmp_path: Path) -> None:
    held = lock(tmp_path)
    write_lock(tmp_path, host="garage-two")
    held.release()
    assert (tmp_path / LOCK).exists()


def test_a_folder_that_takes_no_files_can_be_looked_at_only(tmp_path: Path) -> None:
    with pytest.raises(ProjectLocked, match="look only"):
        lock(tmp_path / "not there")


def test_a_link_in_its_place_is_not_followed(tmp_path: Path) -> None:
    if sys.platform == "win32":
        pytest.skip("links of a POSIX system")
    (tmp_path / LOCK).symlink_to(tmp_path / "elsewhere")
    with pytest.raises(ProjectDamaged, match="link"):
        lock(tmp_path)
    assert not (tmp_path / "elsewhere").exists()
