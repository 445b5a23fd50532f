"""The way to the knob region and what clashes where there is none: shells, corners and slabs in closed form."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorpan.advice.knob_limits import KnobLimit, plane_limit
from floorpan.advice.knob_question import ArmAt, KnobQuestion
from floorpan.advice.knob_region import KnobMove, KnobRegion, knob_region, nearest, sides
from floorpan.driver.arm import elbow_deg
from floorpan.frames import Vector
from floorpan.progress import finish

ORIGIN = (0.0, 0.0, 0.0)
NEAR, FAR = (400.0 * math.sin(math.radians(half)) for half in (37.5, 80.0))
COORDINATE = st.floats(-600.0, 600.0)


def region_of(*limits: KnobLimit, shoulders: tuple[Vector, ...] = (ORIGIN,)) -> KnobRegion:
    """Links of 200 at 75 to 160 degrees, one gear in the place of neutral."""
    arms = tuple(
        ArmAt(
            name=f"d-{number}",
            shoulder_mm=shoulder,
            upper_mm=200.0,
            lower_mm=200.0,
            elbow_least_deg=75.0,
            elbow_most_deg=160.0,
        )
        for number, shoulder in enumerate(shoulders)
    )
    question = KnobQuestion(
        arms=arms, gears=("3",), grips_mm=np.zeros((1, 3)), present_mm=(0.0, 0.0, 700.0), limits=limits
    )
    return finish(knob_region(question, 20.0))


def over(height: float) -> KnobLimit:
    return plane_limit("armrest", (0.0, 0.0, height), (0.0, 0.0, 1.0), 0.0)


def under(height: float) -> KnobLimit:
    return plane_limit("dash", (0.0, 0.0, height), (0.0, 0.0, -1.0), 0.0)


SHELL = region_of()


def moved(region: KnobRegion, present: Vector, room_mm: float = 0.0) -> KnobMove:
    found = nearest(region, present, room_mm)
    assert found is not None
    return found


@settings(max_examples=25, deadline=None)
@given(st.tuples(COORDINATE, COORDINATE, COORDINATE))
def test_the_nearest_of_a_shell_lies_on_the_ray_from_the_shoulder(present: Vector) -> None:
    span = math.hypot(*present)
    found = moved(SHELL, present)
    away = max(span - FAR, NEAR - span)
    assert found.margin_mm == pytest.approx(-away, abs=1e-9)
    assert found.inside == (away <= 0.0)
    if found.inside:
        assert (found.move_mm, found.away_mm, found.place_mm) == ((0, 0, 0), 0.0, present)
        return
    assert away - 1e-9 <= found.away_mm <= away + 0.05
    assert away - 0.1 <= found.at_least_mm <= away + 1e-9
    assert math.dist(found.place_mm, present) == pytest.approx(found.away_mm)
    # The rounded move, judged by the arm's own elbow angle.
    assert found.move_mm is not None
    end = np.array(present) + found.move_mm
    assert 75.0 <= elbow_deg(float(np.linalg.norm(end)), 200.0, 200.0) <= 160.0
    assert np.linalg.norm(found.move_mm) <= away + 1.5
    assert found.moved_margin_mm == pytest.approx(SHELL.margin_at(tuple(end)).margin_mm, abs=1e-9)


def test_off_a_corner_of_two_limits_the_nearest_is_their_edge() -> None:
    """Ball and plane meet in a circle of radius sqrt(FAR**2 - 300**2); the knob stands outside and below it."""
    region = region_of(over(300.0))
    found = moved(region, (500.0, 0.0, 250.0))
    edge = (math.sqrt(FAR**2 - 300.0**2), 0.0, 300.0)
    assert math.dist(found.place_mm, edge) < 0.2
    assert found.away_mm == pytest.approx(math.dist(edge, (500.0, 0.0, 250.0)), abs=0.05)


def test_room_asked_for_is_there_after_the_move() -> None:
    found = moved(SHELL, (0.0, 0.0, 600.0), room_mm=12.5)
    assert found.away_mm == pytest.approx(600.0 - FAR + 12.5, abs=0.05)
    assert found.moved_margin_mm is not None
    assert found.moved_margin_mm >= 12.5
    assert found.move_mm == (0, 0, -math.ceil(600.0 - FAR + 12.5))


def test_a_knob_inside_by_too_little_is_moved_all_the_same() -> None:
    found = moved(SHELL, (0.0, 0.0, FAR - 3.0), room_mm=10.0)
    assert not found.inside
    assert found.margin_mm == pytest.approx(3.0)
    assert found.away_mm == pytest.approx(7.0, abs=0.05)


def test_more_room_than_there_is_has_no_place() -> None:
    assert nearest(SHELL, ORIGIN, room_mm=(FAR - NEAR) / 2.0 + 1.0) is None


def test_two_limits_that_cross_clash() -> None:
    """The knob over 100 and under 60: 20 short of both half way, and it is told which two."""
    region = region_of(over(100.0), under(60.0))
    assert region.empty
    assert region.volume_litres == 0.0
    assert region.roomiest.margin_mm == pytest.approx(-20.0, abs=0.1)
    assert region.roomiest.margin_mm <= -20.0 + 1e-9
    # A whole slab ties, so that the search cannot be sure to the last mm, but it is that there is none.
    assert -20.0 - 1e-9 <= region.roomiest.at_most_mm < -10.0
    assert region.roomiest.place_mm[2] == pytest.approx(80.0, abs=0.1)
    assert {cause.name for cause in region.roomiest.causes} == {"armrest", "dash"}
    assert sides(region) == ()
    assert nearest(region) is None


def test_drivers_too_far_apart_clash_half_way() -> None:
    """Shoulders 2000 apart: both arms end FAR from their own, half way lacks 1000 - FAR."""
    region = region_of(shoulders=(ORIGIN, (2000.0, 0.0, 0.0)))
    assert region.empty
    assert region.roomiest.margin_mm == pytest.approx(FAR - 1000.0, abs=0.1)
    assert math.dist(region.roomiest.place_mm, (1000.0, 0.0, 0.0)) < 15.0
    assert {(cause.name, cause.arm) for cause in region.roomiest.causes} == {
        ("elbow too straight", "d-0"),
        ("elbow too straight", "d-1"),
    }


def test_a_region_thinner_than_the_voxels_is_found_all_the_same() -> None:
    """A slab from 100 to 101, between the voxels at 90 and 110."""
    region = region_of(over(100.0), under(101.0))
    assert (region.field.margin < 0.0).all()
    assert not region.empty
    assert region.roomiest.margin_mm == pytest.approx(0.5, abs=0.05)
    assert (region.low_mm, sides(region)) == (None, ())
    found = moved(region, (300.0, 0.0, 90.0))
    assert found.move_mm == (0, 0, 10)
    assert found.away_mm == pytest.approx(10.0, abs=0.05)


def test_a_slit_between_whole_millimetres_has_a_place_but_no_whole_move() -> None:
    found = moved(region_of(over(100.2), under(100.8)), (300.0, 0.0, 90.0))
    assert found.away_mm == pytest.approx(10.2, abs=0.05)
    assert (found.move_mm, found.moved_margin_mm) == (None, None)
