"""A part from a mesh file: its box, its turns, its line and its stops, against closed forms."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue
from floorpan.frames import Vector
from floorpan.items import MeshPart, Place
from floorpan.items.mesh_part import (
    BODY,
    COUNTS_AS,
    FAR,
    HOME,
    KIND,
    envelope,
    foot_below_mm,
    pose_at,
    set_down_mm,
    travel_mm,
)

SHA = "0123456789abcdef" * 4


def part(**fields: Any) -> MeshPart:
    told: dict[str, Any] = {
        "id": "mesh-part-1",
        "sha256": SHA,
        "suffix": ".stl",
        "original_name": "lid.stl",
        "unit": "mm",
        "sides_in_file": (200.0, 100.0, 20.0),
    }
    return MeshPart(**{**told, **fields})


def point_of(thing: MeshPart, at: Vector, share: float = 0.0) -> list[float]:
    moved: list[float] = pose_at(thing, share).apply(np.array(at)).round(9).tolist()
    return moved


def test_its_box_is_in_mm_whatever_the_file_is_in() -> None:
    assert part(unit="in", sides_in_file=(10.0, 2.0, 1.0)).sides_mm() == pytest.approx((254.0, 50.8, 25.4))
    (solid,) = envelope(part(place=Place(x_mm=5.0)), BODY, {})
    assert solid.box().tolist() == [[-95.0, -50.0, 0.0], [105.0, 50.0, 20.0]]


def test_all_three_turns_about_its_own_axes() -> None:
    """Tipped sideways first, then rearward, then turned: each a quarter, so that axes go onto axes."""
    assert point_of(part(side_deg=90.0), (0.0, 1.0, 0.0)) == [0.0, 0.0, 1.0]
    assert point_of(part(lean_deg=90.0), (0.0, 0.0, 1.0)) == [1.0, 0.0, 0.0]
    assert point_of(part(place=Place(turn_deg=90.0)), (1.0, 0.0, 0.0)) == [0.0, 1.0, 0.0]
    both = part(side_deg=90.0, lean_deg=90.0, place=Place(turn_deg=90.0))
    # Y goes up, up goes rearward, rearward goes to the right.
    assert point_of(both, (0.0, 1.0, 0.0)) == [0.0, 1.0, 0.0]
    assert point_of(both, (1.0, 0.0, 0.0)) == [0.0, 0.0, -1.0]


def test_a_lid_swings_about_its_hinge_and_a_drawer_slides_along_its_line() -> None:
    lid = part(motion="swings", swing_deg=90.0, axis_x_mm=100.0, axis_turn_deg=90.0)
    # Hinged along its rear edge, which runs to the right: the front edge goes up and over.
    assert point_of(lid, (100.0, 30.0, 0.0), 1.0) == [100.0, 30.0, 0.0]
    assert point_of(lid, (-100.0, 0.0, 0.0), 1.0) == [100.0, 0.0, 200.0]
    assert travel_mm(lid) == pytest.approx(math.hypot(200.0, 20.0) * math.pi / 2)
    drawer = part(motion="slides", slide_mm=80.0, axis_turn_deg=180.0)
    assert point_of(drawer, (0.0, 0.0, 0.0), 0.5) == [-40.0, 0.0, 0.0]
    assert travel_mm(drawer) == 80.0
    (axis,) = KIND.axes(drawer)
    assert (axis.stops, axis.legs, axis.rest) == ((HOME, FAR), ((HOME, FAR),), HOME)
    assert KIND.axes(part()) == ()
    assert KIND.motion_mm(part(), BODY, "travel", HOME, FAR) == 0.0


@given(
    st.sampled_from(["slides", "swings"]),
    st.floats(-180.0, 180.0),
    st.floats(-90.0, 90.0),
    st.tuples(*[st.floats(-300.0, 300.0)] * 3),
    st.floats(-180.0, 180.0),
    st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0)),
    st.tuples(*[st.floats(-0.5, 0.5)] * 3),
)
def test_no_point_travels_farther_than_it_says(
    motion: str,
    turn: float,
    rise: float,
    hinge: Vector,
    swing: float,
    shares: tuple[float, float],
    inside: Vector,
) -> None:
    thing = part(
        motion=motion,
        axis_turn_deg=turn,
        axis_rise_deg=rise,
        axis_x_mm=hinge[0],
        axis_y_mm=hinge[1],
        axis_z_mm=hinge[2],
        swing_deg=swing,
    )
    point = np.array(inside) * [200.0, 100.0, 20.0] + [0.0, 0.0, 10.0]
    one, two = (pose_at(thing, share).apply(point) for share in shares)
    assert math.dist(one, two) <= travel_mm(thing) * abs(shares[0] - shares[1]) + 1e-9


def test_it_stands_on_its_lowest_corner() -> None:
    assert foot_below_mm(part()) == 0.0
    tipped = part(lean_deg=30.0, place=Place(z_mm=400.0))
    # The rear lower edge goes down by half its length times the sine.
    assert foot_below_mm(tipped) == pytest.approx(100.0 * 0.5)
    assert set(set_down_mm(part())) == {(100, 50), (100, -50), (-100, 50), (-100, -50), (0, 0)}


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"unit": "m"}, "part-too-long"),
        ({"sides_in_file": (0.0, 0.0, 0.0)}, "no-sides"),
        ({"sides_in_file": (1.0, float("nan"), 1.0)}, "no-sides"),
        ({"sha256": "../../x"}, "no-sha256"),
        ({"counts_as": "a hat"}, "not-a-choice"),
        ({"unit": "league"}, "not-a-choice"),
    ],
)
def test_what_makes_no_part_is_refused(fields: dict[str, Any], code: str) -> None:
    with pytest.raises(BadValue) as refused:
        part(**fields)
    assert refused.value.code == code


def test_every_kind_that_it_may_stand_for_has_its_stuff() -> None:
    materials = [KIND.parts(part(counts_as=word))[0].material for word in COUNTS_AS]
    assert materials == [*("console", "seat", "knob", "liner", "steel", "vessel", "steel", "vessel", "steel")]
