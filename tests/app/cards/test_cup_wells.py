"""The well on the cup's card: its kind chosen and edited by mouse and keys, only what says something shown."""

import pytest
from PySide6.QtTest import QTest

from app.cards.conftest import Show
from app.cards.hands import KEY, LAYOUT, choose, edit_of, press, settle
from floorpan import edits
from floorpan.items import CupHolder, Vessel
from floorpan.items.cup_holder import GRIPS
from floorpan.items.well_outline import well_outline
from floorpan_app.cards import cup_words as said
from floorpan_app.cards.cup_card import CupCard
from floorpan_app.cards.cup_well_part import CupWellPart
from floorpan_app.cards.cup_wells import along, wall_of, with_wall
from floorpan_app.desk import Desk


@pytest.fixture
def part(show: Show) -> CupWellPart:
    card = show("cup")
    assert isinstance(card, CupCard)
    card.resize(344, 3000)
    return card.well


def holder_of(desk: Desk) -> CupHolder:
    [holder] = desk.layout.of(CupHolder)
    return holder


def shown(part: CupWellPart) -> set[str]:
    return {name for name, field in part.form.form.fields.items() if field.isVisible()}


ALWAYS = {"depth_mm", "mouth_mm", "grip"}


def test_each_wall_is_chosen_edited_and_undone(desk: Desk, part: CupWellPart) -> None:
    assert part.wall.key() == "tapered", "the small layout's mouth is wider than its base"
    assert shown(part) == ALWAYS | {"base_mm"}
    choose(part.wall, "straight")
    assert holder_of(desk).base_mm == holder_of(desk).mouth_mm
    assert shown(part) == ALWAYS
    assert part.form.form.labels["mouth_mm"].text() == said.ACROSS
    choose(part.wall, "stepped")
    assert shown(part) == ALWAYS | {"step_mm", "step_depth_mm"}
    assert len(well_outline(holder_of(desk)).wall) == 4, "the core sees the ledge too"
    settle(part.form.form.fields["step_mm"], "66")
    assert holder_of(desk).step_mm == 66.0
    choose(part.wall, "tapered")
    assert wall_of(holder_of(desk)) == "tapered"
    assert holder_of(desk).step_mm == 0.0
    for _ in range(4):
        desk.document.undo()
    assert desk.layout == LAYOUT


def test_a_straight_well_stays_straight_where_it_is_made_wider(desk: Desk, part: CupWellPart) -> None:
    choose(part.wall, "straight")
    settle(part.form.form.fields["mouth_mm"], "3 in")
    assert (holder_of(desk).mouth_mm, holder_of(desk).base_mm) == pytest.approx((76.2, 76.2))
    desk.document.undo()
    assert (holder_of(desk).mouth_mm, holder_of(desk).base_mm) == (80.0, 80.0)


def test_a_taper_stays_one_where_its_mouth_changes(desk: Desk, part: CupWellPart) -> None:
    settle(part.form.form.fields["mouth_mm"], "84")
    assert (holder_of(desk).mouth_mm, holder_of(desk).base_mm) == (84.0, 72.0)


def test_a_second_ring_is_put_over_the_mouth_and_taken_away(desk: Desk, part: CupWellPart) -> None:
    press(part.ring)
    assert well_outline(holder_of(desk)).ring == (110.0, 40.0), "40 over a mouth 70 up and 80 across"
    assert shown(part) == ALWAYS | {"base_mm", "ring_mm", "ring_over_mm"}
    settle(part.form.form.fields["ring_over_mm"], "45")
    assert holder_of(desk).ring_over_mm == 45.0
    QTest.keyClick(part.ring, KEY.Key_Space)
    assert well_outline(holder_of(desk)).ring is None
    assert "ring_mm" not in shown(part)


@pytest.mark.parametrize("grip", GRIPS[1:])
def test_what_grips_shows_its_reach_and_its_force(desk: Desk, part: CupWellPart, grip: str) -> None:
    grips, stiff = part.form.form.fields["grip"], part.picture.grab().toImage()
    choose(grips, grip)  # type: ignore[arg-type]
    assert part.picture.grab().toImage() != stiff, "what grips is drawn"
    assert shown(part) == ALWAYS | {"base_mm", "grip_reach_mm", "grip_n_per_mm"}
    settle(part.form.form.fields["grip_reach_mm"], "6")
    assert holder_of(desk).grip_reach_mm == 6.0
    push = part.form.form.fields["grip_n_per_mm"]
    assert edit_of(push).text() == "1\u2009N"
    settle(push, "2,5 N")  # type: ignore[arg-type]
    assert holder_of(desk).grip_n_per_mm == 2.5
    choose(grips, GRIPS[0])  # type: ignore[arg-type]
    assert shown(part) == ALWAYS | {"base_mm"}


def test_a_step_as_high_as_the_well_is_told(desk: Desk, part: CupWellPart) -> None:
    choose(part.wall, "stepped")
    assert not part._too_high.isVisible()
    settle(part.form.form.fields["step_depth_mm"], "70")
    assert len(well_outline(holder_of(desk)).wall) == 2, "the core leaves it out"
    assert part._too_high.isVisible()


def test_the_picture_and_its_words_follow_what_is_typed(desk: Desk, part: CupWellPart) -> None:
    """A can 66.09 across in a straight well 80 across and 70 deep leans 12.459 deg (published with the relation)."""
    desk.change(
        "a straight can",
        lambda layout: edits.change(layout, "vessel-1", profile=((0.0, 33.045), (122.0, 33.045))),
    )
    choose(part.wall, "straight")
    assert part.picture.labels()[0] == "leans 12.5\u00b0 in the well"
    settle(part.form.form.fields["mouth_mm"], "76")
    assert part.picture.labels()[0] == "leans 8.7\u00b0 in the well"
    assert "It leans 8.7\u00b0" in part.fit.text()
    assert part.picture.accessibleName() == part.fit.text()


def test_what_does_not_go_in_and_a_well_with_nothing_in_it_are_told(desk: Desk, part: CupWellPart) -> None:
    """The can's stand is 47.8 across."""
    for name in ("mouth_mm", "base_mm"):
        settle(part.form.form.fields[name], "40")
    assert part.fit.text().endswith("its base is 47.8 mm across, the way in 40 mm.")
    assert part.picture.labels() == [said.NO_ENTRY]
    desk.change("out", lambda layout: edits.remove(layout, "vessel-1"))
    assert part.fit.text() == "No vessel stands in the cup holder yet."
    assert not part.picture.isVisible()


def test_a_can_that_sinks_below_the_mouth_is_no_deeper_in_than_it_is_tall(
    desk: Desk, part: CupWellPart
) -> None:
    """The can is 122 tall; its picture's line and the sentence tell that, not how deep its base is."""
    desk.change(
        "a straight can",
        lambda layout: edits.change(layout, "vessel-1", profile=((0.0, 33.0), (122.0, 33.0))),
    )
    choose(part.wall, "straight")
    settle(part.form.form.fields["depth_mm"], "200")
    assert " sits 122 mm deep in the cup holder." in part.fit.text()
    assert part.picture.labels()[-2:] == ["122", said.DEEP]


def test_a_holder_taken_out_leaves_its_can_standing_and_one_undo_brings_it_back(desk: Desk) -> None:
    desk.change("turn", lambda layout: edits.turn(layout, "cup-holder-1", 25.0))
    turned = desk.layout
    stood = holder_of(desk).place
    desk.change("out", lambda layout: edits.remove(layout, "cup-holder-1"))
    [can] = desk.layout.of(Vessel)
    assert (can.stands_in, can.place) == ("", stood)
    desk.document.undo()
    assert desk.layout == turned


@pytest.mark.parametrize("mouth", [30.0, 33.0, 80.0, 160.0])
@pytest.mark.parametrize("wall", ["straight", "tapered", "stepped"])
def test_every_well_can_be_made_any_kind(mouth: float, wall: str) -> None:
    for base in (30.0, mouth):
        holder = CupHolder(id="a", mouth_mm=mouth, base_mm=base)
        changed = CupHolder(**{"id": "a", "mouth_mm": mouth, "base_mm": base, **with_wall(holder, wall)})
        assert wall_of(changed) == wall
        assert with_wall(changed, wall) == {}


def test_only_the_mouth_of_a_straight_well_takes_its_base_along() -> None:
    straight, tapered = CupHolder(id="a", mouth_mm=80.0, base_mm=80.0), CupHolder(id="b")
    assert along(straight, "mouth_mm", 70.0) == {"base_mm": 70.0}
    assert along(straight, "depth_mm", 70.0) == {}
    assert along(tapered, "mouth_mm", 70.0) == {}
