"""The one door: by suffix, never stale, never half a file."""

import dataclasses
from pathlib import Path

import pytest

from core.report.made_up import facts, findings, layout, png
from floorpan.errors import ReportProblem
from floorpan.report.documents import SUFFIXES, check_suffix, write_report, writing
from floorpan.report.pictures import VIEWS, ViewName

STALE = tuple(dataclasses.replace(one, stale=index == 3) for index, one in enumerate(findings()))


class Painter:
    """A renderer that notes what it was asked for."""

    def __init__(self, data: bytes) -> None:
        self.asked: list[tuple[str, int, int]] = []
        self._data = data

    def picture(self, view: ViewName, width: int, height: int) -> bytes:
        self.asked.append((view, width, height))
        return self._data

    def close(self) -> None:
        """Nothing is held."""


@pytest.mark.parametrize("suffix", [*SUFFIXES, ".PDF"])
def test_each_suffix_writes_its_kind(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"fit{suffix}"
    write_report(path, layout(), findings(), facts(layout()))
    starts = {".pdf": b"%PDF-", ".html": b"<!DOCTYPE html>", ".json": b"{", ".csv": b"\xef\xbb\xbfverdict"}
    assert path.read_bytes().startswith(starts[suffix.lower()])
    assert [one.name for one in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize("name", ["fit.docx", "fit", "fit.pdf.exe"])
def test_another_suffix_is_refused_with_a_remedy(tmp_path: Path, name: str) -> None:
    with pytest.raises(ReportProblem) as fault:
        write_report(tmp_path / name, layout(), findings(), facts(layout()))
    assert fault.value.code == "report-suffix"
    assert ".pdf" in fault.value.remedy
    with pytest.raises(ReportProblem):
        check_suffix(tmp_path / name)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_a_stale_finding_never_reaches_a_report(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"fit{suffix}"
    path.write_bytes(b"as it was")
    with pytest.raises(ReportProblem) as fault:
        write_report(path, layout(), STALE, facts(layout()))
    assert fault.value.code == "stale-findings"
    assert fault.value.facts == {"stale": 1}
    assert path.read_bytes() == b"as it was"


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(ReportProblem) as fault:
        write_report(tmp_path / "not there" / "fit.csv", layout(), findings(), facts(layout()))
    assert fault.value.code == "report-not-written"
    assert fault.value.remedy


def test_the_old_file_stands_until_the_new_one_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "fit.csv"
    path.write_bytes(b"as it was")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("floorpan.report.documents.os.fsync", full)
    with pytest.raises(ReportProblem) as fault:
        write_report(path, layout(), findings(), facts(layout()))
    assert "No space left" in fault.value.what
    assert path.read_bytes() == b"as it was"
    assert [one.name for one in tmp_path.iterdir()] == ["fit.csv"]


def test_work_that_is_closed_writes_nothing(tmp_path: Path) -> None:
    work = writing(tmp_path / "fit.pdf", layout(), findings(), facts(layout()), renderer=Painter(png()))
    told = [next(work) for _ in range(5)]
    work.close()
    shares = [step.done for step in told]
    assert shares == sorted(shares)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("suffix", [".pdf", ".html"])
def test_a_renderer_is_asked_for_every_view(tmp_path: Path, suffix: str) -> None:
    painter = Painter(png())
    write_report(tmp_path / f"fit{suffix}", layout(), findings(), facts(layout()), renderer=painter)
    assert [view for view, _, _ in painter.asked] == list(VIEWS)


def test_tables_need_no_pictures(tmp_path: Path) -> None:
    painter = Painter(b"")
    write_report(tmp_path / "fit.csv", layout(), findings(), facts(layout()), renderer=painter)
    assert painter.asked == []


@pytest.mark.parametrize("suffix", [".pdf", ".html"])
@pytest.mark.parametrize("data", [b"", b"not a picture", png()[:40]])
def test_a_picture_that_cannot_be_read_is_refused(tmp_path: Path, suffix: str, data: bytes) -> None:
    with pytest.raises(ReportProblem) as fault:
        write_report(tmp_path / f"fit{suffix}", layout(), findings(), facts(layout()), renderer=Painter(data))
    assert fault.value.code == "not-a-picture"
    assert list(tmp_path.iterdir()) == []


def test_the_date_may_be_handed_in(tmp_path: Path) -> None:
    path = tmp_path / "fit.html"
    write_report(path, layout(), findings(), facts(layout(), date=""), now="2027-01-02")
    assert "2027-01-02" in path.read_text(encoding="utf-8")
