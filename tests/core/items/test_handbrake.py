"""A handbrake: its grip and button on arcs about the pivot, in closed form, moved, turned and mirrored."""

import math
from typing import Any

import numpy as np
import pytest

from floorpan import edits
from floorpan.errors import BadValue
from floorpan.frames import Floats
from floorpan.items import Handbrake, Place
from floorpan.items.handbrake import DOWN, FINGERS_MM, HALF, KIND, UP, angle_deg
from floorpan.layout import Layout
from floorpan.project.codec import read_layout, write_layout
from floorpan.project.typed_json import Reading

BRAKE = Handbrake(
    id="handbrake-1",
    place=Place(x_mm=700.0, y_mm=-30.0, z_mm=250.0),
    lever_mm=300.0,
    pivot_mm=50.0,
    down_deg=5.0,
    up_deg=45.0,
    grip_mm=120.0,
    grip_radius_mm=15.0,
    button_mm=10.0,
)


def core(part: str, stop: str, brake: Handbrake = BRAKE) -> Floats:
    """Corners of the hulls, without their rounding, farthest from the pivot last."""
    [solid] = KIND.envelope(brake, part, {"lever": stop})
    pivot = np.array([brake.place.x_mm, brake.place.y_mm, brake.place.z_mm + brake.pivot_mm])
    return np.array(sorted(solid.points(), key=lambda at: float(np.linalg.norm(at - pivot))))


@pytest.mark.parametrize(("stop", "over_level"), [(DOWN, 5.0), (HALF, 25.0), (UP, 45.0)])
def test_the_ends_lie_on_arcs_about_the_pivot(stop: str, over_level: float) -> None:
    """Closed form: forward by the cosine and up by the sine of the angle over level, from the pivot."""
    angle = math.radians(over_level)
    way = np.array([-math.cos(angle), 0.0, math.sin(angle)])
    pivot = np.array([700.0, -30.0, 300.0])
    assert angle_deg(BRAKE, stop) == over_level
    np.testing.assert_allclose(core("lever", stop), [pivot, pivot + 180.0 * way], atol=1e-9)
    np.testing.assert_allclose(core("grip", stop), [pivot + 195.0 * way, pivot + 285.0 * way], atol=1e-9)
    np.testing.assert_allclose(core("button", stop)[-1], pivot + (310.0 - 7.5) * way, atol=1e-9)
    [grip] = KIND.grips(BRAKE, {"lever": stop})
    np.testing.assert_allclose(grip.at_mm, pivot + 240.0 * way, atol=1e-9)
    assert grip.radius_mm == 15.0 + FINGERS_MM


def test_the_foot_stands_still() -> None:
    feet = [KIND.envelope(BRAKE, "foot", {"lever": stop})[0].points() for stop in (DOWN, UP)]
    np.testing.assert_array_equal(*feet)
    assert feet[0][:, 2].min() == 250.0


@pytest.mark.parametrize("part", ["lever", "grip", "button"])
def test_no_point_goes_farther_than_its_arc_and_the_end_goes_all_of_it(part: str) -> None:
    """Against dense sampling: the sum of many small chords comes to the promised arc from below."""
    for a, b in ((DOWN, HALF), (HALF, UP)):
        shares = np.linspace(0.0, 1.0, 2001)
        at = np.array(
            [KIND.envelope_between(BRAKE, part, {}, "lever", a, b, share)[0].points() for share in shares]
        )
        travelled = np.linalg.norm(np.diff(at, axis=0), axis=2).sum(axis=0)
        promised = KIND.motion_mm(BRAKE, part, "lever", a, b)
        assert travelled.max() <= promised + 1e-9
        # The core of a rounded end lies a radius short of it.
        assert travelled.max() >= promised * (1.0 - 16.0 / 180.0)


def test_the_hand_goes_exactly_its_arc() -> None:
    arc = KIND.grip_motion_mm(BRAKE, "grip", "lever", DOWN, HALF)
    assert arc == pytest.approx(240.0 * math.radians(20.0))


def test_it_is_mirrored_with_the_car() -> None:
    layout, id = edits.add(Layout(), BRAKE)
    mirrored = edits.mirror(layout, id).thing(id)
    assert isinstance(mirrored, Handbrake)
    np.testing.assert_allclose(
        core("grip", UP, mirrored), core("grip", UP) * np.array([1.0, -1.0, 1.0]), atol=1e-9
    )


def test_a_lever_that_is_all_grip_and_one_without_button() -> None:
    short = Handbrake(id="handbrake-1", lever_mm=100.0, grip_mm=150.0, button_mm=0.0)
    for part in KIND.parts(short):
        [solid] = KIND.envelope(short, part.name, {})
        reached = np.linalg.norm(solid.points() - np.array([0.0, 0.0, 40.0]), axis=1) + solid.hull.radius_mm
        if part.name != "foot":
            assert reached.max() <= 100.0 + 1e-9


@pytest.mark.parametrize("wrong", [{"lever_mm": 0.0}, {"up_deg": 200.0}, {"grip_radius_mm": math.nan}])
def test_what_it_does_not_take(wrong: dict[str, Any]) -> None:
    with pytest.raises(BadValue):
        Handbrake(id="handbrake-1", **wrong)


def test_it_is_kept_with_the_project() -> None:
    layout, _ = edits.add(Layout(), BRAKE)
    reading = Reading("project.json")
    assert read_layout(write_layout(layout, {}), reading) == layout
    assert reading.extra == {}
