"""The shifter dragged by the mouse beside its card: the gate follows live, is exact afterwards, and is put back."""

import time
from collections.abc import Callable, Iterator
from itertools import product

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication

from app.stage.bench import LEFT, NOTHING, PATIENCE_S, Bench
from app.stage.conftest import RAW, Open
from core.sample_case import SampleCase
from core.small_case import small_layout
from floorpan.checks import Finding, evaluate
from floorpan.derive import Bench as Judge
from floorpan.items import Shifter, gate_table
from floorpan.progress import finish
from floorpan.report.sentences import value_text
from floorpan_app.cards.controls_card import ControlsCard

pytestmark = pytest.mark.real_view

BY = QPoint(-60, 14)


@pytest.fixture
def car(open_bench: Open, sample: SampleCase) -> Bench:
    return open_bench(sample.layout, sample.store)


@pytest.fixture
def card(car: Bench) -> Iterator[ControlsCard]:
    card = ControlsCard(car.desk)
    card.resize(344, 900)
    card.show()
    card.show_findings(car.judging.findings)
    yield card
    card.close()
    card.deleteLater()
    QApplication.processEvents()


def grab(bench: Bench) -> QPoint:
    """Take the shifter in hand by a click on its box, and press there."""
    for word in ("driver", "console", "seats"):
        bench.stage.show(word, False)
    shifter = bench.layout.of(Shifter)[0]
    place = shifter.place
    bench.look((place.x_mm, place.y_mm, place.z_mm), heading=-110.0, rise=-60.0, distance=1200.0)
    bench.desk.select(shifter.id)
    QApplication.processEvents()
    at = bare(bench, bench.at((place.x_mm, place.y_mm, place.z_mm + shifter.box_height_mm)))
    bench.click(at)
    assert bench.desk.selection == shifter.id
    bench.press(at)
    return at


def bare(bench: Bench, middle: QPoint) -> QPoint:
    """A pixel near this one where the thing in hand is met first, and nothing is written."""
    names = bench.view.in_hand()
    aside = sorted(product(range(-60, 61, 3), repeat=2), key=lambda step: step[0] ** 2 + step[1] ** 2)
    for dx, dy in aside:
        at = middle + QPoint(dx, dy)
        pick = bench.view.pick(float(at.x()), float(at.y()))
        if (
            pick is not None
            and pick.name in names
            and bench.view.target(float(at.x()), float(at.y())) is None
        ):
            return at
    pytest.fail("the thing in hand is not in the picture")


def until(ready: Callable[[], bool]) -> None:
    end = time.monotonic() + PATIENCE_S
    while not ready():
        QApplication.processEvents()
        time.sleep(0.002)
        assert time.monotonic() < end, "not in time"


def rest(bench: Bench) -> None:
    """Until everything that is judged while the mouse rests is judged."""
    until(lambda: not bench.judging._resting.isActive())


def told(findings: tuple[Finding, ...]) -> dict[str, tuple[str, float | None]]:
    return {finding.id: (finding.verdict, finding.value) for finding in findings}


def shown(card: ControlsCard) -> dict[str, tuple[str, str]]:
    return {gear.gear: (gear.verdict, gear.value) for gear in card.gate.gears()}


def mark(card: ControlsCard, gear: str) -> QAbstractButton:
    marks = card.gate.findChildren(QAbstractButton)
    return next(one for one in marks if one.accessibleName().startswith(f"Gear {gear},"))


def truth(bench: Bench, sample: SampleCase) -> tuple[Finding, ...]:
    """Every finding of the layout that is shown, worked out by a bench that remembers nothing."""
    return finish(evaluate(bench.layout, Judge(sample.store)))


def least(findings: tuple[Finding, ...], shifter: Shifter, gear: str, *, ways: bool) -> Finding:
    """Of all gaps in a gear the smallest; with the ways to it, or without."""
    stops = {gear, f"N-{gear}", f"{gear}-N"} if ways else {gear}
    mine = [
        finding
        for finding in findings
        if finding.is_gap
        and finding.value is not None
        and not finding.check.startswith("well-")
        and dict(finding.state).get(f"{shifter.id}.gear") in stops
    ]
    return min(mine, key=lambda finding: finding.value or 0.0)


@pytest.mark.long
def test_the_gate_follows_the_mouse_and_is_exact_once_it_rests_and_once_let_go(
    car: Bench, card: ControlsCard, sample: SampleCase
) -> None:
    before = shown(card)
    at = grab(car)
    car.glide(at, at + BY)
    assert car.document.previewing
    shifter = car.layout.of(Shifter)[0]
    rest(car)
    assert shown(card) != before
    true = {finding.id: finding for finding in truth(car, sample)}
    live = [finding for finding in car.judging.findings if not finding.stale]
    for finding in live:
        exact = true[finding.id]
        assert finding.verdict == exact.verdict, finding.id
        if finding.at_least and finding.is_gap:
            assert finding.value is not None
            assert exact.value is not None
            assert finding.value <= exact.value + 1e-6, finding.id
    seen = {gear.gear: gear for gear in card.gate.gears()}
    for place in gate_table(shifter):
        gear = seen[place.gear]
        # Where nothing is told as from before, the gear in the car has that smallest gap, nothing rounded away.
        if not gear.gap_stale:
            exact = least(tuple(true[one.id] for one in live), shifter, place.gear, ways=False)
            assert gear.value == value_text(exact), gear
    assert card._note.text().startswith("Ways")
    car.release(at + BY)
    car.settle()
    exactly = truth(car, sample)
    for gear in card.gate.gears():
        assert gear.value == value_text(least(exactly, shifter, gear.gear, ways=gear.gear != "N")), gear
        assert not gear.stale
        assert not gear.gap_stale
    assert {id: verdict for id, (verdict, _) in told(exactly).items()} == {
        id: verdict for id, (verdict, _) in told(car.judging.findings).items()
    }
    assert card._note.text().startswith("Each shape")


def test_escape_in_a_drag_puts_layout_findings_and_gate_back(car: Bench, card: ControlsCard) -> None:
    before, findings, gate = car.document.adopted, told(car.judging.findings), shown(card)
    at = grab(car)
    car.glide(at, at + BY)
    assert car.document.previewing
    assert told(car.judging.findings) != findings
    assert "of where it stood" in car.stage.tag.widget.text().place
    car.key(Qt.Key.Key_Escape)
    assert car.layout is before
    assert told(car.judging.findings) == findings
    assert shown(card) == gate
    car.glide(at + BY, at)
    car.release(at)
    assert car.layout is before
    assert car.entries() == 0
    assert "of where it stood" not in car.stage.tag.widget.text().place
    car.settle()
    assert told(car.judging.findings) == findings
    assert shown(card) == gate


def test_a_gear_pressed_on_the_card_puts_the_lever_there_in_the_picture(
    car: Bench, card: ControlsCard
) -> None:
    shifter = car.layout.of(Shifter)[0]
    knobs = {place.gear: np.array(place.knob_mm) for place in gate_table(shifter)}
    for gear in ("3", "R"):
        QTest.mouseClick(mark(card, gear), LEFT, NOTHING)
        QApplication.processEvents()
        assert dict(car.desk.state)["shifter-1.gear"] == gear
        assert card.gate.in_hand() == gear
        drawn = car.view.scene._things["shifter-1.knob"].outermost()
        middle = (drawn.min(axis=0) + drawn.max(axis=0)) / 2
        assert middle == pytest.approx(knobs[gear], abs=12.0)
        away = {other: float(np.linalg.norm(middle - knob)) for other, knob in knobs.items()}
        assert min(away, key=lambda other: away[other]) == gear
        assert mark(card, gear).accessibleName().startswith(f"Gear {gear}, in hand")
        assert ("reverse" if gear == "R" else "3rd") in card.gear_told.title.findChildren(type(card._note))[
            0
        ].text()
        names = [row.title for row in card.gear_told.rows.rows()]
        assert {"Reach, to spare", "Elbow"} <= set(names)


@pytest.mark.parametrize("tool", ["drag", "turn"])
def test_undo_and_redo_in_a_drag_end_it(open_bench: Open, tool: str) -> None:
    small = open_bench(small_layout(RAW), {RAW.sha256: RAW})
    small.desk.select("shifter-1")
    small.key(Qt.Key.Key_PageUp)
    before, raised = small.document._past[0].layout, small.document.adopted
    at = grab(small)
    small.release(at)
    small.desk.use_tool(tool)
    for deed, after in ((small.document.undo, before), (small.document.redo, raised)):
        small.press(at)
        small.glide(at, at + QPoint(50, 20))
        assert small.document.previewing
        deed()
        assert small.layout is after
        assert small.stage.holding.drawn().moved == ""
        small.glide(at + QPoint(50, 20), at + QPoint(90, 20))
        assert not small.document.previewing
        small.release(at + QPoint(90, 20))
        assert small.layout is after
    assert small.document.undo_words()
    assert not small.document.redo_words()
    assert small.desk.selection == "shifter-1"
