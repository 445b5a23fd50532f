"""Flaps, doors and a taped dash edge: where their corners are, in closed form, and no farther than a leg promises."""

import itertools
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from floorpan import edits
from floorpan.errors import BadValue
from floorpan.frames import Floats
from floorpan.geometry.solids import Body
from floorpan.items import DashEdge, Door, Flap, Place
from floorpan.items.dash_edge import KIND as DASH_EDGE
from floorpan.items.dash_edge import ends_mm
from floorpan.items.door import KIND as DOOR
from floorpan.items.flap import KIND as FLAP
from floorpan.layout import Layout

GLOVEBOX = Flap(id="flap-1", place=Place(x_mm=-300.0, y_mm=300.0, z_mm=400.0), closed_deg=90.0, open_deg=0.0)
LEFT_DOOR = Door(id="door-1", place=Place(x_mm=-400.0, y_mm=-700.0, z_mm=200.0), open_deg=90.0)


def box(body: Body) -> Floats:
    at = np.vstack([solid.points() for solid in body])
    return np.stack([at.min(axis=0), at.max(axis=0)])


def test_a_glovebox_stands_up_and_comes_down_to_the_rear() -> None:
    """320 long, 180 deep, 20 thick: closed it stands on its hinge, open it points rearward, half at 45."""
    closed, opened = (box(FLAP.envelope(GLOVEBOX, "panel", {"flap": stop})) for stop in ("closed", "open"))
    np.testing.assert_allclose(closed, [[-310.0, 140.0, 400.0], [-290.0, 460.0, 580.0]], atol=1e-9)
    np.testing.assert_allclose(opened, [[-300.0, 140.0, 390.0], [-120.0, 460.0, 410.0]], atol=1e-9)
    half = box(FLAP.envelope(GLOVEBOX, "panel", {"flap": "half"}))
    far = (180.0 + 10.0) * math.sqrt(0.5)
    np.testing.assert_allclose(half[1, [0, 2]], [-300.0 + far, 400.0 + far], atol=1e-9)


def test_a_lid_hinged_at_its_rear_points_forward() -> None:
    lid = replace(GLOVEBOX, closed_deg=180.0, open_deg=100.0)
    assert box(FLAP.envelope(lid, "panel", {}))[0, 0] == pytest.approx(-480.0)
    up = box(FLAP.envelope(lid, "panel", {"flap": "open"}))
    assert up[1, 2] > 400.0 + 180.0 * math.sin(math.radians(100.0)) - 1e-9


@pytest.mark.parametrize(
    ("kind", "thing", "part", "axis", "legs"),
    [
        (FLAP, GLOVEBOX, "panel", "flap", ("closed", "half", "open")),
        (DOOR, LEFT_DOOR, "panel", "door", ("shut", "half", "open")),
        (
            DOOR,
            replace(LEFT_DOOR, side="right", hinge_in_deg=4.0),
            "pocket",
            "door",
            ("shut", "half", "open"),
        ),
    ],
)
def test_the_far_corner_goes_its_arc_and_nothing_farther(
    kind: Any, thing: Any, part: str, axis: str, legs: tuple[str, ...]
) -> None:
    """Against dense sampling: many small chords come to the promised arc from below."""
    for a, b in itertools.pairwise(legs):
        at = np.array(
            [
                kind.envelope_between(thing, part, {}, axis, a, b, share)[0].points()
                for share in np.linspace(0.0, 1.0, 201)
            ]
        )
        travelled = np.linalg.norm(np.diff(at, axis=0), axis=2).sum(axis=0).max()
        promised = kind.motion_mm(thing, part, axis, a, b)
        assert promised * (1.0 - 1e-6) <= travelled <= promised + 1e-9


def test_a_door_swings_out_on_its_own_side() -> None:
    """A quarter turn of a panel 950 long and 120 thick: out of the car, its thickness ahead of the hinge."""
    shut, opened = (box(DOOR.envelope(LEFT_DOOR, "panel", {"door": stop})) for stop in ("shut", "open"))
    np.testing.assert_allclose(shut, [[-400.0, -820.0, 200.0], [550.0, -700.0, 750.0]], atol=1e-9)
    np.testing.assert_allclose(opened, [[-520.0, -1650.0, 200.0], [-400.0, -700.0, 750.0]], atol=1e-9)
    pocket = box(DOOR.envelope(LEFT_DOOR, "pocket", {}))
    np.testing.assert_allclose(pocket, [[-150.0, -700.0, 260.0], [350.0, -630.0, 460.0]], atol=1e-9)


def test_left_and_right_doors_mirror_each_other() -> None:
    """An edit that puts it on the other side of the car takes every corner across the centre plane."""
    layout, id = edits.add(Layout(), replace(LEFT_DOOR, hinge_in_deg=5.0, hinge_back_deg=-3.0))
    other = edits.mirror(layout, id).thing(id)
    for part in ("panel", "pocket"):
        for stop in ("shut", "half", "open"):
            here = box(DOOR.envelope(layout.thing(id), part, {"door": stop}))
            there = box(DOOR.envelope(other, part, {"door": stop}))
            np.testing.assert_allclose(there[:, [0, 2]], here[:, [0, 2]], atol=1e-9)
            np.testing.assert_allclose(there[:, 1], -here[::-1, 1], atol=1e-9)


def test_a_hinge_that_leans_inward_takes_the_top_inward() -> None:
    leaning = replace(LEFT_DOOR, hinge_in_deg=10.0)
    top = DOOR.envelope(leaning, "panel", {})[0].points()
    assert top[:, 1].max() == pytest.approx(-700.0 + 550.0 * math.sin(math.radians(10.0)))


def test_a_door_without_a_pocket_is_its_panel() -> None:
    flat = replace(LEFT_DOOR, bulge_mm=0.0)
    assert [part.name for part in DOOR.parts(flat)] == ["panel"]
    with pytest.raises(BadValue):
        DOOR.envelope(flat, "pocket", {})


def test_the_edge_runs_between_its_two_places() -> None:
    """Two taped ends: the dash lies forward of the line between them and over it."""
    left, right = np.array([-320.0, -400.0, 430.0]), np.array([-300.0, 500.0, 442.0])
    x, y, z = (left + right) / 2
    edge = DashEdge(
        id="dash-edge-1",
        place=Place(x_mm=x, y_mm=y, z_mm=z),
        across_mm=900.0,
        slant_mm=20.0,
        rise_mm=12.0,
        thick_mm=140.0,
        depth_mm=180.0,
    )
    np.testing.assert_allclose(ends_mm(edge), [left, right], atol=1e-9)
    at = DASH_EDGE.envelope(edge, "edge", {})[0].points()
    for end in (left, right):
        for off in ((0.0, 0.0, 0.0), (-180.0, 0.0, 0.0), (0.0, 0.0, 140.0), (-180.0, 0.0, 140.0)):
            assert np.linalg.norm(at - (end + off), axis=1).min() < 1e-9
    assert len(at) == 8


def test_an_edge_on_the_other_side_has_its_ends_changed_over() -> None:
    edge = DashEdge(id="new", place=Place(y_mm=100.0), slant_mm=20.0, rise_mm=12.0)
    layout, id = edits.add(Layout(), edge)
    other = edits.mirror(layout, id).thing(id)
    assert isinstance(other, DashEdge)
    np.testing.assert_allclose(ends_mm(other), ends_mm(edge)[::-1] * [1.0, -1.0, 1.0], atol=1e-9)


@pytest.mark.parametrize(
    ("model", "wrong"),
    [
        (Flap, {"closed_deg": 300.0}),
        (Door, {"side": "rear"}),
        (Door, {"open_deg": 0.0}),
        (DashEdge, {"across_mm": 0}),
    ],
)
def test_what_they_do_not_take(model: Any, wrong: dict[str, Any]) -> None:
    with pytest.raises(BadValue):
        model(id="new", **wrong)
