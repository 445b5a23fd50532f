"""While the mouse rests in a drag, what found no time while it moved is judged; undo then puts the drag back."""

import gc
from collections.abc import Iterator
from types import SimpleNamespace

import pytest
from pytestqt.qtbot import QtBot

from app.cards.hands import LAYOUT, RAW
from floorpan import advice, edits
from floorpan.checks import Evaluator, Finding, evaluate
from floorpan.derive import Bench
from floorpan.layout import Layout
from floorpan.progress import Work, finish
from floorpan_app import judging as judging_module
from floorpan_app.desk import Desk
from floorpan_app.document import Document
from floorpan_app.judging import Judging
from floorpan_app.window.deeds import late_deeds

MOVED = edits.shift(LAYOUT, "shifter-1", (6.0, 0.0, 0.0))


@pytest.fixture
def hurried(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A judged desk with no time at all for judging while the mouse moves."""
    judging = Judging(Document(LAYOUT), {RAW.sha256: RAW})
    desk = Desk(judging.document, judging)
    qtbot.waitUntil(lambda: judging.fresh, timeout=60_000)
    monkeypatch.setattr(judging_module, "LIVE_S", 0.0)
    yield desk
    judging.close()


def test_the_rest_is_judged_until_all_that_is_live_is_known(qtbot: QtBot, hurried: Desk) -> None:
    judging = hurried.judging
    hurried.document.preview(MOVED)
    moving = {finding.id for finding in judging.findings if finding.stale}
    qtbot.waitUntil(lambda: not judging._resting.isActive(), timeout=60_000)
    rested = {finding.id: finding for finding in judging.findings}
    left = {id for id, finding in rested.items() if finding.stale}
    assert left < moving
    assert not judging.fresh, "ways follow once it is let go"
    exact = {finding.id: finding for finding in finish(evaluate(MOVED, Bench({RAW.sha256: RAW})))}
    for id in moving - left:
        assert rested[id].verdict == exact[id].verdict, id
        if not rested[id].at_least:
            assert rested[id].value == pytest.approx(exact[id].value, abs=0.01), id


def test_another_move_ends_the_rest_and_letting_go_too(qtbot: QtBot, hurried: Desk) -> None:
    judging = hurried.judging
    hurried.document.preview(MOVED)
    assert judging._resting.isActive()
    hurried.document.drop_preview()
    assert not judging._resting.isActive()
    qtbot.waitUntil(lambda: judging.fresh, timeout=60_000)
    assert not any(finding.stale or (finding.at_least and finding.is_gap) for finding in judging.findings)


def test_undo_while_something_is_tried_puts_that_back_and_leaves_what_was_done(hurried: Desk) -> None:
    document = hurried.document
    works = SimpleNamespace(session=SimpleNamespace(document=document))
    undo = late_deeds()["undo"]
    document.change("move", MOVED)
    document.preview(edits.shift(MOVED, "shifter-1", (9.0, 0.0, 0.0)))
    undo(works)  # type: ignore[arg-type]
    assert document.layout is MOVED
    assert not document.previewing
    undo(works)  # type: ignore[arg-type]
    assert document.layout is LAYOUT
    assert document.redo_words() == "move"


def test_nothing_held_is_looked_through_while_the_mouse_moves(qtbot: QtBot, hurried: Desk) -> None:
    """Looking for what nobody holds goes over all that was there before, which takes longer than a step."""
    assert gc.get_freeze_count() == 0
    hurried.document.preview(MOVED)
    assert gc.get_freeze_count() > 0
    held = gc.get_freeze_count()
    hurried.document.preview(edits.shift(MOVED, "shifter-1", (1.0, 0.0, 0.0)))
    assert gc.get_freeze_count() <= held, "it is set aside once, not at every step"
    hurried.document.drop_preview()
    assert gc.get_freeze_count() == 0


def test_undo_and_redo_come_back_to_what_was_found(
    qtbot: QtBot, hurried: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What clears a finding is looked for once for each layout, and told as if it were looked for again."""
    judging, document, looked = hurried.judging, hurried.document, []

    def with_cures(
        found: tuple[Finding, ...], layout: Layout, evaluator: Evaluator
    ) -> Work[tuple[Finding, ...]]:
        looked.append(layout)
        return advice.with_cures(found, layout, evaluator)

    monkeypatch.setattr(judging_module, "with_cures", with_cures)
    at_first = judging.findings
    document.change("move", MOVED)
    qtbot.waitUntil(lambda: judging.fresh, timeout=60_000)
    then = judging.findings
    document.undo()
    assert not judging.fresh
    qtbot.waitUntil(lambda: judging.fresh, timeout=60_000)
    assert judging.findings == at_first
    document.redo()
    qtbot.waitUntil(lambda: judging.fresh, timeout=60_000)
    assert judging.findings == then
    assert looked == [MOVED]


def test_what_broke_off_leaves_nothing_told_as_if_it_held(
    qtbot: QtBot, hurried: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    judging, told = hurried.judging, []

    def broken(layout: Layout) -> Work[tuple[Finding, ...]]:
        raise ValueError(layout.title)
        yield

    monkeypatch.setattr(judging._evaluator, "settle", broken)
    judging.failed.connect(told.append)
    assert not any(finding.stale for finding in judging.findings)
    hurried.document.change("move", MOVED)
    qtbot.waitUntil(lambda: bool(told), timeout=60_000)
    assert isinstance(told[0], ValueError)
    assert not judging.fresh
    assert judging.findings
    assert all(finding.stale for finding in judging.findings)
