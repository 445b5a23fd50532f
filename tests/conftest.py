"""What every test stands on: a display of its own, the shared data, guards against what is left behind."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import hypothesis
import pytest

import shared_data as shared
from own_display import NoDisplay, OwnDisplay

APP_TESTS = Path(__file__).parent / "app"

display = OwnDisplay()
failed = pytest.StashKey[bool]()

# The same examples in every run, and no clock: a slow neighbour is no failure.
hypothesis.settings.register_profile("same every time", deadline=None, derandomize=True, database=None)
hypothesis.settings.register_profile("long", deadline=None, max_examples=1000, print_blob=True)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="run the tests marked long as well")


def pytest_configure(config: pytest.Config) -> None:
    # Before anything of Qt reads the environment.
    try:
        display.start()
    except NoDisplay as problem:
        pytest.exit(str(problem), returncode=pytest.ExitCode.USAGE_ERROR)
    hypothesis.settings.load_profile("long" if config.getoption("--long") else "same every time")
    config.pluginmanager.register(shared.Watch.of_this_run(), "shared data watch")


def pytest_unconfigure() -> None:
    display.stop()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--long"):
        return
    long = [item for item in items if item.get_closest_marker("long")]
    if long:
        config.hook.pytest_deselected(items=long)
        items[:] = [item for item in items if item not in long]


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Iterator[None]:
    report = yield
    item.stash[failed] = item.stash.get(failed, False) or report.failed
    return report


@pytest.fixture(scope="session")
def shared_data() -> Path:
    """The shared data folder beside the repository; the test skips where it is absent."""
    if not shared.FOLDER.is_dir():
        pytest.skip(shared.ABSENT)
    return shared.FOLDER


@pytest.fixture(scope="session")
def qapp_cls() -> type[Any]:
    """The application class, told to share GL contexts before the first one is made.

    Without it the viewport loses its picture when a dock moves it to another window.
    """
    from PySide6.QtCore import QCoreApplication, Qt
    from PySide6.QtWidgets import QApplication

    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    return QApplication


@pytest.fixture(autouse=True)
def nothing_left_behind(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fails a test of the app that leaves a thread, a timer, a window or a plotter behind."""
    if not request.path.is_relative_to(APP_TESTS):
        yield
        return
    from left_behind import Watch

    with pytest.MonkeyPatch.context() as patch:
        watch = Watch(patch, pictures=request.node.get_closest_marker("real_view") is not None)
        yield
        # A failed test's traceback holds its windows: that is not what is wrong with it.
        left = [] if request.node.stash.get(failed, False) else watch.left()
        watch.clear_away()
    if left:
        pytest.fail("left behind: " + "; ".join(left), pytrace=False)
