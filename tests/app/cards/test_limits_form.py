"""What is wanted, typed: the measure, its reason, and the shipped one back."""

import pytest

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, choose, escape, press, settle, told_beside, write
from floorpan.layout import LimitChange
from floorpan.limits import LIMITS, Limit
from floorpan_app.cards import words
from floorpan_app.cards.check_card import CheckCard
from floorpan_app.cards.limits_form import LimitsForm
from floorpan_app.desk import Desk


@pytest.fixture
def form(show: Show) -> LimitsForm:
    card = show("check")
    assert isinstance(card, CheckCard)
    return card.limits


def test_a_measure_is_typed_reasoned_and_taken_back(desk: Desk, form: LimitsForm) -> None:
    assert form.which.key() == "hand-scan"
    assert not form.note.isVisible(), "as usual there is nothing to reason"
    settle(form.value, "25")
    assert desk.layout.limits == (LimitChange(id="hand-scan", value=25.0),)
    assert form.which.currentText().endswith("(changed here)")
    settle(form.note, "gloves at speed")
    assert desk.layout.limits == (LimitChange(id="hand-scan", value=25.0, note="gloves at speed"),)
    desk.document.undo()
    assert desk.layout.limits[0].note == ""
    assert form.note.text() == ""
    press(form.back)
    assert desk.layout == LAYOUT
    assert form.value.line_edit().text() == "15 mm"
    assert not form.back.isVisible()


def test_the_reason_stays_with_another_measure(desk: Desk, form: LimitsForm) -> None:
    settle(form.value, "25")
    settle(form.note, "gloves")
    settle(form.value, "1 in")
    assert desk.layout.limits == (LimitChange(id="hand-scan", value=pytest.approx(25.4), note="gloves"),)


def test_the_usual_measure_typed_is_no_change(desk: Desk, form: LimitsForm) -> None:
    settle(form.value, "25")
    settle(form.value, "15")
    assert desk.layout == LAYOUT


@pytest.mark.parametrize("typed", ["-1", "600", "ten", "20 in"])
def test_a_refused_measure_changes_nothing_and_is_told(desk: Desk, form: LimitsForm, typed: str) -> None:
    settle(form.value, typed)
    assert desk.layout is LAYOUT
    assert form.value.line_edit().text() == typed
    assert told_beside(form) == [form.value.fault()] != [""]
    escape(form.value)
    assert form.value.line_edit().text() == "15 mm"
    assert told_beside(form) == []


def test_escape_brings_the_old_text_back(desk: Desk, form: LimitsForm) -> None:
    write(form.value, "99")
    escape(form.value)
    assert form.value.line_edit().text() == "15 mm"
    assert desk.layout is LAYOUT


def test_from_and_to_may_not_cross(desk: Desk, form: LimitsForm) -> None:
    choose(form.which, "elbow")
    assert form.upper.isVisible()
    assert form.value.line_edit().text() == "75\u00b0"
    settle(form.value, "160")
    assert desk.layout is LAYOUT
    assert told_beside(form) == [words.LIMIT_CROSSED]
    escape(form.value)
    settle(form.upper, "75 deg")
    assert desk.layout is LAYOUT
    assert told_beside(form) == [words.LIMIT_CROSSED]
    escape(form.upper)
    settle(form.upper, "150")
    assert desk.layout.limits == (LimitChange(id="elbow", value=75.0, upper=150.0),)


def test_inches_are_shown_and_typed(desk: Desk, form: LimitsForm) -> None:
    """25.4 mm to the inch."""
    desk.use_system("in")
    settle(form.value, "1")
    assert desk.layout.limits[0].value == pytest.approx(25.4)
    assert form.value.line_edit().text() == "1 in"
    choose(form.which, "elbow")
    assert form.value.line_edit().text() == "75\u00b0", "an angle has no inches"


def test_what_was_wrong_is_not_said_of_another_limit(desk: Desk, form: LimitsForm) -> None:
    same = [limit.id for limit in LIMITS.values() if limit.value == 10.0 and limit.unit == "mm"][:2]
    choose(form.which, same[0])
    settle(form.value, "ten")
    choose(form.which, same[1])
    assert form.value.line_edit().text() == "10 mm"
    assert told_beside(form) == []


def test_what_was_wrong_with_to_is_gone_where_there_is_no_to(form: LimitsForm) -> None:
    choose(form.which, "elbow")
    settle(form.upper, "wide")
    choose(form.which, "hand-scan")
    assert told_beside(form) == []


def test_one_of_two_wrong_ones_stays_told(form: LimitsForm) -> None:
    choose(form.which, "elbow")
    settle(form.value, "bent")
    settle(form.upper, "wide")
    escape(form.upper)
    assert told_beside(form) == [form.value.fault()] != [""]


@pytest.mark.parametrize("limit", LIMITS.values(), ids=LIMITS)
def test_every_limit_is_shown_as_it_is(desk: Desk, form: LimitsForm, limit: Limit) -> None:
    form.which.show_key(limit.id)
    form.refresh()
    assert form.value.value_mm() == limit.value
    assert form.upper.isVisible() == (limit.upper is not None)
    if form.upper.isVisible():
        assert form.upper.value_mm() == limit.upper
    assert desk.layout is LAYOUT
