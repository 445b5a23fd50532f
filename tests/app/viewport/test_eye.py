"""Turning, sliding and zooming, by what must stay where it is."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan_app.viewport.eye import Eye, between, framed, nearer, slid, towards, turned
from floorpan_app.viewport.projection import Projection

eyes = st.builds(
    Eye,
    target_mm=st.tuples(*[st.floats(-500.0, 1500.0)] * 3),
    heading_deg=st.floats(-180.0, 180.0),
    rise_deg=st.floats(-90.0, 90.0),
    distance_mm=st.floats(300.0, 8000.0),
    parallel=st.booleans(),
)
# A point about the middle of the picture, some way before the eye.
offsets = st.tuples(st.floats(-0.25, 0.25), st.floats(-0.2, 0.2), st.floats(-0.4, 0.4))


def point_seen(eye: Eye, offset: tuple[float, float, float]) -> tuple[float, float, float]:
    right, up, forward = eye.axes()
    place = np.asarray(eye.target_mm) + eye.distance_mm * (
        offset[0] * right + offset[1] * up + offset[2] * forward
    )
    return float(place[0]), float(place[1]), float(place[2])


def pixel(eye: Eye, point: tuple[float, float, float]) -> tuple[float, float]:
    seen = Projection(eye=eye, width=900.0, height=600.0).pixel(point)
    assert seen is not None
    return seen


@given(eye=eyes)
def test_the_axes_are_square_and_never_roll(eye: Eye) -> None:
    axes = np.stack(eye.axes())
    assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)
    right, up, forward = axes
    assert right[2] == 0.0
    assert up[2] >= -1e-12
    assert np.cross(right, up) == pytest.approx(-forward, abs=1e-12)


@given(eye=eyes, offset=offsets, heading=st.floats(-170.0, 170.0), rise=st.floats(-60.0, 60.0))
def test_turning_keeps_the_point_turned_about_in_its_place(
    eye: Eye, offset: tuple[float, float, float], heading: float, rise: float
) -> None:
    point = point_seen(eye, offset)
    after = turned(eye, point, heading, rise)
    assert pixel(after, point) == pytest.approx(pixel(eye, point), abs=1e-6)
    assert -90.0 <= after.rise_deg <= 90.0


@given(eye=eyes, offset=offsets, share=st.floats(0.3, 2.5))
def test_zooming_keeps_the_point_under_the_mouse_in_its_place(
    eye: Eye, offset: tuple[float, float, float], share: float
) -> None:
    point = point_seen(eye, offset)
    after = nearer(eye, point, share)
    assert pixel(after, point) == pytest.approx(pixel(eye, point), abs=1e-6)


def test_zooming_in_makes_things_larger_by_the_share() -> None:
    eye = Eye(parallel=True, distance_mm=3000.0)
    one, other = (0.0, 0.0, 0.0), (0.0, 100.0, 0.0)
    before = math.dist(pixel(eye, one), pixel(eye, other))
    closer = nearer(eye, one, 0.5)
    assert math.dist(pixel(closer, one), pixel(closer, other)) == pytest.approx(2.0 * before)


@given(eye=eyes, offset=offsets, step=st.tuples(st.floats(-80.0, 80.0), st.floats(-80.0, 80.0)))
def test_sliding_takes_a_point_along_with_the_mouse(
    eye: Eye, offset: tuple[float, float, float], step: tuple[float, float]
) -> None:
    point = point_seen(eye, offset)
    wide = Projection(eye=eye, width=900.0, height=600.0).sight(*pixel(eye, point)).mm_per_pixel(point)
    after = slid(eye, -step[0] * wide, step[1] * wide)
    moved = np.subtract(pixel(after, point), pixel(eye, point))
    assert moved == pytest.approx(step, abs=1e-6)


@given(eye=eyes, seed=st.integers(0, 50))
def test_everything_fits_and_touches_the_margin(eye: Eye, seed: int) -> None:
    points = np.random.default_rng(seed).uniform(-700.0, 700.0, (30, 3))
    after = framed(eye, points, 1.5, margin=0.07)
    pixels, before = Projection(eye=after, width=900.0, height=600.0).pixels(points)
    assert before.all()
    low, high = pixels.min(axis=0), pixels.max(axis=0)
    assert (low >= np.array([900.0, 600.0]) * 0.07 - 1e-6).all()
    assert (high <= np.array([900.0, 600.0]) * 0.93 + 1e-6).all()
    filled = (high - low) / (np.array([900.0, 600.0]) * 0.86)
    assert filled.max() == pytest.approx(1.0, abs=0.02)


def test_looking_along_a_direction() -> None:
    eye = towards(Eye(), (640.0, 30.0, 212.0), (0.0, 0.0, -1.0), 400.0)
    assert eye.axes()[2] == pytest.approx((0.0, 0.0, -1.0))
    assert pixel(eye, (640.0, 30.0, 212.0)) == pytest.approx((450.0, 300.0))
    assert eye.position() == pytest.approx((640.0, 30.0, 612.0))


def test_on_the_way_from_one_eye_to_another_the_short_way_round_is_taken() -> None:
    first, second = Eye(heading_deg=170.0, rise_deg=-10.0), Eye(heading_deg=-170.0, rise_deg=-30.0)
    half = between(first, second, 0.5)
    assert abs(half.heading_deg) == pytest.approx(180.0)
    assert half.rise_deg == pytest.approx(-20.0)
    assert between(first, second, 1.0) == second
    assert between(first, second, 0.0) == replace(first, target_mm=half.target_mm)


def test_the_eye_stops_when_absurdly_near() -> None:
    eye = nearer(Eye(distance_mm=30.0), (0.0, 0.0, 0.0), 1e-6)
    assert eye.distance_mm >= 10.0
