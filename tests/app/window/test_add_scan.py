"""One scan more for the project on the bench: read, its unit settled, copied in, taken in hand, kept and reopened."""

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from core.small_case import level_floor
from floorpan.geometry.mesh import Mesh
from floorpan.project.folder import open_project
from floorpan.scan.writers import write_ply
from floorpan_app.window.scan_start import ScanStart
from floorpan_app.window.works import Works

pytestmark = pytest.mark.usefixtures("window")


@pytest.fixture
def second(tmp_path: Path) -> Path:
    floor = level_floor(cells=20)
    path = tmp_path / "with seats.ply"
    write_ply(Mesh(floor.points + np.array([5.0, 0.0, 2.0]), floor.faces), path)
    return path


def adding(qtbot: QtBot, works: Works, source: Path) -> ScanStart:
    works.flow.add_scan(source)
    dialog = works.flow.scan_start
    assert dialog is not None
    assert dialog.windowTitle() == "Add a scan"
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() in (dialog.unit, dialog.fault), timeout=15_000)
    return dialog


def take(button: object) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)  # type: ignore[call-overload]


def test_a_second_scan_is_added_kept_and_there_again(
    qtbot: QtBot, judged: Works, second: Path, answers: Answers
) -> None:
    desk = judged.session.desk
    prepared = judged.session.judging.bench
    dialog = adding(qtbot, judged, second)
    take(dialog.unit.take)
    qtbot.waitUntil(lambda: len(desk.layout.scans) == 2, timeout=15_000)
    added = desk.layout.scans[1]
    assert (added.name, added.role, added.unit) == ("with seats", "other", "mm")
    assert desk.step == "scan"
    assert desk.scans.of(desk.layout) is added
    assert judged.session.judging.bench is prepared, "what was made ready of the first scan stays ready"
    assert judged.session.document.undo_words() == "add a scan"
    judged.keeping.save()
    project = judged.session.projects.project
    assert project is not None
    again = open_project(project.folder)
    assert [scan.sha256 for scan in again.layout.scans] == [scan.sha256 for scan in desk.layout.scans]
    assert not again.missing
    judged.session.document.undo()
    assert len(desk.layout.scans) == 1
    assert desk.scans.of(desk.layout) is desk.layout.scans[0]


def test_a_bad_file_adds_nothing(qtbot: QtBot, judged: Works, tmp_path: Path) -> None:
    layout = judged.session.document.layout
    (tmp_path / "no.stl").write_bytes(b"")
    dialog = adding(qtbot, judged, tmp_path / "no.stl")
    assert dialog.pages.currentWidget() is dialog.fault
    dialog.reject()
    assert judged.session.document.layout is layout


def test_the_same_file_again_is_kept_once(qtbot: QtBot, judged: Works, second: Path) -> None:
    desk = judged.session.desk
    for count in (2, 3):
        dialog = adding(qtbot, judged, second)
        take(dialog.unit.take)
        qtbot.waitUntil(lambda count=count: len(desk.layout.scans) == count, timeout=15_000)
    project = judged.session.projects.project
    assert project is not None
    assert len(project.imports) == 2
    assert len({scan.id for scan in desk.layout.scans}) == 3
