"""A placed wheel beside the one that was taken: how far it is off in closed form, and set to it."""

import math
from dataclasses import replace

import pytest

from floorpan import edits
from floorpan.errors import WrongStep
from floorpan.items import Place, Wheel
from floorpan.layout import Layout

TAKEN = edits.set_driving_position(
    Layout(), wheel_mm=(-100.0, -350.0, 650.0), wheel_across_mm=360.0, rim_mm=30.0, wheel_deg=25.0
)


def placed(**changes: object) -> Layout:
    wheel = edits.wheel_taken(TAKEN)
    assert wheel is not None
    return edits.add(TAKEN, replace(wheel, **changes))[0]  # type: ignore[arg-type]


def off(layout: Layout) -> float:
    wheel = layout.thing("wheel-1")
    assert isinstance(wheel, Wheel)
    found = edits.wheel_off_mm(layout, wheel)
    assert found is not None
    return found


def test_while_nobody_took_one_nothing_is_off() -> None:
    assert edits.wheel_taken(Layout()) is None
    assert edits.wheel_off_mm(Layout(), Wheel(id="wheel-1")) is None


def test_how_far_it_is_off_where_it_is_farthest() -> None:
    """Moved: as far as it is moved. Larger: half of what it is larger. Leaned: the chord of its outermost circle."""
    assert off(placed()) == pytest.approx(0.0, abs=1e-9)
    assert off(placed(place=Place(x_mm=-97.0, y_mm=-346.0, z_mm=650.0))) == pytest.approx(5.0)
    assert off(placed(across_mm=380.0)) == pytest.approx(10.0)
    assert off(placed(lean_deg=31.0)) == pytest.approx(2 * 180.0 * math.sin(math.radians(3.0)))


def test_set_to_the_driving_position_it_is_that_wheel() -> None:
    layout = placed(
        place=Place(x_mm=10.0, turn_deg=20.0), across_mm=300.0, lean_deg=0.0, rim_mm=25.0, stalk_mm=0.0
    )
    done = edits.set_wheel_as_driven(layout, "wheel-1")
    assert off(done) == pytest.approx(0.0, abs=1e-9)
    wheel = done.thing("wheel-1")
    assert isinstance(wheel, Wheel)
    assert wheel.stalk_mm == 0.0


def test_a_locked_wheel_stays() -> None:
    with pytest.raises(WrongStep):
        edits.set_wheel_as_driven(edits.lock(placed(), "wheel-1", True), "wheel-1")
