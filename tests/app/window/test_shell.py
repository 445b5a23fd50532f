"""The shell is light: it is painted before the core and the 3D library are imported."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from floorpan_app.settings import Settings
from floorpan_app.theme.follow import ThemeFollower
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.works import Works

HEAVY = ("numpy", "scipy", "trimesh", "pyvista", "vtkmodules", "reportlab", "shapely")


NEEDED_FOR_A_WINDOW = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


def loaded(code: str) -> set[str]:
    """Which of the heavy libraries a program loads."""
    told = f"{code}\nimport sys\nprint(*[name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


def test_the_shell_loads_nothing_heavy() -> None:
    assert loaded("import floorpan_app.main") == set()


def test_the_command_loads_no_toolkit_until_the_bench_is_asked_for() -> None:
    told = "import floorpan_app.command, sys\nassert not any('PySide' in name for name in sys.modules)"
    assert loaded(told) == set()


def test_the_command_hands_words_to_the_headless_front(capsys: pytest.CaptureFixture[str]) -> None:
    from floorpan_app.command import main

    assert main(["--version"]) == 0
    assert capsys.readouterr().out.startswith("floorpan ")
    assert main(["scan", "nothing.stl"]) == 2


def test_the_command_without_words_opens_the_bench(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[list[str]] = []
    monkeypatch.setattr("floorpan_app.main.main", lambda arguments: begun.append(arguments) or 0)
    from floorpan_app.command import main

    assert main([]) == 0
    assert begun == [[]]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
def test_without_a_display_one_line_says_what_works() -> None:
    bare = {name: value for name, value in os.environ.items() if name not in NEEDED_FOR_A_WINDOW}
    ask = [sys.executable, "-m", "floorpan_app.command"]
    done = subprocess.run(ask, capture_output=True, text=True, env=bare)
    assert (done.returncode, done.stdout, done.stderr.count("\n")) == (2, "", 1)
    assert "no display" in done.stderr
    assert "--help" in done.stderr


@pytest.mark.real_view
def test_the_real_bench_opens_a_project_shows_it_and_goes(
    qapp: QApplication, qtbot: QtBot, settings: Settings, answers: Answers, project: Path
) -> None:
    from floorpan_app.viewport.view import Viewport

    follower = ThemeFollower(qapp, "light")
    window = MainWindow(settings, follower, asking=answers)
    window.resize(1366, 768)
    with qtbot.waitExposed(window):
        window.show()
    native = window.winId()
    window.open(project)
    qtbot.waitUntil(lambda: window.works is not None and window.works.page is not None, timeout=60_000)
    works = window.works
    assert isinstance(works, Works)
    # Without a spare GL widget from the beginning the toolkit builds a shown window anew for the first one.
    assert window.winId() == native
    qtbot.waitUntil(lambda: works.session.judging.fresh, timeout=60_000)
    page = works.page
    assert page is not None
    viewport = page.view.picture
    assert isinstance(viewport, Viewport)
    for step in ("axes", "controls", "check", "report"):
        works.session.desk.go_to(step)  # type: ignore[arg-type]
    qtbot.waitUntil(lambda: len({viewport.screenshot().pixel(x, 300) for x in range(0, 900, 9)}) > 5)
    window.actions_.action("theme dark").trigger()
    window.actions_.action("drawer").trigger()
    qtbot.wait(50)
    assert window.close()
    window.deleteLater()
    follower.deleteLater()
