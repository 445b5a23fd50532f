"""Places, state axes and their legs; and what every kind of item answers, held for all of them at once."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorpan.console import KIND as CONSOLE
from floorpan.errors import BadValue
from floorpan.fields import rules
from floorpan.frames import Floats
from floorpan.geometry.solids import Body
from floorpan.items.catalogue import KINDS
from floorpan.items.placing import ItemKind, Place, StateAxis, stop_of

EVERY = (*KINDS, CONSOLE)
SHARES = st.floats(0.0, 1.0)


# A part from a mesh file is none without its file.
FROM_A_FILE: dict[str, Any] = {
    "sha256": "0123456789abcdef" * 4,
    "suffix": ".stl",
    "original_name": "lid.stl",
    "unit": "cm",
    "sides_in_file": (30.0, 16.0, 2.0),
    "motion": "swings",
    "axis_x_mm": 150.0,
}


def made(kind: ItemKind[Any], id: str) -> Any:
    return kind.model(id=id, **(FROM_A_FILE if kind.kind == "mesh part" else {}))


def points_of(body: Body) -> Floats:
    return np.vstack([solid.points() for solid in body])


def legs_of(kind: ItemKind[Any], item: Any) -> list[tuple[str, str, str]]:
    return [(axis.name, a, b) for axis in kind.axes(item) for a, b in axis.legs]


@pytest.mark.parametrize("bad", [math.nan, math.inf, 10001.0, True, "3"])
def test_a_place_takes_finite_lengths_within_its_range(bad: Any) -> None:
    with pytest.raises(BadValue):
        Place(x_mm=bad)


def test_a_place_turns_about_the_upright_by_the_right_hand_rule() -> None:
    place = Place(x_mm=100.0, y_mm=-50.0, z_mm=20.0, turn_deg=90.0)
    np.testing.assert_allclose(place.pose().apply(np.array([10.0, 0.0, 5.0])), [100.0, -40.0, 25.0])


def test_a_leg_has_a_name_of_its_own() -> None:
    axis = StateAxis(name="gear", stops=("N", "3", "4"), legs=(("N", "3"), ("N", "4")), rest="N")
    assert axis.leg_names() == ("N-3", "N-4")
    assert axis.leg("N-4") == ("N", "4")
    assert axis.leg("3") is None


def test_a_stop_left_out_is_the_rest_and_a_strange_one_is_refused() -> None:
    axis = StateAxis(name="gear", stops=("N", "R"), rest="N")
    assert stop_of(axis, {}) == "N"
    assert stop_of(axis, {"gear": "R"}) == "R"
    with pytest.raises(BadValue, match="there is no 9"):
        stop_of(axis, {"gear": "9"})


def test_the_menu_lists_the_kinds_in_order() -> None:
    assert [kind.kind for kind in KINDS] == [
        "seat",
        "shifter",
        "handbrake",
        "buckle",
        "armrest",
        "wheel",
        "keep-out",
        "flap",
        "dash edge",
        "door",
        "mesh part",
        "switch",
        "cup holder",
        "vessel",
    ]


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.kind)
def test_every_number_of_a_kind_has_a_label_and_says_how_to_measure(kind: ItemKind[Any]) -> None:
    for name, rule in rules(kind.model).items():
        assert rule.label, name
        assert rule.help or rule.label == "Gear", name


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.kind)
def test_parts_are_moved_by_axes_that_are_there(kind: ItemKind[Any]) -> None:
    item = made(kind, f"{kind.kind}-1")
    axes = {axis.name: axis for axis in kind.axes(item)}
    for part in kind.parts(item):
        assert set(part.moved_by) <= set(axes)
        assert kind.envelope(item, part.name, {})
    for axis in axes.values():
        assert axis.rest in axis.stops
        assert {stop for leg in axis.legs for stop in leg} <= set(axis.stops)
    with pytest.raises(BadValue):
        kind.envelope(item, "no such part", {})


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.kind)
def test_moving_and_turning_an_item_carries_all_of_it_rigidly(kind: ItemKind[Any]) -> None:
    item = made(kind, f"{kind.kind}-1")
    place = Place(x_mm=310.0, y_mm=-220.0, z_mm=75.0, turn_deg=37.0)
    moved = kind.moved(item, place)
    assert moved.place == place
    for part in kind.parts(item):
        stood = place.pose().apply(points_of(kind.envelope(item, part.name, {})))
        np.testing.assert_allclose(points_of(kind.envelope(moved, part.name, {})), stood, atol=1e-9)
    for grip, other in zip(kind.grips(item, {}), kind.grips(moved, {}), strict=True):
        np.testing.assert_allclose(other.at_mm, place.pose().apply(np.array(grip.at_mm)), atol=1e-9)
    foot = [(x, y, 0.0) for x, y in kind.set_down_mm(item)]
    stood = place.pose().apply(np.array(foot))[:, :2]
    for point in kind.set_down_mm(moved):
        # A ring of points may start elsewhere on its circle, but it is the same circle.
        assert min(np.linalg.norm(stood - point, axis=1)) < 0.4 * np.ptp(stood) + 1e-6
    np.testing.assert_allclose(np.mean(kind.set_down_mm(moved), axis=0), stood.mean(axis=0), atol=1e-9)


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.kind)
def test_equal_items_share_their_hulls(kind: ItemKind[Any]) -> None:
    one, other = made(kind, "a-1"), kind.moved(made(kind, "b-2"), Place(x_mm=5.0))
    for part in kind.parts(one):
        pairs = zip(kind.envelope(one, part.name, {}), kind.envelope(other, part.name, {}), strict=True)
        assert all(a.hull is b.hull for a, b in pairs)


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.kind)
@settings(max_examples=30)
@given(shares=st.tuples(SHARES, SHARES))
def test_no_point_moves_farther_along_a_leg_than_promised(
    kind: ItemKind[Any], shares: tuple[float, float]
) -> None:
    item = made(kind, f"{kind.kind}-1")
    for axis, a, b in legs_of(kind, item):
        for part in kind.parts(item):
            bound = kind.motion_mm(item, part.name, axis, a, b)
            here, there = (
                points_of(kind.envelope_between(item, part.name, {}, axis, a, b, share)) for share in shares
            )
            travelled = np.linalg.norm(there - here, axis=1).max()
            assert travelled <= bound * abs(shares[1] - shares[0]) + 1e-9
        here_grips, there_grips = (kind.grips_between(item, {}, axis, a, b, share) for share in shares)
        for grip, other in zip(here_grips, there_grips, strict=True):
            travelled = math.dist(grip.at_mm, other.at_mm)
            bound = kind.grip_motion_mm(item, grip.name, axis, a, b)
            assert travelled <= bound * abs(shares[1] - shares[0]) + 1e-9


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.kind)
def test_a_leg_starts_and_ends_at_its_stops(kind: ItemKind[Any]) -> None:
    item = made(kind, f"{kind.kind}-1")
    for axis, a, b in legs_of(kind, item):
        for part in kind.parts(item):
            for share, stop in ((0.0, a), (1.0, b)):
                along = points_of(kind.envelope_between(item, part.name, {}, axis, a, b, share))
                stood = points_of(kind.envelope(item, part.name, {axis: stop}))
                np.testing.assert_allclose(along, stood, atol=1e-9)
