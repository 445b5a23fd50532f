"""The status line: long work with Stop, how many there are, a time left once it can be told."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from floorpan import edits
from floorpan.layout import Layout
from floorpan.progress import Step
from floorpan_app import messages
from floorpan_app.jobs import Job
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.status import StatusLine
from floorpan_app.window.works import Works


class Clock:
    def __init__(self) -> None:
        self.now_s = 0.0

    def __call__(self) -> float:
        return self.now_s


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def line(qtbot: QtBot, clock: Clock) -> StatusLine:
    line = StatusLine(clock=clock)
    qtbot.addWidget(line)
    line.resize(900, 32)
    line.show()
    return line


def job(name: str) -> Job:
    return Job(name, lambda: iter(()))  # type: ignore[arg-type, return-value]


def shown(line: StatusLine) -> str:
    work = line.progress.work()
    return work.line() if work else ""


def test_the_newest_work_is_shown_with_the_number_of_the_others(line: StatusLine) -> None:
    first, second = job("First"), job("Second")
    line.follow(first)
    assert shown(line) == "First"
    line.follow(second)
    first.progressed.emit(Step(0.5, "half"))
    assert shown(line) == "Second, and 1 more"
    second.finish(second.succeeded, None)
    assert shown(line) == "First"
    first.finish(first.cancelled)
    assert line.progress.work() is None


def test_stop_asks_the_shown_work_to_stop(line: StatusLine) -> None:
    first, second = job("First"), job("Second")
    line.follow(first)
    line.follow(second)
    QTest.mouseClick(line.progress.stop_button(), Qt.MouseButton.LeftButton)
    assert (first.stopping, second.stopping) == (False, True)


@pytest.mark.parametrize(
    ("gone_s", "done", "left"),
    [
        (9.0, 0.5, ""),
        (11.0, 0.0, ""),
        (20.0, 0.5, "about 20 s left"),
        (60.0, 0.9, "about 10 s left"),
        (60.0, 0.1, "about 9 min left"),
    ],
)
def test_a_time_left_is_told_after_ten_seconds(
    line: StatusLine, clock: Clock, gone_s: float, done: float, left: str
) -> None:
    # Half done after 20 s leaves 20 s; a tenth after a minute leaves nine.
    work = job("Sweeping")
    line.follow(work)
    clock.now_s = gone_s
    work.progressed.emit(Step(done, "Sweeping"))
    assert shown(line) == ("Sweeping" if not left else f"Sweeping, {left}")


def test_work_that_is_over_is_not_shown(line: StatusLine) -> None:
    done = job("Done")
    done.finish(done.succeeded, None)
    line.follow(done)
    assert line.progress.work() is None


def test_a_long_hint_is_shortened_and_whole_in_its_tip(line: StatusLine) -> None:
    line.resize(300, 32)
    text = "Drag slides it along the console top. Shift: up and down. Esc: back where it stood."
    line.say(text)
    assert line.hint() == text
    assert line._hint.toolTip() == text
    assert line._hint.text().endswith("…")


def test_hints_and_refusals_of_the_desk_stand_in_the_line(window: MainWindow, opened: Works) -> None:
    opened.session.desk.hinted.emit("Esc: back where it stood")
    assert window.status.hint() == "Esc: back where it stood"
    opened.session.desk.change("x", lambda layout: layout.thing("nothing-9") and layout)  # type: ignore[arg-type, return-value]
    assert window.status.hint() == "There is no nothing-9 in this layout. Pick a part from the ledger."


def refused(works: Works) -> None:
    works.session.desk.change("x", lambda layout: layout.thing("nothing-9") and layout)  # type: ignore[arg-type, return-value]


def test_a_sentence_goes_with_the_next_deed_or_step_and_stays_till_then(
    qtbot: QtBot, window: MainWindow, opened: Works
) -> None:
    desk, status = opened.session.desk, window.status
    refused(opened)
    told = status.hint()
    assert told.startswith("There is no nothing-9")
    desk.show_stops({"shifter-1.gear": "R"})
    opened.session.document.mark_saved(desk.layout)
    assert status.hint() == told, "neither looking nor saving is a deed"
    assert desk.change("move the console", lambda layout: edits.shift(layout, "console-1", (1.0, 0.0, 0.0)))
    assert status.hint() == ""
    for key in (Qt.Key.Key_Z, Qt.Key.Key_Y):
        refused(opened)
        assert status.hint() == told
        before = desk.layout
        modifiers = Qt.KeyboardModifier.ControlModifier
        QTest.keyClick(window, key, modifiers)
        assert desk.layout is not before, "undone, then done again"
        assert status.hint() == ""
    refused(opened)
    assert opened.page is not None
    assert desk.step != "cup"
    [cell] = [one for one in opened.page.strip.findChildren(QAbstractButton) if one.text() == "Cup"]
    QTest.mouseClick(cell, Qt.MouseButton.LeftButton)
    assert desk.step == "cup"
    assert status.hint() == ""


def test_judging_is_shown_and_can_be_stopped(
    qtbot: QtBot, window: MainWindow, judged: Works, monkeypatch: pytest.MonkeyPatch
) -> None:
    def endless(_layout: Layout) -> Iterator[Step]:
        while True:
            yield Step(0.5, "Checking every state")

    with monkeypatch.context() as patch:
        patch.setattr(judged.session.judging, "_judged", endless)
        judged.session.judging.again()
        qtbot.waitUntil(lambda: shown(window.status) == "Checking every state", timeout=5000)
        window.status.stop()
        qtbot.waitUntil(lambda: window.status.hint() == messages.STOPPED, timeout=5000)
    assert not judged.session.judging.fresh
    window.actions_.action("judge").trigger()
    qtbot.waitUntil(lambda: judged.session.judging.fresh, timeout=60_000)
