"""The window with a plain picture in the place of the 3D view, on a small project, with every question answered."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from app.window.plain_parts import plain_parts
from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.derive import Bench
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.project.folder import create, import_scan, open_project, save
from floorpan.project.store import ProjectStore
from floorpan.scan.writers import write_ply
from floorpan_app.settings import Settings
from floorpan_app.theme.follow import ThemeFollower, apply_theme
from floorpan_app.theme.fonts import use_fonts
from floorpan_app.theme.record import load_theme
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def app(qapp: QApplication) -> Iterator[QApplication]:
    use_fonts(100)
    apply_theme(qapp, load_theme("light"))
    yield qapp
    apply_theme(qapp, load_theme("light"))


@pytest.fixture(scope="session")
def kept_project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One of everything on a level floor."""
    folder = tmp_path_factory.mktemp("window")
    mesh = level_floor()
    write_ply(mesh, folder / "floor.ply")
    project = create(folder / "small.floorpan", "Small", now=NOON)
    project, one = finish(import_scan(project, folder / "floor.ply"))
    layout = small_layout(raw_scan(mesh))
    layout = edits.change_scan(layout, "scan-1", sha256=one.sha256, original_name=one.original_name)
    save(project, edits.rename_project(layout, "Small"), now=NOON)
    return project.folder


@pytest.fixture
def project(kept_project: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may harm."""
    return Path(shutil.copytree(kept_project, tmp_path / "shelf" / kept_project.name))


@pytest.fixture
def floor_file(tmp_path: Path) -> Path:
    """A scan of a level floor, 1.4 m square, as a file that carries no unit."""
    path = tmp_path / "bare floor.ply"
    write_ply(level_floor(), path)
    return path


@pytest.fixture
def answers(tmp_path: Path) -> Answers:
    return Answers()


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    return Settings(QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat))


def nobody_foresaw(saved: str, report: str) -> bool:
    """In the place of the dialog, which would wait for an answer for ever."""
    pytest.fail(report)


@pytest.fixture
def window(
    qapp: QApplication,
    qtbot: QtBot,
    settings: Settings,
    answers: Answers,
    monkeypatch: pytest.MonkeyPatch,
) -> Iterator[MainWindow]:
    """A shown window that is ready. Without a GL widget it is drawn in half the time."""
    monkeypatch.setattr("floorpan_app.window.main_window.QOpenGLWidget", QWidget)
    monkeypatch.setattr("floorpan_app.window.main_window.ask_with_dialog", nobody_foresaw)
    follower = ThemeFollower(qapp, "light")
    window = MainWindow(settings, follower, asking=answers, make_parts=plain_parts)
    window.resize(1366, 768)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    qtbot.waitUntil(lambda: window.works is not None, timeout=20_000)
    yield window
    answers.always("choose", "leave")
    window.close()
    window.deleteLater()
    follower.deleteLater()


@pytest.fixture
def works(window: MainWindow) -> Works:
    """What is behind the window."""
    assert window.works is not None
    return window.works


@pytest.fixture
def opened(qtbot: QtBot, window: MainWindow, works: Works, project: Path) -> Works:
    """The works with the small project on the bench."""
    window.open(project)
    qtbot.waitUntil(lambda: works.page is not None and works.has_project(), timeout=20_000)
    return works


@pytest.fixture
def judged(qtbot: QtBot, opened: Works) -> Works:
    """The same, with every finding fresh."""
    qtbot.waitUntil(lambda: opened.session.judging.fresh, timeout=60_000)
    return opened


@dataclass(frozen=True)
class Case:
    """The small project's layout with its findings, judged without a window."""

    layout: Layout
    findings: tuple[Finding, ...]


@pytest.fixture(scope="session")
def case(kept_project: Path) -> Case:
    project = open_project(kept_project)
    bench = Bench(ProjectStore(project))
    return Case(project.layout, finish(Evaluator(bench).settle(project.layout)))


@pytest.fixture
def rename() -> Callable[[Works, str], None]:
    """A change to the layout."""

    def change(works: Works, title: str) -> None:
        done = works.session.desk.change(
            f"call it {title}", lambda layout: edits.rename_project(layout, title)
        )
        assert done

    return change
