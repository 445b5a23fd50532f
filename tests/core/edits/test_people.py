"""People: what nobody taped follows, percentiles, and points taped on the belted driver."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan import edits
from floorpan.driver import LINKS, Person, body_of, shoulder_point, sit
from floorpan.driver.bodies import conditional
from floorpan.driver.person import KNUCKLE_PAST_GRIP_MM
from floorpan.errors import BadValue
from floorpan.items import Place, Seat, h_point
from floorpan.layout import Layout

SEAT = Seat(id="new", place=Place(x_mm=600.0, y_mm=-350.0, z_mm=220.0, turn_deg=4.0), back_deg=26.0)


def seated(**fields: object) -> tuple[Layout, str]:
    layout, seat = edits.add(Layout(), SEAT)
    return edits.add_person(layout, Person(id="new", seat_id=seat, **fields))  # type: ignore[arg-type]


def test_nobody_taped_is_the_survey_s_middle_of_a_sex() -> None:
    """Straight arm 665 and 611 of the 2012 survey's men and women; shoulder over the cushion 603 and 564."""
    for sex, arm, shoulder in (("man", 665.0, 603.0), ("woman", 611.0, 564.0)):
        layout, id = seated(not_taped=LINKS, sex=sex)
        person = layout.people[0]
        assert person.shoulder_to_grip_mm == pytest.approx(arm, abs=1.0)
        assert person.shoulder_mm + 95.0 == pytest.approx(shoulder, abs=1.5)
        assert id == person.id


def test_one_size_taped_moves_what_follows_by_the_survey_s_own_regression() -> None:
    layout, id = seated(not_taped=LINKS)
    tall = edits.set_size(layout, id, "stature_mm", 1900.0).people[0]
    wanted = conditional("man", {"stature_mm": 1900.0})
    assert tall.shoulder_to_grip_mm == pytest.approx(wanted["shoulder_to_grip_mm"].mean, abs=0.05)
    assert tall.shoulder_out_mm == pytest.approx(wanted["acromion_breadth_mm"].mean / 2, abs=0.05)
    back = edits.set_size(edits.set_size(layout, id, "stature_mm", 1900.0), id, "stature_mm", None)
    assert back.people == layout.people


def test_a_taped_link_stays_and_the_others_follow_it() -> None:
    layout, id = seated(not_taped=LINKS)
    taped = edits.change_person(layout, id, shoulder_to_grip_mm=720.0).people[0]
    assert taped.shoulder_to_grip_mm == 720.0
    assert "shoulder_to_grip_mm" not in taped.not_taped
    assert taped.upper_arm_mm > layout.people[0].upper_arm_mm
    again = edits.not_taped(
        edits.change_person(layout, id, shoulder_to_grip_mm=720.0), id, "shoulder_to_grip_mm"
    )
    assert again.people == layout.people


def test_sizes_that_do_not_go_together_are_refused_and_named() -> None:
    layout, id = seated(not_taped=LINKS)
    layout = edits.set_size(layout, id, "stature_mm", 1950.0)
    with pytest.raises(BadValue, match="does not go with this body"):
        edits.set_size(layout, id, "sitting_height_mm", 700.0)


def test_a_percentile_sets_one_measure_and_lets_the_rest_follow() -> None:
    """The survey's 5th percentile of stature among women, 1525; their arms are not at the 5th percentile of arms."""
    layout, id = seated()
    small = edits.set_percentile(layout, id, "woman", "stature_mm", 5.0).people[0]
    assert small.sizes[0].size == pytest.approx(1525.0, abs=3.0)
    assert small.not_taped == LINKS
    assert small.shoulder_to_grip_mm > conditional("woman", {})["shoulder_to_grip_mm"].p5
    assert body_of(small)["stature_mm"].sd == 0.0


@given(
    st.tuples(st.floats(-80, 80), st.floats(-40, 40), st.floats(-60, 60)),
    st.floats(-8, 12),
    st.floats(420, 560),
    st.floats(170, 240),
    st.integers(1, 12),
    st.floats(0, 30),
    st.floats(0, 20),
)
def test_points_taped_give_back_the_very_points(
    off: tuple[float, float, float],
    lean: float,
    long: float,
    out: float,
    notch: int,
    jacket: float,
    foam: float,
) -> None:
    layout, id = seated(jacket_mm=jacket, not_taped=LINKS)
    layout = edits.change(layout, layout.seats[0].id, foam_mm=foam)
    seat = layout.seats[0]
    hip = np.add(h_point(seat, notch), off)
    model = dataclasses.replace(layout.people[0], shoulder_mm=long, shoulder_out_mm=out)
    shoulder = shoulder_point(model, tuple(hip), seat.back_deg + lean, "right", turn_deg=seat.place.turn_deg)
    elbow = shoulder + np.array([0.0, 60.0, -320.0])
    knuckle = elbow + np.array([-290.0, 40.0, 60.0])
    taped = edits.set_by_points(
        layout,
        id,
        notch,
        hip_mm=tuple(hip),
        shoulder_mm=tuple(shoulder),
        elbow_mm=tuple(elbow),
        knuckle_mm=tuple(knuckle),
    ).people[0]
    sitting = sit(taped, h_point(seat, notch), seat.back_deg, seat.place.turn_deg, foam)
    assert sitting.h_point == pytest.approx(tuple(hip), abs=0.01)
    found = shoulder_point(taped, sitting.h_point, sitting.back_deg, "right", turn_deg=sitting.turn_deg)
    np.testing.assert_allclose(found, shoulder, atol=0.05)
    assert taped.upper_arm_mm == pytest.approx(math.dist(shoulder, elbow), abs=0.01)
    fore = math.dist(elbow, knuckle) - KNUCKLE_PAST_GRIP_MM
    assert taped.forearm_mm() == pytest.approx(fore, abs=0.02)


def test_a_point_no_body_has_is_refused_and_nothing_changes() -> None:
    layout, id = seated()
    hip = h_point(layout.seats[0], 6)
    with pytest.raises(BadValue, match="Hip to shoulder"):
        edits.set_by_points(layout, id, 6, shoulder_mm=(hip[0], hip[1] + 200.0, hip[2] + 900.0))
    with pytest.raises(BadValue, match="point to point"):
        edits.set_by_points(layout, id, 6, knuckle_mm=hip)


def test_foam_lowers_the_hip_and_a_jacket_brings_it_ahead() -> None:
    """Square to a torso line 30 degrees from upright, 20 of jacket are 17.3 forward and 10 up."""
    person = Person(id="d", jacket_mm=20.0)
    sitting = sit(person, (0.0, 0.0, 0.0), 30.0, foam_mm=15.0)
    assert sitting.h_point == pytest.approx((-20 * math.cos(math.radians(30)), 0.0, 10.0 - 15.0))


def test_an_acceptance_outlives_a_field_that_stands_at_its_default() -> None:
    layout, id = seated()
    accepted = edits.accept(layout, "driver", date="2026-01-01")
    same = edits.set_driving_position(accepted, wheel_across_mm=360.0)
    assert edits.step_mark(same, "driver") == "accepted"
    assert edits.step_mark(edits.change_person(accepted, id, helmet_mm=30.0), "driver") == "look again"
    assert (
        edits.step_mark(edits.set_driving_position(accepted, heel_mm=(1.0, 2.0, 3.0)), "driver")
        == "look again"
    )


def test_a_second_driver_comes_and_goes() -> None:
    layout, first = seated()
    layout, second = edits.add_person(layout, Person(id="new", name="Two", seat_id=layout.seats[0].id))
    assert [one.id for one in layout.people] == [first, second] == ["driver-1", "driver-2"]
    left = edits.remove_person(layout, first)
    assert left.driver() is not None
    assert [one.id for one in left.people] == [second]
