"""The two commands: what they decide, tried on made-up environments, and that they are the only ones."""

import json
import sys
from pathlib import Path

import pytest

from contract.sources import TOP

sys.path.insert(0, str(TOP / "app"))
import set_up


@pytest.fixture
def made(tmp_path: Path) -> Path:
    """An environment whose Python is the one at hand, with a record that it is ready for the tests."""
    folder = tmp_path / "an environment"
    python = set_up.python_in(folder)
    python.parent.mkdir(parents=True)
    python.symlink_to(sys.executable)
    set_up.write_record(folder, "ready", "test")
    return folder


def change(folder: Path, **facts: str) -> None:
    record = folder / set_up.RECORD
    record.write_text(json.dumps(json.loads(record.read_text()) | facts))


def test_an_environment_made_for_the_tests_serves_both_commands(made: Path) -> None:
    assert set_up.is_ready(made, "test")
    assert set_up.is_ready(made, "bench")


def test_an_environment_made_for_the_bench_is_not_enough_for_the_tests(made: Path) -> None:
    change(made, extra="bench")
    assert set_up.is_ready(made, "bench")
    assert not set_up.is_ready(made, "test")
    assert set_up.can_be_kept(made)


@pytest.mark.parametrize("fact", ["project", "python", "top", "state"])
def test_an_environment_made_from_something_else_is_not_ready(made: Path, fact: str) -> None:
    change(made, **{fact: "something else"})
    assert not set_up.is_ready(made, "test")


def test_an_environment_whose_making_was_interrupted_is_made_anew(made: Path) -> None:
    change(made, state="making")
    assert not set_up.can_be_kept(made)


def test_an_environment_that_was_moved_is_made_anew(made: Path) -> None:
    change(made, top="elsewhere")
    assert not set_up.can_be_kept(made)


def test_an_environment_without_its_python_is_made_anew(made: Path) -> None:
    set_up.python_in(made).unlink()
    assert not set_up.is_ready(made, "test")
    assert not set_up.can_be_kept(made)


def test_a_record_cut_short_is_no_record(made: Path) -> None:
    (made / set_up.RECORD).write_text('{"state": "rea')
    assert set_up.read_record(made) == {}
    assert not set_up.is_ready(made, "test")


def test_an_environment_made_by_hand_is_kept(made: Path) -> None:
    (made / set_up.RECORD).unlink()
    assert set_up.can_be_kept(made)


def test_a_folder_that_is_no_environment_is_never_deleted(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("mine")
    with pytest.raises(set_up.CannotSetUp, match="FLOORPAN_VENV"):
        set_up.make_environment(tmp_path, "test")
    assert (tmp_path / "letter.txt").read_text() == "mine"


def test_the_environment_stands_where_it_is_asked_for(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("FLOORPAN_VENV", str(tmp_path / "here"))
    assert set_up.environment_folder() == tmp_path / "here"
    monkeypatch.delenv("FLOORPAN_VENV")
    assert set_up.environment_folder() == TOP / ".venv"


def test_what_is_missing_is_told_with_the_line_to_type(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        set_up, "missing_packages", lambda programs: {"libEGL.so.1": "libegl1", "Xvfb": "xvfb"}
    )
    monkeypatch.setattr(set_up.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(set_up.os, "geteuid", lambda: 1000)
    with pytest.raises(set_up.CannotSetUp) as told:
        set_up.supply_system(set_up.TEST_PROGRAMS)
    assert "\n    sudo apt-get install -y --no-install-recommends libegl1 xvfb\n" in str(told.value)
    assert "libEGL.so.1" in str(told.value)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux leaves these to the system")
def test_a_library_that_is_not_there_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        set_up, "WINDOW_LIBRARIES", (("libc.so.6", "libc6"), ("libmadeup.so.9", "libmadeup9"))
    )
    missing = set_up.missing_packages([("no-such-program", "madeup"), ("sh", "dash")])
    assert missing == {"libmadeup.so.9": "libmadeup9", "no-such-program": "madeup"}


def test_a_command_that_fails_explains_itself() -> None:
    fails = [sys.executable, "-c", "import sys; print('the mirror is away'); sys.exit(3)"]
    with pytest.raises(set_up.CannotSetUp, match=r"could not be done(.|\n)*the mirror is away"):
        set_up.quietly(fails, "it could not be done")


def test_what_is_checked_in_is_checked_by_the_command_people_type() -> None:
    lines = (TOP / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    commands = [line for line in lines if line.strip() and not line.startswith("#")]
    assert commands[-1] == "exec python3 tests/run"
    readme = (TOP / "README.md").read_text(encoding="utf-8")
    assert "python3 app/run" in readme
    assert "python3 tests/run" in readme


@pytest.mark.parametrize("script", ["app/run", "tests/run", ".ci/run"])
def test_the_commands_can_be_run_by_name(script: str) -> None:
    first, *_ = (TOP / script).read_text(encoding="utf-8").splitlines()
    assert first.startswith("#!/usr/bin/env ")
    assert sys.platform == "win32" or (TOP / script).stat().st_mode & 0o111
