"""`floorpan report`: what it writes, where, and what it refuses."""

import json
from pathlib import Path
from typing import Any

import pytest

from core.cli.told import Capture, Told
from core.report import made_up
from floorpan.cli import commands
from floorpan.project.folder import PROJECT
from floorpan.project.imports import IMPORTS

MAGIC = {".pdf": b"%PDF-", ".html": b"<!", ".json": b"{", ".csv": b""}


@pytest.mark.parametrize("suffix", list(MAGIC))
def test_report_writes_what_the_ending_says(
    suffix: str, project: Path, tmp_path: Path, capsys: Capture
) -> None:
    target = tmp_path / f"Bericht für Z{suffix.upper()}"
    told = Told(capsys, "report", project, "-o", target, "--json")
    assert (told.code, told.err) == (0, "")
    assert told.document() == {"format": 1, "project": "Small", "file": str(target)}
    data = target.read_bytes()
    assert data.lstrip(b"\xef\xbb\xbf").startswith(MAGIC[suffix])
    assert len(data) > 1000


def test_the_json_report_holds_what_check_says(project: Path, tmp_path: Path, capsys: Capture) -> None:
    checked = Told(capsys, "check", project, "--json").document()
    Told(capsys, "report", project, "-o", tmp_path / "r.json")
    report = json.loads((tmp_path / "r.json").read_text(encoding="utf-8"))
    assert report["findings"] == checked["findings"]
    assert report["scans"][0]["file"] == "Boden eben.ply"
    assert report["scans"][0]["triangles"] == 3200


def test_pictures_come_from_the_renderer_that_is_handed_in(
    project: Path, tmp_path: Path, capsys: Capture
) -> None:
    asked: list[str] = []

    class Pictures:
        def begin(self) -> None:
            asked.append("begun")

        def renderer_of(self, *_: object) -> Any:
            return self

        def picture(self, view: str, width: int, height: int) -> bytes:
            asked.append(view)
            return made_up.png(width=8, height=8)

        def close(self) -> None:
            asked.append("closed")

    told = Told(capsys, "report", project, "-o", tmp_path / "r.pdf", renderer=Pictures())
    assert told.code == 0
    assert asked == ["begun", "free", "driver", "above", "rear", "closed"]
    assert Told(capsys, "report", project, "-o", tmp_path / "r.csv", renderer=Pictures()).code == 0
    assert asked[-1] == "closed", "a table holds no pictures"


def test_a_report_of_no_known_kind_is_refused_before_any_work(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    monkeypatch.setattr(commands, "opening", None)
    for name in ("r.doc", "r", ".pdf"):
        told = Told(capsys, "report", project, "-o", tmp_path / name)
        assert (told.code, told.err.count("\n")) == (2, 1)
        assert ".pdf, .html, .json or .csv" in told.err


def test_a_report_that_cannot_be_written_is_told(project: Path, tmp_path: Path, capsys: Capture) -> None:
    told = Told(capsys, "report", project, "-o", tmp_path / "no" / "such" / "r.csv")
    assert (told.code, told.err.count("\n")) == (2, 1)


def test_a_report_never_takes_the_place_of_the_project(project: Path, capsys: Capture) -> None:
    before = {path: path.read_bytes() for path in sorted(project.rglob("*")) if path.is_file()}
    for target in (project / PROJECT, project / IMPORTS / "fit.pdf"):
        told = Told(capsys, "report", project, "-o", target)
        assert told.code == 2
        assert "part of the project itself" in told.err
        assert told.err.count("\n") == 1
    assert {path: path.read_bytes() for path in sorted(project.rglob("*")) if path.is_file()} == before


def test_a_report_needs_a_place_that_is_there(project: Path, tmp_path: Path, capsys: Capture) -> None:
    assert "no folder" in Told(capsys, "report", project, "-o", tmp_path / "none" / "fit.pdf").err
    (tmp_path / "fit.pdf").mkdir()
    assert "is a folder" in Told(capsys, "report", project, "-o", tmp_path / "fit.pdf").err
