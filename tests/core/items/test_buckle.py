"""A belt buckle: where its button is for any lean, the pressing hand's room, moved and mirrored."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from floorpan import edits
from floorpan.errors import BadValue, ProjectDamaged, WrongStep
from floorpan.items import Buckle, Place, Seat
from floorpan.items.buckle import KIND, press_zone
from floorpan.layout import Layout
from floorpan.project.codec import read_layout, write_layout
from floorpan.project.typed_json import Reading

UPRIGHT = Buckle(
    id="buckle-1", place=Place(x_mm=400.0, y_mm=-150.0, z_mm=100.0), stalk_mm=200.0, lean_deg=0.0
)


@pytest.mark.parametrize(("lean", "side"), [(0.0, 0.0), (-30.0, 0.0), (0.0, 20.0), (-25.0, -10.0)])
def test_the_button_by_plain_trigonometry(lean: float, side: float) -> None:
    """Leaning rearward by a, then to the right by b: (sin a, cos a sin b, cos a cos b) along the stalk."""
    buckle = replace(UPRIGHT, lean_deg=lean, side_deg=side)
    a, b, length = math.radians(lean), math.radians(side), 275.0
    [grip] = KIND.grips(buckle, {})
    wanted = (
        400.0 + length * math.sin(a),
        -150.0 + length * math.cos(a) * math.sin(b),
        100.0 + length * math.cos(a) * math.cos(b),
    )
    assert grip.at_mm == pytest.approx(wanted, abs=1e-9)


def test_the_pressing_hand_over_the_end_and_in_front() -> None:
    [over] = press_zone(UPRIGHT)
    low, high = over.box()
    np.testing.assert_allclose(low, [400.0 - 37.5, -170.0, 375.0])
    np.testing.assert_allclose(high, [400.0 + 37.5, -130.0, 415.0])
    [ahead] = press_zone(replace(UPRIGHT, pressed_at="front"))
    low, high = ahead.box()
    np.testing.assert_allclose(low, [400.0 - 21.0 - 40.0, -170.0, 300.0])
    np.testing.assert_allclose(high, [400.0 - 21.0, -130.0, 375.0])


def test_a_glove_swells_the_pressing_hand_all_round() -> None:
    [bare], [gloved] = press_zone(UPRIGHT), press_zone(UPRIGHT, glove_mm=8.0)
    assert gloved.hull.radius_mm == 8.0
    np.testing.assert_allclose(gloved.box(), bare.box(), atol=1e-9)


def test_it_is_mirrored_with_the_car() -> None:
    layout, id = edits.add(Layout(), replace(UPRIGHT, lean_deg=-20.0))
    mirrored = edits.mirror(layout, id).thing(id)
    assert isinstance(mirrored, Buckle)
    for part in KIND.parts(UPRIGHT):
        [one] = KIND.envelope(replace(UPRIGHT, lean_deg=-20.0), part.name, {})
        [other] = KIND.envelope(mirrored, part.name, {})
        there = np.array(sorted(map(tuple, (one.points() * np.array([1.0, -1.0, 1.0])).round(9))))
        np.testing.assert_allclose(np.array(sorted(map(tuple, other.points().round(9)))), there, atol=1e-6)


def test_it_leans_the_other_way_on_the_other_side() -> None:
    layout, id = edits.add(Layout(), replace(UPRIGHT, side_deg=15.0))
    mirrored = edits.mirror(layout, id).thing(id)
    [grip], [other] = KIND.grips(replace(UPRIGHT, side_deg=15.0), {}), KIND.grips(mirrored, {})  # type: ignore[arg-type]
    assert other.at_mm == pytest.approx((grip.at_mm[0], -grip.at_mm[1], grip.at_mm[2]))


@pytest.mark.parametrize("wrong", [{"bolted_to": "door"}, {"pressed_at": "back"}, {"stalk_mm": -1.0}])
def test_what_it_does_not_take(wrong: dict[str, Any]) -> None:
    with pytest.raises(BadValue):
        Buckle(id="buckle-1", **wrong)


def test_it_holds_the_belt_of_a_seat_that_is_there() -> None:
    with pytest.raises(WrongStep, match="no seat"):
        edits.add(Layout(), replace(UPRIGHT, seat_id="seat-1"))
    layout, seat = edits.add(Layout(), Seat(id="new"))
    layout, id = edits.add(layout, replace(UPRIGHT, seat_id=seat))
    without = edits.remove(layout, seat).thing(id)
    assert isinstance(without, Buckle)
    assert (without.seat_id, without.rides_on_seat) == ("", False)


def test_it_is_kept_with_the_project_and_a_lost_seat_is_told() -> None:
    layout, seat = edits.add(Layout(), Seat(id="new"))
    layout, _ = edits.add(layout, replace(UPRIGHT, seat_id=seat))
    written = write_layout(layout, {})
    assert read_layout(written, Reading("project.json")) == layout
    written["seats"] = []
    with pytest.raises(ProjectDamaged, match="there is no seat seat-1"):
        read_layout(written, Reading("project.json"))
