"""The start screen: ways to begin, hung projects, dropped files."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from floorpan_app import messages
from floorpan_app.settings import RecentProject, Settings
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.project_card import ProjectCard
from floorpan_app.window.start import StartScreen
from floorpan_app.window.works import Works

NOW = datetime(2026, 5, 6, 12, 0, tzinfo=UTC)


def mime(path: Path) -> QMimeData:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    return data


def drop(screen: StartScreen, path: Path) -> bool:
    """Drag a file over the screen and let go of it; whether it was taken."""
    data, at = mime(path), QPointF(300, 300)
    actions, button = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    none = Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(at.toPoint(), actions, data, button, none)
    screen.dragEnterEvent(enter)
    if enter.isAccepted():
        screen.dropEvent(QDropEvent(at, actions, data, button, none))
    return enter.isAccepted()


def test_a_window_begins_with_three_ways_and_few_menus(window: MainWindow) -> None:
    assert [way.text() for way in window.start.ways.values()] == [
        "Start from a scan…",
        "Open a project…",
        "Open the sample car",
    ]
    shown = [action.text() for action in window.menuBar().actions() if action.isVisible()]
    assert shown == ["Project", "See", "Help"]
    assert window.status.hint() == messages.GEOMETRY_ONLY


@pytest.mark.parametrize(("way", "kind"), [("scan", "scan_file"), ("open", "project"), ("sample", "folder")])
def test_a_way_asks_for_what_it_needs(window: MainWindow, answers: Answers, way: str, kind: str) -> None:
    answers.then(kind, None)
    QTest.mouseClick(window.start.ways[way], Qt.MouseButton.LeftButton)
    assert [asked for asked, _ in answers.asked] == [kind]


def test_a_way_is_taken_with_the_space_key(window: MainWindow, answers: Answers) -> None:
    answers.then("project", None)
    window.start.ways["open"].setFocus()
    QTest.keyClick(window.start.ways["open"], Qt.Key.Key_Space)
    assert answers.asked[0][0] == "project"


def test_an_opened_project_hangs_on_the_start_screen_with_its_worst_sentence(
    window: MainWindow, judged: Works, project: Path
) -> None:
    judged.flow.close_project()
    [card] = window.start.cards()
    assert card.text() == "Small"
    assert card.project.folder == project
    assert card.project.verdict is not None
    assert card.project.sentence.endswith(".")
    assert any(line.role == "console" for line in card.project.outline)
    assert any(line.role == "floor" for line in card.project.outline)


def test_a_hung_project_is_opened_by_a_click(
    qtbot: QtBot, window: MainWindow, opened: Works, project: Path
) -> None:
    opened.flow.close_project()
    assert not opened.has_project()
    QTest.mouseClick(window.start.cards()[0], Qt.MouseButton.LeftButton)
    qtbot.waitUntil(opened.has_project, timeout=10_000)


def test_a_project_that_is_gone_does_not_hang(window: MainWindow, settings: Settings, tmp_path: Path) -> None:
    settings.hang(RecentProject(folder=tmp_path / "gone", title="Gone"))
    window.show_start()
    assert window.start.cards() == ()


def test_a_dropped_project_is_opened(qtbot: QtBot, window: MainWindow, works: Works, project: Path) -> None:
    assert drop(window.start, project)
    qtbot.waitUntil(works.has_project, timeout=10_000)


def test_a_dropped_file_is_read_as_a_scan(
    qtbot: QtBot, window: MainWindow, works: Works, floor_file: Path
) -> None:
    assert drop(window.start, floor_file)
    dialog = works.flow.scan_start
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.pages.currentWidget() is dialog.unit, timeout=10_000)
    dialog.reject()


def test_what_is_no_file_is_not_taken(window: MainWindow) -> None:
    data = QMimeData()
    data.setText("a word")
    enter = QDragEnterEvent(
        QPointF(1, 1).toPoint(),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    enter.ignore()
    window.start.dragEnterEvent(enter)
    assert not enter.isAccepted()


@pytest.mark.parametrize(
    ("when", "shown"),
    [
        ("2026-05-05T09:00+00:00", "Tuesday"),
        ("2026-03-02T09:00+00:00", "2 March 2026"),
        ("not a date", ""),
        ("", ""),
    ],
)
def test_a_date_is_said_as_people_say_it(qtbot: QtBot, tmp_path: Path, when: str, shown: str) -> None:
    card = ProjectCard(RecentProject(folder=tmp_path, title="Tin coupé", when=when), NOW)
    qtbot.addWidget(card)
    assert card.accessibleName() == f"Tin coupé: {messages.NEVER_CHECKED} {shown}".strip()


def test_cards_hang_beside_each_other_as_many_as_fit(qtbot: QtBot, tmp_path: Path) -> None:
    screen = StartScreen(clock=lambda: NOW)
    qtbot.addWidget(screen)
    screen.show_recent([RecentProject(folder=tmp_path, title=f"Car {n}") for n in range(5)])
    screen.resize(1366, 700)
    screen.show()
    qtbot.waitExposed(screen)
    places = [card.pos() for card in screen.cards()]
    assert len({place.y() for place in places}) == 2
    assert all(card.geometry().right() <= card.parentWidget().width() for card in screen.cards())
    screen.resize(900, 560)
    qtbot.wait(10)
    assert len({card.pos().x() for card in screen.cards()}) == 1
