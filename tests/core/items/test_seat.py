"""The seat: its reference point along the rails, its torso line, and its skin measured from both, in closed form."""

import dataclasses
import math

import numpy as np
import pytest

from floorpan.errors import BadValue
from floorpan.frames import Floats
from floorpan.geometry.solids import Body
from floorpan.items.placing import Place
from floorpan.items.seat import KIND, Seat, h_point, torso_line

PLAIN = Seat(id="seat-1", side_bolster_mm=0.0, back_bolster_mm=0.0)


def farthest(body: Body, along: Floats, start: Floats) -> float:
    """How far the skin reaches along a unit direction from a point (the support of rounded hulls)."""
    return max(float(((solid.points() - start) @ along).max()) + solid.hull.radius_mm for solid in body)


def bounds(body: Body) -> Floats:
    sides = [np.array(axis, dtype=float) for axis in ((1, 0, 0), (0, 1, 0), (0, 0, 1))]
    return np.array(
        [[-farthest(body, -s, np.zeros(3)) for s in sides], [farthest(body, s, np.zeros(3)) for s in sides]]
    )


def test_the_reference_point_holds_at_its_notch() -> None:
    seat = Seat(id="seat-1", place=Place(x_mm=900.0, y_mm=-350.0, z_mm=200.0), notch_here=4)
    assert h_point(seat, 4) == (900.0, -350.0, 200.0)


def test_notch_one_is_the_rearmost_and_the_rails_rise_forward() -> None:
    seat = Seat(id="seat-1", notches=10, notch_mm=15.0, notch_here=6, rail_deg=4.0)
    rise = math.radians(4.0)
    np.testing.assert_allclose(h_point(seat, 1), [75 * math.cos(rise), 0.0, -75 * math.sin(rise)], atol=1e-9)
    np.testing.assert_allclose(h_point(seat, 10), [-60 * math.cos(rise), 0.0, 60 * math.sin(rise)], atol=1e-9)


def test_a_turned_seat_slides_along_its_own_rails() -> None:
    seat = Seat(id="seat-1", place=Place(turn_deg=90.0), rail_deg=0.0, notch_mm=20.0, notch_here=1)
    np.testing.assert_allclose(h_point(seat, 3), [0.0, -40.0, 0.0], atol=1e-9)


@pytest.mark.parametrize("notch", [0, 13])
def test_a_notch_the_slide_has_not_is_refused(notch: int) -> None:
    with pytest.raises(BadValue, match="no notch"):
        h_point(Seat(id="seat-1"), notch)


def test_the_torso_leans_rearward_from_upright() -> None:
    start, up = torso_line(Seat(id="seat-1", back_deg=30.0, place=Place(x_mm=5.0)), 6)
    assert start == (5.0, 0.0, 0.0)
    np.testing.assert_allclose(up, [0.5, 0.0, math.sqrt(3) / 2], atol=1e-12)


def test_the_cushion_lies_under_the_hip_and_rises_to_the_front() -> None:
    tilt = math.radians(PLAIN.cushion_deg)
    up = np.array([math.sin(tilt), 0.0, math.cos(tilt)])
    ahead = np.array([-math.cos(tilt), 0.0, math.sin(tilt)])
    cushion = KIND.envelope(PLAIN, "cushion", {})
    hip = np.array(h_point(PLAIN, 6))
    assert farthest(cushion, up, hip) == pytest.approx(-PLAIN.cushion_drop_mm)
    assert farthest(cushion, -up, hip) == pytest.approx(PLAIN.cushion_drop_mm + PLAIN.cushion_thick_mm)
    assert farthest(cushion, ahead, hip) == pytest.approx(PLAIN.cushion_length_mm - PLAIN.back_behind_mm)
    assert farthest(cushion, np.array([0.0, 1.0, 0.0]), hip) == pytest.approx(PLAIN.cushion_width_mm / 2)


def test_the_backrest_lies_behind_the_torso_line() -> None:
    lean = math.radians(PLAIN.back_deg)
    up = np.array([math.sin(lean), 0.0, math.cos(lean)])
    ahead = np.array([-math.cos(lean), 0.0, math.sin(lean)])
    back = KIND.envelope(PLAIN, "back", {})
    hip = np.array(h_point(PLAIN, 6))
    assert farthest(back, ahead, hip) == pytest.approx(-PLAIN.back_behind_mm)
    assert farthest(back, -ahead, hip) == pytest.approx(PLAIN.back_behind_mm + PLAIN.back_thick_mm)
    assert farthest(back, up, hip) - -farthest(back, -up, hip) == pytest.approx(PLAIN.back_length_mm)


def test_bolsters_rise_from_cushion_and_backrest() -> None:
    seat = Seat(id="seat-1", side_bolster_mm=50.0, back_bolster_mm=70.0)
    cushion_bolster, back_bolster = KIND.envelope(seat, "bolster left", {})
    tilt, lean = math.radians(seat.cushion_deg), math.radians(seat.back_deg)
    up = np.array([math.sin(tilt), 0.0, math.cos(tilt)])
    ahead = np.array([-math.cos(lean), 0.0, math.sin(lean)])
    assert farthest((cushion_bolster,), up, np.zeros(3)) == pytest.approx(50.0 - seat.cushion_drop_mm)
    assert farthest((back_bolster,), ahead, np.zeros(3)) == pytest.approx(70.0 - seat.back_behind_mm)


def test_a_bulge_swells_each_bolster_outward_only() -> None:
    seat = Seat(id="seat-1")
    swollen = dataclasses.replace(seat, bulge_mm=18.0)
    for part, side in (("bolster left", -1), ("bolster right", 1)):
        before, after = (bounds(KIND.envelope(one, part, {})) for one in (seat, swollen))
        out, inside = (0, 1) if side < 0 else (1, 0)
        assert after[out, 1] - before[out, 1] == pytest.approx(side * 18.0)
        assert after[inside, 1] == pytest.approx(before[inside, 1])
        np.testing.assert_allclose(after[:, [0, 2]], before[:, [0, 2]], atol=1e-9)


def test_no_bolster_where_nothing_rises() -> None:
    assert KIND.envelope(PLAIN, "bolster left", {}) == ()


def test_left_and_right_mirror_each_other() -> None:
    left, right = (bounds(KIND.envelope(Seat(id="s-1"), f"bolster {side}", {})) for side in ("left", "right"))
    np.testing.assert_allclose(left[:, 1], -right[::-1, 1])
    np.testing.assert_allclose(left[:, [0, 2]], right[:, [0, 2]])


def test_all_of_the_seat_rides_on_the_rails() -> None:
    seat = Seat(id="seat-1")
    slid = np.array(h_point(seat, 9)) - np.array(h_point(seat, 2))
    for part in KIND.parts(seat):
        here, there = (KIND.envelope(seat, part.name, {"notch": notch}) for notch in ("2", "9"))
        for a, b in zip(here, there, strict=True):
            np.testing.assert_allclose(
                b.points() - a.points(), np.tile(slid, (len(a.points()), 1)), atol=1e-9
            )
    assert KIND.motion_mm(seat, "cushion", "notch", "2", "9") == pytest.approx(np.linalg.norm(slid))


def test_notches_are_stops_with_legs_between_neighbours() -> None:
    (axis,) = KIND.axes(Seat(id="s-1", notches=4, notch_here=2))
    assert axis.stops == ("1", "2", "3", "4")
    assert axis.leg_names() == ("1-2", "2-3", "3-4")
    assert axis.rest == "2"


def test_a_place_held_at_a_notch_beyond_the_slide_counts_as_the_foremost() -> None:
    (axis,) = KIND.axes(Seat(id="s-1", notches=3, notch_here=6))
    assert axis.rest == "3"


def test_the_seat_stands_as_far_under_the_hip_as_it_was_taped() -> None:
    assert KIND.foot_below_mm(Seat(id="s-1", stand_mm=185.0)) == 185.0


def test_a_thin_bolster_keeps_its_outside() -> None:
    seat = Seat(id="s-1", bolster_width_mm=12.0)
    box = bounds(KIND.envelope(seat, "bolster right", {})[:1])
    assert box[1, 1] - box[0, 1] == pytest.approx(12.0)


@pytest.mark.parametrize(
    ("field", "value"), [("notches", 2.5), ("notch_here", 0), ("back_deg", math.nan), ("for_whom", "dog")]
)
def test_values_out_of_range_are_refused(field: str, value: object) -> None:
    with pytest.raises(BadValue):
        Seat(id="s-1", **{field: value})  # type: ignore[arg-type]
