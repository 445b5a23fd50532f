"""From millimetres to pixels and back; the same as the drawing toolkit's own answer."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from vtkmodules.vtkRenderingCore import vtkCamera

from floorpan_app.viewport.eye import VIEW_ANGLE_DEG, Eye
from floorpan_app.viewport.projection import NEAREST_MM, Projection

WIDE, HIGH = 900.0, 600.0


@pytest.mark.parametrize("parallel", [True, False])
@given(seed=st.integers(0, 200))
def test_pixels_are_where_the_toolkit_puts_them(parallel: bool, seed: int) -> None:
    """Reference: vtkCamera's composite projection."""
    random = np.random.default_rng(seed)
    eye = Eye(
        target_mm=tuple(random.uniform(0.0, 1000.0, 3).tolist()),
        heading_deg=float(random.uniform(-180.0, 180.0)),
        rise_deg=float(random.uniform(-89.0, 89.0)),
        distance_mm=float(random.uniform(1500.0, 4000.0)),
        parallel=parallel,
    )
    camera = vtkCamera()
    camera.SetPosition(*eye.position())
    camera.SetFocalPoint(*eye.target_mm)
    camera.SetViewUp(*eye.axes()[1])
    camera.SetViewAngle(VIEW_ANGLE_DEG)
    camera.SetParallelProjection(parallel)
    camera.SetParallelScale(eye.height_mm() / 2)
    held = camera.GetCompositeProjectionTransformMatrix(WIDE / HIGH, -1.0, 1.0)
    matrix = np.array([[held.GetElement(row, column) for column in range(4)] for row in range(4)])
    points = np.asarray(eye.target_mm) + random.uniform(-300.0, 300.0, (20, 3))
    clip = np.column_stack([points, np.ones(20)]) @ matrix.T
    expected = clip[:, :2] / clip[:, 3:]
    expected = (expected * [1.0, -1.0] + 1.0) / 2.0 * [WIDE, HIGH]
    pixels, before = Projection(eye=eye, width=WIDE, height=HIGH).pixels(points)
    assert before.all()
    assert pixels == pytest.approx(expected, abs=1e-5)


@given(
    parallel=st.booleans(),
    x=st.floats(0.0, WIDE),
    y=st.floats(0.0, HIGH),
    away=st.floats(800.0, 5000.0),
    heading=st.floats(-180.0, 180.0),
    rise=st.floats(-80.0, 80.0),
)
def test_the_ray_through_a_pixel_comes_back_to_it(
    parallel: bool, x: float, y: float, away: float, heading: float, rise: float
) -> None:
    eye = Eye(heading_deg=heading, rise_deg=rise, parallel=parallel, distance_mm=2000.0)
    projection = Projection(eye=eye, width=WIDE, height=HIGH)
    sight = projection.sight(x, y)
    assert math.hypot(*sight.direction) == pytest.approx(1.0)
    start = 20_000.0 if parallel else 0.0
    point = np.asarray(sight.origin_mm) + (start + away) * np.asarray(sight.direction)
    assert projection.pixel(point) == pytest.approx((x, y), abs=1e-5)
    # A pixel beside it is one pixel's width away.
    beside = point + eye.axes()[0] * sight.mm_per_pixel(point)
    assert projection.pixel(beside) == pytest.approx((x + 1.0, y), abs=1e-5)
    assert sight.mm_per_pixel(point) == pytest.approx(1.0 / projection.pixels_per_mm(point))


def test_what_is_behind_the_eye_has_no_pixel() -> None:
    projection = Projection(eye=Eye(distance_mm=1000.0), width=WIDE, height=HIGH)
    assert projection.pixel((-1500.0, 0.0, 0.0)) is None
    assert projection.pixels_per_mm((-1500.0, 0.0, 0.0)) == 0.0


def test_a_line_that_passes_the_eye_is_cut_off_before_it() -> None:
    projection = Projection(eye=Eye(distance_mm=1000.0), width=WIDE, height=HIGH)
    behind = [[-1500.0, 0.0, 0.0], [-1600.0, 5.0, 0.0]]
    through = [[500.0, 10.0, 0.0], [-1500.0, 10.0, 0.0]]
    cut = projection.segments(np.array([behind, through]))
    assert cut.shape == (1, 2, 2)
    assert np.isfinite(cut).all()
    # The near end lies where the line is just before the eye: 10 mm aside, to the left of the sight.
    scale = HIGH / (2.0 * 1.01 * NEAREST_MM * math.tan(math.radians(VIEW_ANGLE_DEG / 2)))
    assert cut[0, 1, 0] == pytest.approx(WIDE / 2 - 10.0 * scale)
