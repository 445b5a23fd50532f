"""The guards of the tests themselves: what is left behind is found, and shared data is not passed over."""

import os
import sys
import threading
from collections.abc import Iterator
from typing import cast

import pytest
from PySide6.QtCore import QObject, QThread, QTimer, Signal
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.exceptions import capture_exceptions

import shared_data as shared
from left_behind import Watch


@pytest.fixture
def watch(qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> Iterator[Watch]:
    monkeypatch.setattr("left_behind.GRACE_S", 0.1)
    watch = Watch(monkeypatch)
    yield watch
    watch.clear_away()


def test_a_running_timer_is_found_with_the_line_that_started_it(watch: Watch) -> None:
    timer = QTimer()
    timer.start(50_000)
    [told] = watch.left()
    assert "timer" in told
    assert "test_guards.py" in told
    watch.clear_away()
    assert not timer.isActive()
    assert watch.left() == []


def test_an_open_window_is_found_and_cleared_away(watch: Watch) -> None:
    window = QWidget(objectName="left_open")
    window.show()
    [told] = watch.left()
    assert "left_open" in told
    watch.clear_away()
    assert watch.left() == []


def test_a_thread_of_qt_is_found(watch: Watch) -> None:
    thread = QThread()
    thread.start()
    [told] = watch.left()
    assert "thread" in told
    thread.quit()
    thread.wait()
    assert watch.left() == []


def test_a_thread_of_python_is_found(watch: Watch) -> None:
    end = threading.Event()
    thread = threading.Thread(target=end.wait, name="forgotten")
    thread.start()
    [told] = watch.left()
    assert "forgotten" in told
    end.set()
    thread.join()
    assert watch.left() == []


def test_a_plotter_is_found(qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> None:
    kind = type("BasePlotter", (), {})
    monkeypatch.setattr("left_behind.GRACE_S", 0.1)
    monkeypatch.setitem(sys.modules, "pyvista", sys)
    watch = Watch(monkeypatch, pictures=True)
    plotter = kind()
    assert watch.left() == ["a BasePlotter is still there"]
    del plotter
    assert watch.left() == []


def test_what_ends_in_time_is_no_fault(watch: Watch) -> None:
    parent = QWidget()
    QLabel("inside", parent)
    parent.show()
    QTimer(parent).start(50_000)
    parent.close()
    parent.deleteLater()
    assert watch.left() == []


def test_a_ring_of_a_window_and_its_closure_is_collected_before_it_is_blamed(watch: Watch) -> None:
    class Ring(QWidget):
        def __init__(self) -> None:
            super().__init__()
            self.itself = lambda: self

    Ring().show()
    assert watch.left() == []


def test_a_slot_that_raises_is_caught(qapp: QApplication) -> None:
    class Sender(QObject):
        sent = Signal()

    def raises() -> None:
        raise ZeroDivisionError

    sender = Sender()
    sender.sent.connect(raises)
    with capture_exceptions() as caught:
        sender.sent.emit()
    assert [kind for kind, _, _ in caught] == [ZeroDivisionError]


def test_windows_open_on_the_display_of_the_tests(qapp: QApplication) -> None:
    from PySide6.QtCore import Qt

    assert QApplication.testAttribute(Qt.ApplicationAttribute.AA_ShareOpenGLContexts)
    if os.environ.get("QT_QPA_PLATFORM") == "xcb":
        assert qapp.primaryScreen().size().toTuple() == (1920, 1200)


def skip_report(reason: str) -> pytest.TestReport:
    return pytest.TestReport(
        nodeid="tests/scan/test_made_up.py::test_a_floor",
        location=("tests/scan/test_made_up.py", 1, "test_a_floor"),
        keywords={},
        outcome="skipped",
        longrepr=("tests/scan/test_made_up.py", 1, f"Skipped: {reason}"),
        when="setup",
    )


class Session:
    exitstatus: int = pytest.ExitCode.OK


@pytest.mark.parametrize(
    ("must_be_used", "reason", "ends"),
    [
        (True, shared.ABSENT, pytest.ExitCode.TESTS_FAILED),
        (True, "no cup.stl in the shared data", pytest.ExitCode.TESTS_FAILED),
        (True, "only on Windows", pytest.ExitCode.OK),
        (False, shared.ABSENT, pytest.ExitCode.OK),
    ],
)
def test_a_skip_for_want_of_shared_data_fails_where_the_data_is(
    must_be_used: bool, reason: str, ends: pytest.ExitCode
) -> None:
    watch, session = shared.Watch(must_be_used=must_be_used), Session()
    watch.pytest_runtest_logreport(skip_report(reason))
    watch.pytest_sessionfinish(cast("pytest.Session", session))
    assert session.exitstatus == ends
