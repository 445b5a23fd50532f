"""Cards on an empty and a small layout: what is typed reaches the layout, what is wrong changes nothing."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.cards.hands import LAYOUT, RAW
from floorpan import edits
from floorpan.checks import evaluate
from floorpan.derive import Bench
from floorpan.items import Shifter, Vessel
from floorpan.layout import STEPS, Layout
from floorpan.progress import finish
from floorpan_app.cards.axes_card import AxesCard
from floorpan_app.cards.catalogue import CARDS
from floorpan_app.cards.controls_card import ControlsCard
from floorpan_app.cards.cup_card import CupCard
from floorpan_app.cards.scan_card import ScanCard
from floorpan_app.desk import Desk


def _type(field: object, text: str) -> None:
    edit = field.line_edit()  # type: ignore[attr-defined]
    edit.setFocus()
    edit.selectAll()
    QTest.keyClicks(edit, text)
    QTest.keyClick(edit, Qt.Key.Key_Return)


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("layout", [Layout(), LAYOUT], ids=["empty", "small"])
def test_every_card_stands_on_any_layout_and_follows_undo(
    qtbot: QtBot, desk: Desk, step: str, layout: Layout
) -> None:
    desk.document.replace_all(layout)
    desk.go_to(step)  # type: ignore[arg-type]
    card = CARDS[step](desk)  # type: ignore[index]
    qtbot.addWidget(card)
    card.resize(344, 600)
    card.show()
    desk.change("Carpet", lambda layout: edits.set_carpet(layout, 5.0))
    desk.document.undo()
    assert desk.layout == layout
    assert card.isVisible()


def test_a_lever_is_typed_in_inches_and_a_wrong_one_changes_nothing(qtbot: QtBot, desk: Desk) -> None:
    desk.go_to("controls")
    card = ControlsCard(desk)
    qtbot.addWidget(card)
    card.show()
    field = card.shifter.form.fields["lever_mm"]
    _type(field, "9 1/2 in")
    shifter = desk.layout.thing("shifter-1")
    assert isinstance(shifter, Shifter)
    assert shifter.lever_mm == pytest.approx(241.3)
    before = desk.layout
    _type(field, "11")
    assert desk.layout is before
    assert field.fault() == "Lever length: 60 to 700 mm. Inches? Type 11 in."
    _type(field, "3 1/")
    assert desk.layout is before


def test_the_gate_card_follows_the_findings_and_takes_the_lever_there(qtbot: QtBot, desk: Desk) -> None:
    desk.go_to("controls")
    card = ControlsCard(desk)
    qtbot.addWidget(card)
    findings = finish(evaluate(LAYOUT, Bench({RAW.sha256: RAW})))
    card.show_findings(findings)
    gears = {gear.gear: gear for gear in card.gate.gears()}
    assert set(gears) == {"N", "1", "2", "3", "4", "5", "R"}
    assert gears["R"].row == 1.0
    assert gears["1"].column < gears["3"].column < gears["5"].column
    card.gate.gearChosen.emit("4")
    assert dict(desk.state)["shifter-1.gear"] == "4"
    assert card.gate.in_hand() == "4"


def test_a_step_is_accepted_looked_at_again_and_opened_again(qtbot: QtBot, desk: Desk) -> None:
    desk.go_to("floor")
    card = CARDS["floor"](desk)
    qtbot.addWidget(card)
    assert card.can_accept()
    card.accept_with("")
    assert edits.step_mark(desk.layout, "floor") == "accepted"
    assert not card.can_accept()
    desk.change("Carpet", lambda layout: edits.set_carpet(layout, 9.0))
    assert edits.step_mark(desk.layout, "floor") == "look again"
    assert card.can_accept()
    card.accept_with("carpet is being changed")
    assert edits.step_mark(desk.layout, "floor") == "accepted as it is"
    card._open_again()
    assert edits.step_mark(desk.layout, "floor") == "open"


def test_a_crop_is_typed_face_by_face(qtbot: QtBot, desk: Desk) -> None:
    finish(desk.judging.bench.prepare(LAYOUT.scans[0]))
    card = ScanCard(desk)
    qtbot.addWidget(card)
    card.show()
    _type(card.box.faces["front"], "300")
    crop = desk.layout.scans[0].crop
    assert crop is not None
    assert crop.least_mm[0] == -300.0
    assert crop.greatest_mm[0] == pytest.approx(710.0)
    before = desk.layout
    _type(card.box.faces["rear"], "-400")
    assert desk.layout is before


def test_points_are_typed_and_the_axes_set(qtbot: QtBot, desk: Desk) -> None:
    desk.go_to("axes")
    card = AxesCard(desk)
    qtbot.addWidget(card)
    for role, *at in (
        ("level", -200, -200, 0), ("level", 200, -200, 0), ("level", -200, 200, 0), ("level", 200, 200, 0),
        ("centre", -300, 0, 0), ("centre", 300, 0, 0), ("origin", 10, 0, 0),
        ("front", -500, 0, 0), ("above", 0, 0, 300),
    ):  # fmt: skip
        card.add_point()
        card.point.role.show_key(role)
        card.point.role.activated.emit(0)
        for axis, value in zip("xyz", at, strict=True):
            _type(card.point.at[axis], str(value))
    fit, fault = card.fit()
    assert fit is not None, fault
    card.set_axes()
    pose = desk.layout.scans[0].pose
    assert pose is not None
    assert pose.shift_mm == pytest.approx((-10.0, 0.0, 0.0))


def test_another_vessel_takes_the_well(qtbot: QtBot, desk: Desk) -> None:
    desk.go_to("cup")
    card = CupCard(desk)
    qtbot.addWidget(card)
    card.kind.show_key("slim-can-250")
    card.add_vessel()
    before, vessel = desk.layout.of(Vessel)
    assert vessel.name.startswith("Slim can")
    assert vessel.stands_in == before.stands_in == "cup-holder-1"
    shown = dict(desk.state)
    assert shown[f"{vessel.id}.place"] != shown[f"{before.id}.place"], "two vessels stand in one well"
    desk.document.undo()
    assert desk.layout == LAYOUT
