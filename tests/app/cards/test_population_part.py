"""Who else reaches, on the driver's card: counted beside the window, for the layout as it stands."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from app.cards.hands import LAYOUT, settle, told_beside
from floorpan import edits
from floorpan.derive import PopulationReach, Scene, population_reach
from floorpan.derive.memory import Memory
from floorpan.errors import BadValue
from floorpan.items import Shifter
from floorpan.layout import Layout
from floorpan.progress import Step, Work, finish
from floorpan.report.driver_told import share_rows
from floorpan.report.naming import capital
from floorpan_app.cards import driver_words as said
from floorpan_app.cards import population_part
from floorpan_app.cards.population_part import PopulationPart
from floorpan_app.desk import Desk

SEAT, SHIFTER = LAYOUT.seats[0], LAYOUT.of(Shifter)[0]


@pytest.fixture
def part(qtbot: QtBot, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> PopulationPart:
    """The part as the driver's card keeps it up to date; fewer bodies, and no waiting to settle."""
    monkeypatch.setattr(population_part, "population_reach", lambda scene: population_reach(scene, 400))
    monkeypatch.setattr(population_part, "SETTLE_AFTER_MS", 5)
    desk.go_to("driver")
    part = PopulationPart(desk)
    qtbot.addWidget(part)

    def changed(*_: object) -> None:
        if desk.document.previewing:
            part.follow()
        elif desk.step == "driver":
            part.refresh()

    for signal in (desk.document.layout_changed, desk.step_changed, desk.system_changed):
        signal.connect(changed)
    part.resize(314, 500)
    part.refresh()
    part.show()
    return part


def wanted(layout: Layout) -> list[list[str]]:
    found = finish(population_reach(Scene(layout=layout, floors=(), memory=Memory()), 400))
    assert found is not None
    return [[capital(gear), *texts] for gear, texts in share_rows(found)]


def counted(qtbot: QtBot, part: PopulationPart) -> None:
    qtbot.waitUntil(lambda: part.found() is not None and part.told() == "", timeout=20_000)


def further(layout: Layout) -> Layout:
    return edits.move(layout, SHIFTER.id, x_mm=SHIFTER.place.x_mm - 120.0)


def test_every_gear_for_men_women_and_the_mix(qtbot: QtBot, part: PopulationPart) -> None:
    assert part.told() == "Counting who reaches, 0 %"
    assert not part.table.isVisible()
    counted(qtbot, part)
    assert part.table.texts() == wanted(LAYOUT)
    assert [row[0] for row in part.table.texts()] == [
        "1st",
        "2nd",
        "3rd",
        "4th",
        "5th",
        "Reverse",
        "Every gear",
    ]
    assert part.table.isVisible()
    assert part.table.isEnabled()


def test_another_layout_is_counted_again_and_the_figures_of_before_say_so(
    qtbot: QtBot, desk: Desk, part: PopulationPart
) -> None:
    counted(qtbot, part)
    before = part.table.texts()
    desk.change("move", further)
    assert part.told().startswith("These figures are of before.")
    assert not part.table.isEnabled()
    assert part.table.texts() == before
    counted(qtbot, part)
    assert part.table.texts() == wanted(desk.layout)
    assert part.table.texts() != before
    assert part.table.isEnabled()


def test_what_nobodys_reach_follows_from_counts_nothing(
    qtbot: QtBot, desk: Desk, part: PopulationPart
) -> None:
    counted(qtbot, part)
    desk.change("rename", lambda layout: edits.rename_project(layout, "Other"))
    desk.change("tape", lambda layout: edits.change_person(layout, layout.people[0].id, glove_mm=3.0))
    assert part.told() == ""
    assert not desk.judging.threads.busy


def test_while_dragged_the_figures_are_marked_and_nothing_is_counted(
    qtbot: QtBot, desk: Desk, part: PopulationPart
) -> None:
    counted(qtbot, part)
    desk.preview(further)
    assert part.told() == said.STALE
    assert not part.table.isEnabled()
    qtbot.wait(40)
    assert part.told() == said.STALE
    desk.document.drop_preview()
    assert part.told() == ""
    assert part.table.isEnabled()


def test_the_mix_is_typed_and_mixed_at_once(qtbot: QtBot, desk: Desk, part: PopulationPart) -> None:
    counted(qtbot, part)
    settle(part.mix.fields["men_percent"], "80")
    assert desk.layout.men_percent == 80.0
    assert desk.document.undo_words() == said.MIX_ENTRY
    assert part.told() == "", "men and women stay as they were counted"
    assert part.table.texts() == wanted(desk.layout)
    settle(part.mix.fields["men_percent"], "101")
    assert desk.layout.men_percent == 80.0
    assert len(told_beside(part)) == 1
    desk.document.undo()
    assert desk.layout == LAYOUT
    assert part.table.texts() == wanted(LAYOUT)


def test_notches_used_count(qtbot: QtBot, desk: Desk, part: PopulationPart) -> None:
    counted(qtbot, part)
    person = LAYOUT.people[0].id
    desk.change("notches", lambda layout: edits.change_person(layout, person, notches_used=(4, 6, 9)))
    counted(qtbot, part)
    assert part.table.texts() == wanted(desk.layout)


class _Slow:
    """Counting that stays at its half until it is let go, or is stopped."""

    def __init__(self) -> None:
        self.begun: list[Layout] = []
        self.closed = 0
        self.let_go = False

    def __call__(self, scene: Scene) -> Work[PopulationReach | None]:
        self.begun.append(scene.layout)
        try:
            while not self.let_go:
                yield Step(0.5, "Counting")
        except GeneratorExit:
            self.closed += 1
            raise
        return (yield from population_reach(scene, 50))


@pytest.fixture
def slow(part: PopulationPart, monkeypatch: pytest.MonkeyPatch) -> Iterator[_Slow]:
    slow = _Slow()
    monkeypatch.setattr(population_part, "population_reach", slow)
    yield slow
    slow.let_go = True


def test_counting_tells_how_far_it_is_and_begins_anew_with_the_layout(
    qtbot: QtBot, desk: Desk, part: PopulationPart, slow: _Slow
) -> None:
    qtbot.waitUntil(lambda: part.told() == "Counting who reaches, 50 %", timeout=20_000)
    desk.change("move", further)
    assert part.told() == "Counting who reaches, 0 %"
    qtbot.waitUntil(lambda: len(slow.begun) == 2, timeout=20_000)
    assert slow.begun == [LAYOUT, desk.layout]
    assert slow.closed == 1, "the one before was stopped"
    slow.let_go = True
    counted(qtbot, part)


def test_another_step_stops_it_and_coming_back_begins_anew(
    qtbot: QtBot, desk: Desk, part: PopulationPart, slow: _Slow
) -> None:
    qtbot.waitUntil(lambda: len(slow.begun) == 1, timeout=20_000)
    desk.go_to("controls")
    qtbot.waitUntil(lambda: not desk.judging.threads.busy, timeout=20_000)
    desk.change("move", further)
    qtbot.wait(40)
    assert len(slow.begun) == 1, "nobody looks, nothing is counted"
    desk.go_to("driver")
    qtbot.waitUntil(lambda: len(slow.begun) == 2, timeout=20_000)
    slow.let_go = True
    counted(qtbot, part)


def test_a_refusal_is_told_and_counting_goes_on_with_another_layout(
    qtbot: QtBot, desk: Desk, part: PopulationPart, monkeypatch: pytest.MonkeyPatch
) -> None:
    counted(qtbot, part)

    def refused(scene: Scene) -> Work[PopulationReach | None]:
        yield Step(0.1, "Counting")
        raise BadValue("no", "The seat has no notch 9.", "Use another.")

    monkeypatch.setattr(population_part, "population_reach", refused)
    desk.change("move", further)
    qtbot.waitUntil(lambda: part.told() == "The seat has no notch 9. Use another.", timeout=20_000)
    part.refresh()
    assert part.told() == "The seat has no notch 9. Use another."
    assert not part.table.isEnabled()
    monkeypatch.setattr(population_part, "population_reach", lambda scene: population_reach(scene, 50))
    desk.change(
        "move back a little", lambda layout: edits.move(layout, SHIFTER.id, x_mm=SHIFTER.place.x_mm - 90.0)
    )
    counted(qtbot, part)


def test_it_says_whose_bodies_they_are(qtbot: QtBot, part: PopulationPart) -> None:
    counted(qtbot, part)
    said_all = " ".join(part.said())
    assert "2012 Anthropometric Survey of U.S. Army Personnel" in said_all
    assert "fitter and younger than drivers at large" in said_all
    assert "50 men of a hundred" in said_all
    assert "at notch 6" in said_all


def test_without_a_shifter_it_says_what_to_do(qtbot: QtBot, desk: Desk, part: PopulationPart) -> None:
    counted(qtbot, part)
    desk.document.replace_all(replace(LAYOUT, items=()))
    assert part.told() == said.WHO_NEEDS
    assert not part.table.isVisible()
    desk.document.replace_all(replace(LAYOUT, people=()))
    assert not part.isVisible()


def test_every_figure_speaks(qtbot: QtBot, part: PopulationPart) -> None:
    counted(qtbot, part)
    [_, men, women, mix] = part.table.cells(0)
    texts = part.table.texts()[0]
    assert men.accessibleName() == f"1st, men percent: {texts[1]}"
    assert women.accessibleName() == f"1st, women percent: {texts[2]}"
    assert mix.accessibleName() == f"1st, mix percent: {texts[3]}"
