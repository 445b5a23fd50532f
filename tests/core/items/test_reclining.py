"""A backrest that reclines: turned about its pivot in closed form, and no farther than its leg promises."""

import math
from dataclasses import replace

import numpy as np
import pytest

from floorpan.errors import BadValue
from floorpan.frames import Floats
from floorpan.geometry.solids import Body
from floorpan.items import Place, Seat
from floorpan.items.seat import DRIVEN, KIND, LAID_BACK, RECLINE, UPRIGHT, h_point, torso_line

SEAT = Seat(
    id="seat-1",
    place=Place(x_mm=500.0, y_mm=-350.0, z_mm=250.0, turn_deg=3.0),
    recline_less_deg=15.0,
    recline_more_deg=40.0,
    pivot_behind_mm=120.0,
    pivot_under_mm=70.0,
)


def points(body: Body) -> Floats:
    return np.vstack([solid.points() for solid in body])


def test_a_seat_reclines_only_where_somebody_said_so() -> None:
    fixed = Seat(id="seat-1")
    assert [axis.name for axis in KIND.axes(fixed)] == ["notch"]
    assert {part.moved_by for part in KIND.parts(fixed)} == {("notch",)}
    _, recline = KIND.axes(SEAT)
    assert recline.stops == (UPRIGHT, DRIVEN, LAID_BACK)
    assert recline.leg_names() == ("upright-driven", "driven-laid back")
    assert recline.rest == DRIVEN
    _, one_way = KIND.axes(replace(SEAT, recline_less_deg=0.0))
    assert one_way.stops == (DRIVEN, LAID_BACK)
    moved = {part.name: part.moved_by for part in KIND.parts(SEAT)}
    assert moved["cushion"] == ("notch",)
    assert moved["back"] == moved["bolster left"] == ("notch", RECLINE)


@pytest.mark.parametrize(("stop", "lean"), [(UPRIGHT, -15.0), (DRIVEN, 0.0), (LAID_BACK, 40.0)])
def test_the_backrest_turns_about_its_pivot(stop: str, lean: float) -> None:
    """Closed form: in the seat's own upright plane each corner keeps its distance and gains the angle."""
    for part in ("back", "bolster left"):
        driven = SEAT.place.pose().inverse().apply(points(KIND.envelope(SEAT, part, {})))
        at = SEAT.place.pose().inverse().apply(points(KIND.envelope(SEAT, part, {RECLINE: stop})))
        # Of a bolster the first eight corners are the cushion's and stay.
        turning = slice(None) if part == "back" else slice(8, None)
        if part != "back":
            np.testing.assert_allclose(at[:8], driven[:8], atol=1e-9)
        before, after = (one[turning] - [120.0, 0.0, -70.0] for one in (driven, at))
        arms = np.hypot(before[:, 0], before[:, 2])
        from_upright = np.arctan2(before[:, 0], before[:, 2]) + math.radians(lean)
        np.testing.assert_allclose(after[:, 0], arms * np.sin(from_upright), atol=1e-9)
        np.testing.assert_allclose(after[:, 2], arms * np.cos(from_upright), atol=1e-9)
        np.testing.assert_allclose(after[:, 1], before[:, 1], atol=1e-9)


def test_where_the_driver_sits_has_nothing_to_do_with_it() -> None:
    laid = replace(SEAT, recline_less_deg=0.0, recline_more_deg=0.0)
    assert h_point(SEAT, 6) == h_point(laid, 6)
    assert torso_line(SEAT, 6) == torso_line(laid, 6)
    for part in KIND.parts(SEAT):
        stood = points(KIND.envelope(laid, part.name, {"notch": "3"}))
        driven = {"notch": "3", RECLINE: DRIVEN}
        np.testing.assert_allclose(points(KIND.envelope(SEAT, part.name, driven)), stood, atol=1e-12)


def test_it_reclines_wherever_it_has_slid_to() -> None:
    slid = np.array(h_point(SEAT, 9)) - np.array(h_point(SEAT, 2))
    here, there = (
        points(KIND.envelope(SEAT, "back", {"notch": notch, RECLINE: LAID_BACK})) for notch in ("2", "9")
    )
    np.testing.assert_allclose(there - here, np.tile(slid, (len(here), 1)), atol=1e-9)
    along = points(KIND.envelope_between(SEAT, "back", {RECLINE: LAID_BACK}, "notch", "2", "9", 0.5))
    np.testing.assert_allclose(along, (here + there) / 2, atol=1e-9)
    assert KIND.motion_mm(SEAT, "back", "notch", "2", "9") == pytest.approx(7 * SEAT.notch_mm)


@pytest.mark.parametrize("part", ["back", "bolster right", "cushion"])
def test_no_corner_goes_farther_than_the_leg_promises(part: str) -> None:
    """Against dense sampling: many small chords come to the promised arc from below."""
    at = np.array(
        [
            points(KIND.envelope_between(SEAT, part, {}, RECLINE, DRIVEN, LAID_BACK, share))
            for share in np.linspace(0.0, 1.0, 201)
        ]
    )
    travelled = np.linalg.norm(np.diff(at, axis=0), axis=2).sum(axis=0).max()
    promised = KIND.motion_mm(SEAT, part, RECLINE, DRIVEN, LAID_BACK)
    assert promised * (1.0 - 1e-6) <= travelled <= promised + 1e-9
    if part == "cushion":
        assert promised == 0.0


@pytest.mark.parametrize("wrong", [{"recline_more_deg": -1.0}, {"pivot_under_mm": math.nan}])
def test_what_it_does_not_take(wrong: dict[str, float]) -> None:
    with pytest.raises(BadValue):
        replace(SEAT, **wrong)  # type: ignore[arg-type]
