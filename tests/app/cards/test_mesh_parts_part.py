"""Controls: parts from mesh files, what the one in hand stands for, how it moves, the worst that is said of each."""

import pytest
from PySide6.QtWidgets import QLabel

from app.cards.conftest import Show
from app.cards.hands import LAYOUT, RAW, choose, press, press_row, settle, told_beside
from core.checks.test_mesh_parts import CONSOLE, part_of
from floorpan import edits
from floorpan.checks import Evaluator, mesh_parts
from floorpan.derive import Bench
from floorpan.items import MeshPart, Place
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.desk import Desk

LID = part_of(CONSOLE, name="Lid", counts_as="console shell", place=Place(x_mm=60.0, y_mm=20.0))


def with_two() -> Layout:
    layout, _ = edits.add(LAYOUT, LID)
    layout, _ = edits.add(layout, part_of(CONSOLE, name="Trim", place=Place(y_mm=600.0)))
    return layout


@pytest.fixture
def card(show: Show) -> ControlsCard:
    card = show("controls", with_two())
    assert isinstance(card, ControlsCard)
    return card


def in_hand(desk: Desk) -> MeshPart:
    part = desk.layout.thing("mesh-part-1")
    assert isinstance(part, MeshPart)
    return part


def test_without_one_it_is_told_what_they_are_for(show: Show) -> None:
    card = show("controls")
    assert isinstance(card, ControlsCard)
    assert card.meshes.add.isVisible()
    assert not card.meshes.rows.isVisible()
    assert not card.meshes.form.isVisible()
    asked: list[str] = []
    card.asked.connect(asked.append)
    press(card.meshes.add)
    assert asked == ["part from file"]


def test_what_it_stands_for_and_its_unit_are_chosen(desk: Desk, card: ControlsCard) -> None:
    card.show_findings(())
    press_row(card.meshes.rows, "mesh-part-1")
    form = card.meshes.form.form
    shown = [line.text().replace("\u200b", "") for line in card.meshes.facts.findChildren(QLabel)]
    assert "part.stl" in shown
    assert "300 \u00d7 160 \u00d7 100 mm" in shown
    choose(form.fields["counts_as"], "seat")  # type: ignore[arg-type]
    assert in_hand(desk).counts_as == "seat"
    choose(form.fields["unit"], "m")  # type: ignore[arg-type]
    assert in_hand(desk).unit == "mm"
    assert "300 m long" in told_beside(card.meshes)[0]
    settle(form.fields["lean_deg"], "12")
    assert in_hand(desk).lean_deg == 12.0


def test_only_what_says_something_of_how_it_moves_is_shown(desk: Desk, card: ControlsCard) -> None:
    card.show_findings(())
    press_row(card.meshes.rows, "mesh-part-1")
    form = card.meshes.form.form

    def shown() -> set[str]:
        return {name for name, field in form.fields.items() if field.isVisible()}

    still = {"name", "counts_as", "unit", "lean_deg", "side_deg", "motion"}
    line = {"axis_turn_deg", "axis_rise_deg"}
    assert shown() == still
    choose(form.fields["motion"], "slides")  # type: ignore[arg-type]
    assert shown() == still | line | {"slide_mm"}
    choose(form.fields["motion"], "swings")  # type: ignore[arg-type]
    assert shown() == still | line | {"swing_deg", "axis_x_mm", "axis_y_mm", "axis_z_mm"}
    settle(form.fields["axis_x_mm"], "150")
    assert (in_hand(desk).motion, in_hand(desk).axis_x_mm) == ("swings", 150.0)


def test_each_is_told_with_the_worst_that_is_said_of_it(desk: Desk, card: ControlsCard) -> None:
    bench = Bench({RAW.sha256: RAW, CONSOLE.sha256: CONSOLE})
    found = finish(Evaluator(bench, mesh_parts.CHECKS).settle(desk.layout))
    card.show_findings(found)
    lid, trim = card.meshes.rows.rows()
    assert (lid.title, trim.title) == ("Lid", "Trim")
    assert lid.mark == found[0].verdict
    assert "lid" in lid.spoken.lower()


def test_locked_turned_moved_and_taken_out_as_every_thing_is(desk: Desk, card: ControlsCard) -> None:
    card.show_findings(())
    press_row(card.meshes.rows, "mesh-part-1")
    settle(card.meshes.form.place.fields["z_mm"], "85")
    settle(card.meshes.form.place.fields["turn_deg"], "30")
    assert (in_hand(desk).place.z_mm, in_hand(desk).place.turn_deg) == (85.0, 30.0)
    press(card.meshes.form.lock)
    assert in_hand(desk).locked
    press(card.meshes.form.out)
    assert [one.id for one in desk.layout.of(MeshPart)] == ["mesh-part-2"]
