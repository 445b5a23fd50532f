"""A switch: touched in its middle, by so much further than a whole hand, and where it was set down."""

import pytest

from floorpan import edits
from floorpan.errors import BadValue
from floorpan.items import Control, Place, vessel_of
from floorpan.items.control import FINGERS_MM, KIND
from floorpan.items.vessels import KIND as VESSEL
from floorpan.items.vessels import height_mm
from floorpan.layout import Layout


def test_each_touch_reaches_as_far_as_published() -> None:
    """Check value 2.05: against three fingers a full hand 50 less, an extended finger 50 more."""
    of_three = {touch: mm - FINGERS_MM["three fingers"] for touch, mm in FINGERS_MM.items()}
    assert of_three == {"whole hand": -50.0, "three fingers": 0.0, "fingertip": 50.0}
    assert FINGERS_MM["whole hand"] == 0.0, "the arm is taped to the middle of the fist"


def test_it_is_touched_in_its_middle_and_is_a_ball_about_it() -> None:
    control = Control(id="switch-1", place=Place(x_mm=-300.0, y_mm=40.0, z_mm=500.0), radius_mm=9.0)
    [grip] = KIND.grips(control, {})
    [solid] = KIND.envelope(control, "button", {})
    assert grip.at_mm == (-300.0, 40.0, 500.0)
    assert solid.points().tolist() == [[-300.0, 40.0, 500.0]]
    assert solid.hull.radius_mm == 9.0
    assert KIND.foot_below_mm(control) == 0.0


@pytest.mark.parametrize("wrong", [{"touch": "elbow"}, {"hand": "left"}, {"radius_mm": 0.0}])
def test_what_it_does_not_take(wrong: dict[str, object]) -> None:
    with pytest.raises(BadValue):
        Control(id="switch-1", **wrong)  # type: ignore[arg-type]


def test_it_is_placed_changed_and_taken_out_like_any_other_thing() -> None:
    layout, id = edits.add(Layout(), Control(id="new", name="Horn"))
    assert id == "switch-1"
    layout = edits.change(layout, id, touch="three fingers", hand="other hand")
    [control] = layout.of(Control)
    assert (control.fingers_mm(), control.hand) == (50.0, "other hand")
    assert edits.move(layout, id, z_mm=420.0).thing(id).place.z_mm == 420.0
    assert edits.remove(layout, id).of(Control) == ()


def test_the_step_of_the_controls_looks_again_when_a_switch_moves() -> None:
    layout, id = edits.add(Layout(), Control(id="new"))
    accepted = edits.accept(layout, "controls", date="2026-11-25")
    moved = edits.move(accepted, id, x_mm=5.0)
    assert edits.step_mark(accepted, "controls") == "accepted"
    assert edits.step_mark(moved, "controls") == "look again"


def test_a_vessel_is_gripped_at_two_thirds_of_its_height_while_it_is_there() -> None:
    can = vessel_of("can-355", "vessel-1", Place(x_mm=10.0, y_mm=20.0, z_mm=30.0))
    [grip] = VESSEL.grips(can, {})
    assert grip.at_mm == pytest.approx((10.0, 20.0, 30.0 + height_mm(can) * 2 / 3))
    assert VESSEL.grips(can, {"place": "out"}) == ()
