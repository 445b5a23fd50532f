"""Vessels on their way out judged: closed forms on a level floor with a box beside the way, and who lifts what."""

import math
from dataclasses import replace

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.lift_out import CHECKS
from floorpan.console import Envelope, Station
from floorpan.derive import Bench
from floorpan.derive.lifting import Lifting
from floorpan.driver import Person
from floorpan.items import CupHolder, Place, Seat, vessel_of
from floorpan.items.lift_out import OVER_EDGE_MM, LiftOut
from floorpan.items.states import state_of
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.sentences import remark, sentence, short_title

RAW = raw_scan(level_floor())
LIFTED = state_of({"vessel-1.place": "lifting"})
CAN_MM, RADIUS_MM = 122.0, 33.0
FACET_MM = 0.2


def judged(layout: Layout) -> dict[str, Finding]:
    found = finish(Evaluator(Bench({RAW.sha256: RAW}), CHECKS).settle(layout))
    return {finding.id: finding for finding in found}


def with_passenger() -> Layout:
    layout, seat = edits.add(
        small_layout(RAW),
        Seat(id="new", place=Place(x_mm=420.0, y_mm=400.0, z_mm=260.0), stand_mm=260.0, for_whom="passenger"),
    )
    layout, _ = edits.add_person(layout, Person(id="new", role="passenger", seat_id=seat))
    return layout


def wall(y_mm: float) -> Envelope:
    """An upright box 400 high whose face towards the tunnel is the plane at y_mm, on the driver's side of it."""
    stations = (
        Station(x_mm=0.0, width_mm=100.0, height_mm=400.0),
        Station(x_mm=600.0, width_mm=100.0, height_mm=400.0),
    )
    return Envelope(id="new", name="Box", place=Place(x_mm=-100.0, y_mm=y_mm - 50.0), stations=stations)


def test_past_a_plane_wall_towards_the_driver() -> None:
    """Closed form: a can that goes level towards the shoulder stands off a wall by where its axis ends less its radius.

    The well at (200, 60), the way 150 long towards the shoulder: the axis ends at y = 60 - 150 times the sine.
    """
    layout, _ = edits.add(small_layout(RAW), wall(-150.0))
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    finding = judged(layout)["lift-out:vessel-1:console-2:vessel-1.place=lifting"]
    lifted = scene.body("vessel-1", LIFTED)[0].box()
    assert lifted[0][2] == pytest.approx(60.0 + 70.0 + OVER_EDGE_MM)
    going = _way(layout)
    assert math.hypot(*going.aside_mm) == pytest.approx(150.0)
    ends_at = 60.0 + going.aside_mm[1]
    assert ends_at < 0.0
    assert finding.value == pytest.approx(ends_at - RADIUS_MM + 150.0, abs=FACET_MM)
    assert finding.verdict == "clear"
    assert remark(finding) == "Nearest once it is up and 150 mm towards the driver."
    assert short_title(finding, layout) == "Can \u2013 box, on its way out"
    # Nearer by 60 the wall is met on the way, and the sentence says so.
    nearer = judged(edits.move(layout, "console-2", y_mm=-90.0 - 50.0))[finding.id]
    assert nearer.value == pytest.approx(ends_at - RADIUS_MM + 90.0, abs=FACET_MM)
    assert "on its way out" in sentence(nearer, layout)


def _way(layout: Layout, stop: str = "lifting") -> LiftOut:
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    going = Lifting(scene.layout, scene.memory).on_its_way("vessel-1", stop)
    assert going is not None
    return going.way


def test_the_hand_on_it_takes_more_room_than_the_vessel() -> None:
    """Closed form: the fingers' 25 mm all round on top of the can's radius."""
    layout, _ = edits.add(small_layout(RAW), wall(-150.0))
    found = judged(layout)
    can = found["lift-out:vessel-1:console-2:vessel-1.place=lifting"].value
    hand = found["lift-out-hand:vessel-1.hand:console-2:vessel-1.place=lifting"]
    assert can is not None
    assert hand.value == pytest.approx(can - 25.0, abs=FACET_MM)
    gloved = edits.change_person(layout, "driver-1", glove_mm=4.0)
    thicker = judged(gloved)["lift-out-hand:vessel-1.hand:console-2:vessel-1.place=lifting"]
    assert thicker.value == pytest.approx(can - 29.0, abs=FACET_MM)
    assert short_title(hand, layout).startswith("Knuckles on the can \u2013 box")


def test_every_gear_and_notch_of_what_it_passes_is_a_state_of_its_own() -> None:
    found = judged(edits.change_person(small_layout(RAW), "driver-1", notches_used=(5, 6)))
    gears = {dict(one.state).get("shifter-1.gear") for one in found.values() if "shifter-1" in one.subjects}
    # Nobody drinks while going backwards.
    assert gears == {"N", "1", "2", "3", "4", "5"}
    notches = {dict(one.state).get("seat-1.notch") for one in found.values() if "seat-1" in one.subjects}
    assert notches == {"5", "6"}
    assert all(dict(one.state)["vessel-1.place"] == "lifting" for one in found.values())
    # Its own well is not among what it meets; the floor is.
    met = {one.subjects[1] for one in found.values()}
    assert met == {"shifter-1", "seat-1", "console-1", "scan-1"}


def test_towards_the_passenger_is_a_way_of_its_own() -> None:
    layout, _ = edits.add(with_passenger(), wall(400.0))
    found = judged(layout)
    # The box's near face is 300 to the right of the car's middle: the driver takes the can away from it.
    driver = found["lift-out:vessel-1:console-2:vessel-1.place=lifting"]
    assert driver.value == pytest.approx(300.0 - 60.0 - RADIUS_MM, abs=FACET_MM)
    passenger = found["lift-out:vessel-1:console-2:vessel-1.place=lifting over"]
    ends_at = 60.0 + _way(layout, "lifting over").aside_mm[1]
    assert ends_at > 60.0
    assert passenger.value == pytest.approx(300.0 - ends_at - RADIUS_MM, abs=FACET_MM)
    told = sentence(found["lift-out:vessel-1:console-2:vessel-1.place=lifting over"], layout)
    assert told.endswith("on its way out to the passenger.")


def test_up_only_where_nobody_sits_and_nothing_of_a_vessel_in_no_well() -> None:
    layout = edits.remove_person(small_layout(RAW), "driver-1")
    assert _way(layout).level_mm == 0.0
    assert judged(edits.change(layout, "vessel-1", stands_in="")) == {}
    # Two that share a well never meet; one in another well does.
    layout, _ = edits.add(layout, vessel_of("bottle-500", "new", stands_in="cup-holder-1"))
    assert not any("vessel-2" in one.subjects[1] for one in judged(layout).values())
    layout, holder = edits.add(layout, CupHolder(id="new", place=Place(x_mm=200.0, y_mm=160.0, z_mm=60.0)))
    apart = judged(edits.change(layout, "vessel-2", stands_in=holder))
    finding = apart["lift-out:vessel-1:vessel-2:vessel-1.place=lifting,vessel-2.place=in"]
    bottle = next(one for one in layout.things() if one.id == "vessel-2")
    widest = max(radius for _, radius in bottle.profile)  # type: ignore[union-attr]
    assert finding.value == pytest.approx(100.0 - RADIUS_MM - widest, abs=2 * FACET_MM)


def test_the_vessel_is_shown_over_its_well() -> None:
    layout = small_layout(RAW)
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    stood = scene.body("vessel-1", state_of({"vessel-1.place": "in"}))
    lifted = scene.body("vessel-1", LIFTED)
    raised = lifted[0].box() - stood[0].box()
    assert raised[:, 2] == pytest.approx(70.0 + OVER_EDGE_MM)
    assert raised[:, :2] == pytest.approx(0.0)
    assert scene.body("vessel-1", LIFTED) is lifted
    hand = scene.body("vessel-1.hand", LIFTED)
    assert hand[0].box()[0][2] > lifted[0].box()[0][2]
    assert scene.body("vessel-1", state_of({"vessel-1.place": "out"})) == ()
    assert scene.body("vessel-1.hand", state_of({"vessel-1.place": "out"})) == ()


def test_a_console_higher_than_the_mouth_has_a_hole_over_the_well() -> None:
    """Closed form: top of the box over the mouth plus 10 is where the base ends up; so 10 is what it clears it by."""
    stations = (
        Station(x_mm=0.0, width_mm=300.0, height_mm=170.0),
        Station(x_mm=400.0, width_mm=300.0, height_mm=170.0),
    )
    layout = small_layout(RAW)
    layout = edits.change(layout, "console-1", stations=stations)
    finding = judged(layout)["lift-out:vessel-1:console-1:vessel-1.place=lifting"]
    assert finding.value == pytest.approx(OVER_EDGE_MM)
    scene = Bench({RAW.sha256: RAW}).scene(layout)
    assert scene.body("vessel-1", LIFTED)[0].box()[0][2] == pytest.approx(170.0 + OVER_EDGE_MM)
    assert replace(finding, stale=True).id == finding.id
