"""`python -m floorpan` as a shell or a script runs it."""

import json
import os
import signal
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

CORE = Path(__file__).parents[3] / "core"


def run(*words: str | Path, **named: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-W", "error", "-m", "floorpan", *map(str, words)],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(CORE), "PYTHONIOENCODING": "utf-8", **named},
    )


def test_version_and_help_end_in_zero() -> None:
    told = run("--version")
    assert (told.returncode, told.stdout, told.stderr) == (0, f"floorpan {version('floorpan')}\n", "")
    told = run("--help")
    assert (told.returncode, told.stderr) == (0, "")
    assert "floorpan check DIR" in told.stdout


@pytest.mark.parametrize(
    "words", [[], ["sing"], ["check"], ["check", "nowhere"], ["scan", "x.ply", "--unit", "y"]]
)
def test_what_cannot_be_done_ends_in_two_with_one_line(words: list[str], tmp_path: Path) -> None:
    told = run(*words)
    assert (told.returncode, told.stdout, told.stderr.count("\n")) == (2, "", 1)
    assert told.stderr.startswith("floorpan: ")


def test_check_ends_in_one_where_something_is_not_clear(project: Path) -> None:
    told = run("check", project, "--json")
    document = json.loads(told.stdout)
    assert any(found["verdict"] != "clear" for found in document["findings"])
    assert (told.returncode, told.stderr) == (1, "")


def test_check_ends_in_zero_where_nothing_is_amiss(empty_project: Path) -> None:
    told = run("check", empty_project)
    assert (told.returncode, told.stderr) == (0, "")


def test_a_console_without_our_letters_still_gets_an_answer(project: Path) -> None:
    told = run("check", project, PYTHONIOENCODING="ascii")
    assert told.returncode == 1
    assert told.stderr == ""
    json.loads(run("check", project, "--json", PYTHONIOENCODING="cp1252").stdout)


def test_nothing_with_windows_is_loaded(project: Path) -> None:
    told = run("-v", "check", project, PYTHONVERBOSE="")
    assert told.returncode == 1
    probe = (
        "import sys; from floorpan.cli import main; main(sys.argv[1:]); "
        "print([name for name in sys.modules if name.partition('.')[0] in "
        "('PySide6', 'pyvista', 'pyvistaqt', 'vtkmodules')], file=sys.stderr)"
    )
    ended = subprocess.run(
        [sys.executable, "-c", probe, "check", str(project)],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(CORE), "PYTHONIOENCODING": "utf-8"},
    )
    assert ended.stderr == "[]\n"


def test_help_and_version_load_nothing_heavy() -> None:
    probe = (
        "import sys; from floorpan.cli import main; main(['--version']); main(['check', '--help']); "
        "print([name for name in ('numpy', 'scipy', 'trimesh', 'reportlab') if name in sys.modules], file=sys.stderr)"
    )
    ended = subprocess.run(
        [sys.executable, "-c", probe],
        capture_output=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(CORE)},
    )
    assert ended.stderr == "[]\n"


@pytest.mark.skipif(sys.platform == "win32", reason="signals and pipes of a POSIX system")
def test_a_reader_that_has_had_enough_is_no_fault(project: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-m", "floorpan", "check", str(project)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(CORE)},
    )
    assert child.stdout is not None
    assert child.stderr is not None
    child.stdout.close()
    told = child.stderr.read()
    child.stderr.close()
    assert (child.wait(), told) == (130, b"")


@pytest.mark.skipif(sys.platform == "win32", reason="signals of a POSIX system")
def test_one_that_is_stopped_ends_in_130_and_leaves_no_project(tmp_path: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-m", "floorpan", "sample", str(tmp_path / "car")],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(CORE)},
    )
    # Any moment will do: most of these seconds go into the simulated scan.
    with pytest.raises(subprocess.TimeoutExpired):
        child.wait(2.0)
    child.send_signal(signal.SIGINT)
    out, told = child.communicate()
    assert (child.returncode, out) == (130, b"")
    assert told == b"floorpan: Stopped. Nothing more was written.\n"
    assert not (tmp_path / "car").exists()
