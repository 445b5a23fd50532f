"""Where the knob should be, on the driver's card: found when asked, told, done, put away when it no longer holds."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication
from pytestqt.qtbot import QtBot

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, press, press_row
from floorpan import edits
from floorpan.advice.knob_costs import Worse, worse_there
from floorpan.advice.knob_for_driver import KnobAdvice, where_the_knob_should_be
from floorpan.derive import Scene, knob_in_neutral
from floorpan.errors import BadValue
from floorpan.items import Shifter
from floorpan.layout import Layout
from floorpan.progress import Step, Work, finish
from floorpan.report import knob_words as told_words
from floorpan.report.knob_told import answer_text, note_text, now_text, side_rows, told_sides, worse_text
from floorpan_app.cards import knob_part
from floorpan_app.cards import knob_words as said
from floorpan_app.cards.knob_part import KnobPart
from floorpan_app.desk import Desk

# Within reach of a place that will do.
NEAR = edits.move(LAYOUT, "shifter-1", x_mm=40.0)


@pytest.fixture
def part(qtbot: QtBot, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> KnobPart:
    """The part as the driver's card keeps it up to date, with larger voxels."""
    monkeypatch.setattr(
        knob_part, "where_the_knob_should_be", lambda scene: where_the_knob_should_be(scene, 25.0)
    )
    desk.document.replace_all(NEAR)
    desk.go_to("driver")
    part = KnobPart(desk)
    qtbot.addWidget(part)

    def changed(*_: object) -> None:
        if desk.document.previewing:
            part.follow()
        else:
            part.refresh()

    for signal in (desk.document.layout_changed, desk.step_changed, desk.system_changed):
        signal.connect(changed)
    part.resize(314, 700)
    part.refresh()
    part.show()
    return part


def found(qtbot: QtBot, part: KnobPart) -> KnobAdvice:
    press(part.look)
    return waited(qtbot, part)


def waited(qtbot: QtBot, part: KnobPart) -> KnobAdvice:
    qtbot.waitUntil(lambda: part.answer() is not None, timeout=30_000)
    advice = part.answer()
    assert advice is not None
    return advice


def further(layout: Layout) -> Layout:
    return edits.shift(layout, "shifter-1", (15.0, 0.0, 0.0))


def test_before_it_is_asked_nothing_is_worked_out(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    # The scan is made ready there, and nothing else.
    qtbot.waitUntil(lambda: not desk.judging.threads.busy, timeout=30_000)
    assert part.state() == said.BEFORE
    assert part.look.text() == said.FIND
    assert part.worse() == ""
    for piece in (part.seen, part.target, part.move_there, part.stop, part.rows):
        assert not piece.isVisible()


def test_asked_it_says_what_to_do_and_what_limits_where(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    press(part.look)
    assert part.state() == "Looking where it should be, 0 %"
    assert part.stop.isVisible()
    assert not part.look.isEnabled()
    advice = waited(qtbot, part)
    assert advice.move is not None
    assert not advice.move.inside
    assert part.told() == (answer_text(advice, NEAR, "mm"), now_text(advice, "mm"))
    assert part.told()[0].startswith("Move it ")
    assert part.state() == ""
    assert part.note() == note_text(advice, "mm")
    told = side_rows(advice, NEAR, "mm")
    assert [row.value for row in part.rows.rows()] == [f"{row.share} %" for row in told]
    assert part.rows.rows()[0].title == "Elbow too straight"
    assert part.rows.rows()[0].second.startswith("Front: in ")
    assert desk.knob.advice is advice
    assert desk.layout == NEAR, "to look is no edit"


def test_where_nobody_looked_is_told_as_that(qtbot: QtBot, part: KnobPart) -> None:
    found(qtbot, part)
    row = next(row for row in part.rows.rows() if row.title == "Not looked further")
    assert row.second.startswith("Over 200 mm off: ")


def test_in_inches(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    advice = found(qtbot, part)
    desk.use_system("in")
    assert part.told() == (answer_text(advice, NEAR, "in"), now_text(advice, "in"))
    assert " in rearward" in part.told()[0]
    assert "7\u2009" in part.note()


def test_it_becomes_the_knobs_target_and_can_be_undone(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    advice = found(qtbot, part)
    press(part.target)
    target = desk.layout.knob_target_mm
    assert target == pytest.approx(advice.place_mm, abs=0.05)
    assert desk.document.undo_words() == said.TARGET_ENTRY
    # What was found holds all the same.
    assert part.answer() is advice
    assert part.target.text() == said.IS_TARGET
    assert not part.target.isEnabled()
    desk.document.undo()
    assert desk.layout.knob_target_mm is None
    assert part.target.isEnabled()


def test_the_shifter_goes_there_and_it_is_looked_at_again(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    advice = found(qtbot, part)
    press(part.move_there)
    assert desk.document.undo_words() == said.MOVE_ENTRY.format(name=NEAR.of(Shifter)[0].name)
    assert knob_in_neutral(desk.layout.of(Shifter)[0]) == pytest.approx(advice.place_mm, abs=1e-6)
    again = waited(qtbot, part)
    assert again is not advice
    assert part.told()[0].startswith("It is well placed: ")
    assert part.worse() == "", "it stays where it is"
    assert not part.move_there.isEnabled()
    desk.document.undo()
    assert desk.layout == NEAR


def test_a_locked_shifter_stays_and_says_so(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    desk.change("lock", lambda layout: edits.lock(layout, "shifter-1", True))
    found(qtbot, part)
    before = desk.layout
    press(part.move_there)
    assert desk.layout == before
    assert part.state() == "Shifter is locked. Unlock it on its tag first."
    assert part.answer() is not None


def test_another_layout_puts_the_answer_away(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    found(qtbot, part)
    desk.change("move", further)
    assert part.answer() is None
    assert part.told() == ("", "")
    assert part.state() == said.CHANGED
    assert desk.knob.advice is None
    assert not part.rows.isVisible()
    assert found(qtbot, part).region.question.present_mm == pytest.approx(
        knob_in_neutral(desk.layout.of(Shifter)[0])
    )


@pytest.mark.parametrize(
    "change",
    [
        lambda layout: edits.change_person(layout, "driver-1", glove_mm=4.0),
        lambda layout: edits.set_driving_position(layout, wheel_mm=(0.0, -400.0, 640.0)),
        lambda layout: edits.set_limit(layout, "hand-scan", 25.0, note="gloves"),
        lambda layout: edits.change(layout, "seat-1", back_deg=25.0),
    ],
)
def test_all_that_it_follows_from_puts_it_away(
    qtbot: QtBot, desk: Desk, part: KnobPart, change: object
) -> None:
    found(qtbot, part)
    desk.change("change", change)  # type: ignore[arg-type]
    assert part.answer() is None
    assert desk.knob.advice is None


def test_what_it_does_not_follow_from_leaves_it(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    advice = found(qtbot, part)
    desk.change("rename", lambda layout: edits.rename_project(layout, "Other"))
    desk.change("cup", lambda layout: edits.shift(layout, "cup-holder-1", (5.0, 0.0, 0.0)))
    assert part.answer() is advice
    assert part.state() == ""


def test_while_something_is_dragged_it_is_marked_and_comes_back(
    qtbot: QtBot, desk: Desk, part: KnobPart
) -> None:
    advice = found(qtbot, part)
    desk.preview(further)
    assert part.state() == said.STALE
    assert not part.rows.isEnabled()
    assert not part.move_there.isEnabled()
    assert part.told()[0] == answer_text(advice, NEAR, "mm")
    desk.document.drop_preview()
    assert part.state() == ""
    assert part.answer() is advice
    assert part.rows.isEnabled()


def test_it_is_shown_in_the_picture_or_not_by_mouse_and_by_key(
    qtbot: QtBot, desk: Desk, part: KnobPart
) -> None:
    found(qtbot, part)
    assert desk.knob.shown
    press(part.seen)
    assert not desk.knob.shown
    part.seen.setFocus()
    QTest.keyClick(part.seen, Qt.Key.Key_Space)
    assert desk.knob.shown


def test_a_side_that_is_pressed_stands_out_until_it_is_pressed_again(
    qtbot: QtBot, desk: Desk, part: KnobPart
) -> None:
    found(qtbot, part)
    press_row(part.rows, "elbow too straight")
    assert desk.knob.side == "elbow too straight"
    assert part.rows.chosen() == "elbow too straight"
    press_row(part.rows, "elbow too straight")
    assert desk.knob.side == ""
    assert part.rows.chosen() == ""


def test_without_a_shifter_it_says_what_is_missing(desk: Desk, part: KnobPart) -> None:
    desk.change("out", lambda layout: edits.remove(layout, "shifter-1"))
    assert part.state() == said.NEEDS
    assert not part.look.isEnabled()
    desk.change("nobody", lambda layout: edits.remove_person(layout, "driver-1"))
    assert not part.isVisible()


# --- what gets worse there ----------------------------------------------------------------------------------------


# With the can in the shifter's way.
CROWDED = edits.move(NEAR, "cup-holder-1", x_mm=130.0, y_mm=0.0, z_mm=150.0)


def worse_than(desk: Desk, advice: KnobAdvice) -> tuple[Worse, ...]:
    return finish(worse_there(desk.judging.bench.scene(desk.layout), advice.by_mm))


def test_what_gets_worse_there_is_told_with_the_answer(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    desk.change("cup", lambda _: CROWDED)
    advice = found(qtbot, part)
    worse = worse_than(desk, advice)
    assert part.worse() == worse_text(advice, worse, CROWDED, "mm")
    assert part.worse().startswith("There, ")


def test_where_nothing_gets_worse_it_says_that(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    desk.change("no can", lambda layout: edits.remove(layout, "vessel-1"))
    advice = found(qtbot, part)
    assert worse_than(desk, advice) == ()
    assert part.worse() == told_words.NONE_WORSE.format(more="")


def test_it_holds_until_anything_that_takes_part_changes(qtbot: QtBot, desk: Desk, part: KnobPart) -> None:
    advice = found(qtbot, part)
    before = part.worse()
    desk.change("rename", lambda layout: edits.rename_project(layout, "Other"))
    assert part.worse() == before
    assert not part.look.isVisible()

    def cup(layout: Layout) -> Layout:
        return edits.shift(layout, "cup-holder-1", (5.0, 0.0, 0.0))

    desk.preview(cup)
    assert part.worse() == before, "nothing is changed yet"
    desk.change("cup", cup)
    assert part.answer() is advice, "where it should be is the same"
    assert part.worse() == said.WORSE_CHANGED
    press(part.look)
    qtbot.waitUntil(lambda: part.answer() not in (None, advice), timeout=30_000)
    assert part.worse() not in ("", said.WORSE_CHANGED)
    assert not part.look.isVisible()


# --- how it is laid out -------------------------------------------------------------------------------------------


def test_the_rows_have_their_full_height_before_the_picture_is_made(
    qtbot: QtBot, desk: Desk, part: KnobPart, show: Show
) -> None:
    # What is drawn takes a second and paints the card on the way: squashed rows would be seen as long.
    card = show("driver")
    inside = card.findChild(KnobPart)
    assert isinstance(inside, KnobPart)
    heights: list[list[bool]] = []

    def rows() -> list[bool]:
        shown = [one for one in inside.rows.findChildren(QAbstractButton) if one.isVisible()]
        return [one.height() >= one.sizeHint().height() for one in shown]

    desk.knob.changed.connect(lambda: heights.append(rows()))
    advice = found(qtbot, inside)
    assert len(heights[-1]) == len(told_sides(advice))
    assert all(heights[-1])
    QApplication.processEvents()
    assert rows() == heights[-1]


# --- while it is looked for ---------------------------------------------------------------------------------------


class _Slow:
    """Looking that stays at its half until it is let go, or is stopped."""

    def __init__(self) -> None:
        self.begun: list[Layout] = []
        self.closed = 0
        self.let_go = False

    def __call__(self, scene: Scene) -> Work[KnobAdvice | None]:
        self.begun.append(scene.layout)
        try:
            while not self.let_go:
                yield Step(0.5, "Looking")
        except GeneratorExit:
            self.closed += 1
            raise
        return (yield from where_the_knob_should_be(scene, 25.0))


@pytest.fixture
def slow(part: KnobPart, monkeypatch: pytest.MonkeyPatch) -> Iterator[_Slow]:
    slow = _Slow()
    monkeypatch.setattr(knob_part, "where_the_knob_should_be", slow)
    yield slow
    slow.let_go = True


def test_it_tells_how_far_it_is_and_can_be_stopped(
    qtbot: QtBot, desk: Desk, part: KnobPart, slow: _Slow
) -> None:
    press(part.look)
    qtbot.waitUntil(lambda: part.state() == "Looking where it should be, 65 %", timeout=30_000)
    press(part.stop)
    qtbot.waitUntil(lambda: part.state() == said.STOPPED, timeout=30_000)
    assert slow.closed == 1
    assert part.look.isEnabled()
    assert not part.stop.isVisible()
    assert desk.knob.advice is None


def test_a_layout_that_changes_meanwhile_drops_it(
    qtbot: QtBot, desk: Desk, part: KnobPart, slow: _Slow
) -> None:
    press(part.look)
    qtbot.waitUntil(lambda: len(slow.begun) == 1, timeout=30_000)
    desk.change("rename", lambda layout: edits.rename_project(layout, "Other"))
    assert part.stop.isVisible(), "the name of the project is nothing to it"
    desk.change("move", further)
    assert part.state() == said.CHANGED
    qtbot.waitUntil(lambda: slow.closed == 1, timeout=30_000)
    assert part.answer() is None
    slow.let_go = True
    press(part.look)
    waited(qtbot, part)
    assert slow.begun[-1] is desk.layout


def test_a_refusal_is_told_and_it_can_be_asked_again(
    qtbot: QtBot, part: KnobPart, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(scene: Scene) -> Work[KnobAdvice | None]:
        yield Step(0.1, "Looking")
        raise BadValue("no", "The seat has no notch 9.", "Use another.")

    monkeypatch.setattr(knob_part, "where_the_knob_should_be", refused)
    press(part.look)
    qtbot.waitUntil(lambda: part.state() == "The seat has no notch 9. Use another.", timeout=30_000)
    assert part.look.isEnabled()


def test_what_nobody_foresaw_goes_to_the_window(
    qtbot: QtBot, desk: Desk, part: KnobPart, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(scene: Scene) -> Work[KnobAdvice | None]:
        yield Step(0.1, "Looking")
        raise RuntimeError("unforeseen")

    told: list[object] = []
    desk.judging.failed.connect(told.append)
    monkeypatch.setattr(knob_part, "where_the_knob_should_be", broken)
    press(part.look)
    qtbot.waitUntil(lambda: bool(told), timeout=30_000)
    assert part.look.isEnabled()
    assert desk.knob.advice is None
