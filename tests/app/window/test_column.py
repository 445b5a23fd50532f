"""The right column: tight spot, card, ledger; what is chosen there goes over the desk."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from app.window.answers import Answers
from app.window.conftest import Case
from app.window.plain_parts import PlainFilling, PlainPicture
from floorpan import edits
from floorpan.checks.finding import Cure, rank
from floorpan.report.tally import clear_text
from floorpan_app.widgets.tight_spot import EMPTY
from floorpan_app.window.benchtop import Benchtop
from floorpan_app.window.main_window import MainWindow
from floorpan_app.window.shown import ledger_of, reading_of, spot_of, sum_of, told_of
from floorpan_app.window.works import Works


@pytest.fixture
def page(judged: Works) -> Benchtop:
    assert judged.page is not None
    return judged.page


def row_point(page: Benchtop, row: int, *, from_right: int | None = None) -> QPoint:
    view = page.column.ledger.view()
    rect = view.visualRect(view.model().index(row, 0))
    if from_right is None:
        return rect.center()
    return QPoint(rect.right() - from_right, rect.bottom() - 12)


def test_before_anything_is_judged_there_is_nothing_to_compare(
    window: MainWindow, works: Works, opened: Works
) -> None:
    assert opened.page is not None
    opened.session.judging.use({})
    opened.page.column.refresh()
    assert opened.page.column.spot.spot() is None
    assert EMPTY in opened.page.column.spot.accessibleName()
    assert opened.page.column.ledger.rows() == ()


def test_the_tight_spot_is_the_worst_finding(judged: Works, page: Benchtop) -> None:
    worst = min(judged.session.judging.findings, key=rank)
    spot = page.column.spot.spot()
    assert spot is not None
    assert (spot.id, spot.verdict) == (worst.id, worst.verdict)


def test_a_click_on_the_tight_spot_chooses_its_finding_and_turns_the_view(
    judged: Works, page: Benchtop
) -> None:
    QTest.mouseClick(page.column.spot, Qt.MouseButton.LeftButton)
    filling = page._parts.filling
    assert isinstance(filling, PlainFilling)
    spot = page.column.spot.spot()
    assert spot is not None
    assert judged.session.desk.finding == spot.id
    assert [finding.id for finding in filling.turned_to] == [spot.id]


def test_a_click_on_a_row_chooses_its_finding_and_its_state(judged: Works, page: Benchtop) -> None:
    rows = page.column.ledger.rows()
    QTest.mouseClick(page.column.ledger.view().viewport(), Qt.MouseButton.LeftButton, pos=row_point(page, 1))
    desk = judged.session.desk
    assert desk.finding == rows[1].id
    found = next(finding for finding in judged.session.judging.findings if finding.id == rows[1].id)
    ends = {axis: stop.rpartition("-")[2] for axis, stop in found.state}
    assert ends.items() <= dict(desk.state).items()
    assert page.column.ledger.chosen() == rows[1].id


def test_a_click_on_a_give_or_take_tells_what_it_is_made_of(
    judged: Works, page: Benchtop, answers: Answers
) -> None:
    row = next(n for n, row in enumerate(page.column.ledger.rows()) if row.give_or_take)
    page.column.ledger.view().scrollTo(page.column.ledger.view().model().index(row, 0))
    QTest.mouseClick(
        page.column.ledger.view().viewport(),
        Qt.MouseButton.LeftButton,
        pos=row_point(page, row, from_right=20),
    )
    [(kind, (_, paragraphs))] = answers.asked
    assert kind == "read"
    assert len(paragraphs) >= 3
    assert paragraphs[-1].startswith("Together ± ")


def test_a_row_and_its_ticket_light_each_other(judged: Works, page: Benchtop) -> None:
    pointed: list[str] = []
    judged.session.desk.finding_pointed.connect(pointed.append)
    picture = page._parts.picture
    assert isinstance(picture, PlainPicture)
    id = page.column.ledger.rows()[0].id
    page.column.ledger.rowPointed.emit(id)
    assert pointed == [id]
    picture.pointed(id)
    assert page.column.ledger.view().itemDelegate().lit_id == id  # type: ignore[attr-defined]
    picture.clicked(id)
    assert judged.session.desk.finding == id


def test_the_ledger_goes_down_to_everything_and_back(judged: Works, page: Benchtop) -> None:
    findings = judged.session.judging.findings
    few = len(page.column.ledger.rows())
    [link] = page.column.ledger.findChildren(QPushButton)
    assert link.text() == f"{clear_text(findings)} Show all"
    QTest.mouseClick(link, Qt.MouseButton.LeftButton)
    assert len(page.column.ledger.rows()) == len(findings)
    assert link.text() == "Show fewer"
    QTest.mouseClick(link, Qt.MouseButton.LeftButton)
    assert len(page.column.ledger.rows()) == few


def test_rows_are_worst_first_and_count_what_they_speak_for(case: Case) -> None:
    findings, layout = case.findings, case.layout
    for reach in ("not clear", "worst of pairs"):
        told = told_of(findings, reach)
        order = [rank(one.finding) for one in told]
        assert order == sorted(order)
        spoken_for = sum(1 + one.others for one in told if one.finding.verdict != "clear")
        assert spoken_for == sum(finding.verdict != "clear" for finding in findings)
        rows, clear = ledger_of(findings, layout, "mm", reach)
        shown_clear = sum(row.verdict == "clear" for row in rows)
        all_clear = sum(finding.verdict == "clear" for finding in findings)
        assert bool(clear) == (shown_clear < all_clear)
        assert (reach == "worst of pairs") == bool(shown_clear)


def test_every_pair_is_told_even_where_all_of_it_is_clear(case: Case) -> None:
    findings = case.findings
    pairs = {(finding.check, finding.subjects) for finding in findings}
    told = {(one.finding.check, one.finding.subjects) for one in told_of(findings, "worst of pairs")}
    assert told == pairs


def test_while_something_is_dragged_rows_keep_their_places_and_the_spot_follows(
    qtbot: QtBot, judged: Works, page: Benchtop
) -> None:
    desk = judged.session.desk
    before = [row.id for row in page.column.ledger.rows()]
    for step in range(1, 6):
        desk.preview(lambda layout, step=step: edits.shift(layout, "console-1", (10.0 * step, 0.0, 0.0)))
    qtbot.wait(200)
    during = [row.id for row in page.column.ledger.rows()]
    assert during[: len(before)] == before
    judged.session.document.drop_preview()
    qtbot.waitUntil(lambda: judged.session.judging.fresh, timeout=60_000)
    qtbot.waitUntil(lambda: [row.id for row in page.column.ledger.rows()] == before, timeout=5000)


def test_a_give_or_take_adds_up(case: Case) -> None:
    found = next(finding for finding in case.findings if finding.doubts and finding.uncertainty)
    # JCGM 100: twice the root of the sum of squares, plus what lies on one side.
    squares = sum(doubt.standard**2 for doubt in found.doubts)
    together = 2.0 * squares**0.5 + sum(doubt.bound for doubt in found.doubts)
    assert found.uncertainty == pytest.approx(together)
    told = sum_of(found, "mm")
    parts = sum(bool(doubt.standard) + bool(doubt.bound) for doubt in found.doubts)
    assert len(told) == 2 + parts


def test_a_reading_outside_gaps_has_room_for_its_value(case: Case) -> None:
    for finding in case.findings:
        reading = reading_of(finding, "mm")
        assert reading.low < reading.high
        if not finding.is_gap and finding.value is not None:
            assert reading.low <= finding.value <= reading.high
            assert 2 <= (reading.high - reading.low) / reading.tick <= 60


def test_the_same_state_of_the_desk_shows_the_same_words(
    judged: Works, page: Benchtop, rename: Callable[[Works, str], None]
) -> None:
    rename(judged, "Tin coupé")
    assert page.strip._title == "Tin coupé"


def test_the_cure_speaks_in_the_unit_that_is_shown(judged: Works, page: Benchtop) -> None:
    """53 mm are 2 3/32 in, rounded up to what still clears; 25.4 mm to the inch."""
    cure = Cure(subject="cup-holder-1", move_mm=(53.0, 0.0, 0.0))
    cured = replace(judged.session.judging.findings[0], cure=cure)
    spot = spot_of((cured,), judged.session.desk.layout, "in")
    assert spot is not None
    assert spot.cure.startswith("Cup holder 2")
    assert " in rearward" in spot.cure
    assert " mm " not in spot.cure
