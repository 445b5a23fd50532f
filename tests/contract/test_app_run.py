"""`app/run`: what it starts, with a display and without one, tried against a made-up environment."""

import sys
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from types import ModuleType

import pytest

from contract.sources import TOP

PYTHON = Path("made-up-python")
COMMAND = ["made-up-python", "-m", "floorpan_app.command"]


class Started:
    """What would have been started, in order. The sample command writes a project, as the real one does."""

    def __init__(self) -> None:
        self.commands: list[list[str]] = []
        self.ends = 0

    def call(self, command: list[str]) -> int:
        self.commands.append(command)
        if "sample" in command and self.ends == 0:
            Path(command[-1]).mkdir()
            Path(command[-1], "project.json").write_text("{}")
        return self.ends

    def hand_over(self, python: Path, arguments: list[str]) -> None:
        self.commands.append([str(python), *arguments])
        raise SystemExit(0)


@pytest.fixture
def started() -> Started:
    return Started()


@pytest.fixture
def app_run(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, started: Started) -> ModuleType:
    """The script as a module, with its sample in a folder of the test's own and nothing really started."""
    monkeypatch.syspath_prepend(str(TOP / "app"))
    loader = SourceFileLoader("app_run", str(TOP / "app" / "run"))
    spec = spec_from_loader("app_run", loader)
    assert spec is not None
    script = module_from_spec(spec)
    loader.exec_module(script)
    monkeypatch.setattr(script, "SAMPLE", tmp_path / "build" / "sample-car.floorpan")
    monkeypatch.setattr(script, "PAPERS", tmp_path / "build" / "sample-fit.pdf")
    monkeypatch.setattr(script, "begin", lambda extra: PYTHON)
    monkeypatch.setattr(script, "hand_over", started.hand_over)
    monkeypatch.setattr(script.subprocess, "call", started.call)
    monkeypatch.setattr(sys, "argv", ["app/run"])
    return script


def run(script: ModuleType) -> int:
    with pytest.raises(SystemExit) as ended:
        script.main()
    return int(ended.value.code or 0)


def test_with_a_display_the_bench_opens_on_the_sample(
    app_run: ModuleType, started: Started, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DISPLAY", ":5")
    assert run(app_run) == 0
    sample = str(app_run.SAMPLE)
    assert started.commands == [
        [*COMMAND, "sample", sample],
        ["made-up-python", "-m", "floorpan_app.main", sample],
    ]


def test_a_sample_that_is_there_is_kept(
    app_run: ModuleType, started: Started, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DISPLAY", ":5")
    run(app_run)
    run(app_run)
    assert [command[-2] for command in started.commands] == [
        "sample",
        "floorpan_app.main",
        "floorpan_app.main",
    ]


def test_a_sample_cut_short_is_written_again(app_run: ModuleType, started: Started) -> None:
    app_run.SAMPLE.mkdir(parents=True)
    (app_run.SAMPLE / "imports").mkdir()
    app_run.write_sample(PYTHON)
    assert (app_run.SAMPLE / "project.json").exists()
    assert not (app_run.SAMPLE / "imports").exists()


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
def test_without_a_display_report_and_pictures_are_written_and_its_place_is_told(
    app_run: ModuleType,
    started: Started,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert run(app_run) == 0
    sample, papers = str(app_run.SAMPLE), str(app_run.PAPERS)
    assert started.commands[-2:] == [
        [*COMMAND, "report", sample, "-o", papers],
        ["made-up-python", "-m", "floorpan_app.sample_pictures", sample, str(app_run.PAPERS.parent)],
    ]
    told = capsys.readouterr().out
    assert "no display" in told
    assert papers in told


def test_arguments_go_to_the_floorpan_command(
    app_run: ModuleType, started: Started, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "argv", ["app/run", "check", "my car.floorpan", "--json"])
    assert run(app_run) == 0
    assert started.commands == [[*COMMAND, "check", "my car.floorpan", "--json"]]


def test_what_cannot_be_written_ends_as_the_command_ended(app_run: ModuleType, started: Started) -> None:
    started.ends = 2
    assert run(app_run) == 2
    assert len(started.commands) == 1
