"""A part from a mesh file by mouse: the menu, the file, its unit, what it stands for; set down, moved, kept, undone."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu, QWidget
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from core.geometry.test_mesh_solids import box_mesh
from floorpan.items import MeshPart
from floorpan.project.folder import open_project
from floorpan.scan.writers import write_ply
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.part_start import PartStart
from floorpan_app.window.works import Works

pytestmark = pytest.mark.usefixtures("window")


@pytest.fixture
def lid(tmp_path: Path) -> Path:
    path = tmp_path / "lid of the bin.ply"
    write_ply(box_mesh((0.0, 0.0, 0.0), (300.0, 160.0, 20.0)), path)
    return path


def click(widget: QWidget, at: QPoint | None = None) -> None:
    QTest.mouseClick(
        widget,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
        at if at is not None else widget.rect().center(),
    )


def menu_of(window: MainWindow, title: str) -> tuple[QMenu, QAction]:
    bar = window.menuBar()
    head = next(action for action in bar.actions() if action.text().replace("&", "") == title)
    menu = head.menu()
    assert isinstance(menu, QMenu)
    return menu, head


def asked_by_menu(qtbot: QtBot, window: MainWindow, works: Works) -> PartStart:
    """The last entry of the Place menu, by the mouse."""
    menu, head = menu_of(window, "Place")
    bar = window.menuBar()
    click(bar, bar.actionGeometry(head).center())
    qtbot.waitUntil(menu.isVisible)
    entry = menu.actions()[-1]
    assert entry.text().replace("&", "") == "A mesh from a file\u2026"
    click(menu, menu.actionGeometry(entry).center())
    dialog = works.flow.part_start
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() in (dialog.part, dialog.fault), timeout=15_000)
    return dialog


def test_a_lid_is_placed_from_its_file_kept_and_there_again(
    qtbot: QtBot, window: MainWindow, judged: Works, lid: Path, answers: Answers
) -> None:
    desk = judged.session.desk
    answers.then("scan_file", lid)
    dialog = asked_by_menu(qtbot, window, judged)
    assert dialog.windowTitle() == "Place a mesh from a file"
    assert dialog.part.chosen() == "mm"
    dialog.part.stands_for.setFocus()
    QTest.keyClicks(dialog.part.stands_for, "Console")
    assert dialog.part.stands_for.currentText() == "Console shell"
    click(dialog.part.take)
    qtbot.waitUntil(lambda: bool(desk.layout.of(MeshPart)), timeout=15_000)
    [part] = desk.layout.of(MeshPart)
    assert (part.name, part.counts_as, part.unit) == ("lid of the bin", "console shell", "mm")
    assert desk.selection == part.id
    assert desk.step == "controls"
    assert judged.session.document.undo_words() == "place lid of the bin"
    qtbot.waitUntil(lambda: judged.session.judging.fresh, timeout=60_000)
    found = {one.check for one in judged.session.judging.findings if part.id in one.subjects}
    assert {"hand-console", "seat-console", "thigh-console"} <= found
    judged.keeping.save()
    project = judged.session.projects.project
    assert project is not None
    again = open_project(project.folder)
    assert again.layout.of(MeshPart) == (part,)
    assert not again.missing
    judged.session.document.undo()
    assert desk.layout.of(MeshPart) == ()


def test_a_file_without_a_mesh_is_refused_and_nothing_changes(
    qtbot: QtBot, window: MainWindow, judged: Works, tmp_path: Path, answers: Answers
) -> None:
    layout = judged.session.document.layout
    project = judged.session.projects.project
    assert project is not None
    before = sorted(path.name for path in (project.folder / "imports").iterdir())
    (tmp_path / "no.stl").write_bytes(b"solid nothing\nendsolid\n")
    answers.then("scan_file", tmp_path / "no.stl")
    dialog = asked_by_menu(qtbot, window, judged)
    assert dialog.pages.currentWidget() is dialog.fault
    assert dialog.fault.what.text()
    click(dialog.fault.leave)
    assert judged.session.document.layout is layout
    assert sorted(path.name for path in (project.folder / "imports").iterdir()) == before


def test_a_unit_that_makes_it_too_long_is_told_beside_it(
    qtbot: QtBot, window: MainWindow, judged: Works, lid: Path, answers: Answers
) -> None:
    layout = judged.session.document.layout
    answers.then("scan_file", lid)
    dialog = asked_by_menu(qtbot, window, judged)
    click(dialog.part.choices["m"], QPoint(8, dialog.part.choices["m"].height() // 2))
    assert dialog.part.chosen() == "m"
    click(dialog.part.take)
    qtbot.waitUntil(lambda: dialog.part.fault.isVisible(), timeout=15_000)
    assert "300 m long" in dialog.part.fault.text()
    dialog.reject()
    assert judged.session.document.layout is layout


def test_a_part_of_a_hundred_is_proposed_in_mm_and_by_what_it_stands_for(
    qtbot: QtBot, window: MainWindow, judged: Works, tmp_path: Path, answers: Answers
) -> None:
    """100 long: 100 mm rather than 2.5 m; 35 long a seat in inches; what somebody said stays."""
    write_ply(box_mesh((0.0, 0.0, 0.0), (100.0, 60.0, 20.0)), tmp_path / "block.ply")
    write_ply(box_mesh((0.0, 0.0, 0.0), (35.0, 20.0, 18.0)), tmp_path / "seat.ply")
    answers.then("scan_file", tmp_path / "block.ply")
    dialog = asked_by_menu(qtbot, window, judged)
    page = dialog.part
    assert page.chosen() == "mm"
    assert "100 mm (read as mm)" in page.why.text()
    dialog.read(tmp_path / "seat.ply")
    qtbot.waitUntil(
        lambda: dialog.pages.currentWidget() is page and "seat" in page.why.text(), timeout=15_000
    )
    assert page.chosen() == "mm"
    page.stands_for.setFocus()
    QTest.keyClicks(page.stands_for, "Seat")
    assert page.counts_as() == "seat"
    assert page.chosen() == "in"
    click(page.choices["cm"])
    assert page.chosen() == "cm"
    QTest.keyClick(page.stands_for, Qt.Key.Key_End)
    assert page.counts_as() == "other"
    assert page.chosen() == "cm", "the builder's word stays"
    assert "likely" in page._sizes["mm"].text()
    click(page.leave)
