"""Two centre lines: where they run, how far apart, and how well that is known."""

import math

import numpy as np
import pytest
from scipy import stats

from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.scan.axis_doubt import PICK_MM
from floorpan.scan.centre_lines import CentreLine, fit_line, lines_apart

STILL = Pose()


def along(
    slope: float, y: float, xs: list[float], off: list[float] | None = None, kind: str = "tunnel"
) -> CentreLine:
    off = off or [0.0] * len(xs)
    return CentreLine(
        kind=kind, points_mm=tuple((x, y + slope * x + d, 30.0) for x, d in zip(xs, off, strict=True))
    )


def test_exact_points_give_the_line_and_the_doubt_of_a_hand() -> None:
    fit = fit_line(along(0.02, 5.0, [100.0, 900.0]), STILL)
    assert fit.at(0.0) == pytest.approx(5.0)
    assert fit.slope == pytest.approx(0.02)
    # Two points, sigma PICK each: at a point itself 2 sigma, midway 2 sigma / sqrt(2). Closed form.
    assert fit.u_at(100.0) == pytest.approx(2.0 * PICK_MM)
    assert fit.u_at(500.0) == pytest.approx(2.0 * PICK_MM / math.sqrt(2.0))


def test_slope_and_sigma_agree_with_a_statistics_library() -> None:
    random = np.random.default_rng(4)
    xs = np.linspace(0.0, 1000.0, 9)
    off = random.normal(0.0, 2.0, 9)
    fit = fit_line(along(-0.01, 12.0, xs.tolist(), off.tolist()), STILL)
    told = stats.linregress(xs, 12.0 - 0.01 * xs + off)
    assert fit.slope == pytest.approx(told.slope)
    assert fit.at(0.0) == pytest.approx(told.intercept)
    # The doubt at x = 0 is twice the intercept's standard error.
    assert fit.u_at(0.0) == pytest.approx(2.0 * told.intercept_stderr)


def test_the_doubt_holds_19_times_in_20() -> None:
    random = np.random.default_rng(7)
    xs = [0.0, 150.0, 300.0, 500.0, 700.0, 850.0, 1000.0, 1100.0, 1200.0, 1300.0]
    held = 0
    for _ in range(400):
        fit = fit_line(along(0.03, -4.0, xs, random.normal(0.0, 3.0, len(xs)).tolist()), STILL)
        held += abs(fit.at(-100.0) - (-4.0 - 3.0)) <= fit.u_at(-100.0)
    # Two sigma of a t variable with 8 degrees of freedom hold 92 times in 100; three sigma of 400 draws is 4 %.
    assert 0.88 < held / 400 < 0.97


def test_lines_apart_at_a_station() -> None:
    tunnel = fit_line(along(0.0, 0.0, [0.0, 600.0, 1200.0]), STILL)
    dash = fit_line(along(0.01, 12.0, [-200.0, 0.0, 200.0], kind="dash"), STILL)
    apart, u = lines_apart(tunnel, dash, -200.0)
    assert apart == pytest.approx(10.0)
    assert u == pytest.approx(math.hypot(tunnel.u_at(-200.0), dash.u_at(-200.0)))


def test_a_line_moves_with_its_scan() -> None:
    pose = Pose.turned((0.0, 0.0, 1.0), 90.0).after(Pose(shift_mm=(10.0, 20.0, 0.0)))
    # In the scan the line runs along -Y, in the car along X.
    line = CentreLine(kind="dash", points_mm=((40.0, -20.0, 0.0), (40.0, -620.0, 0.0)))
    fit = fit_line(line, pose)
    assert fit.ends_mm == pytest.approx((0.0, 600.0))
    assert fit.slope == pytest.approx(0.0, abs=1e-12)
    assert fit.y_mm == pytest.approx(50.0)


def test_what_gives_no_line_is_refused() -> None:
    with pytest.raises(BadValue) as fault:
        CentreLine(kind="dash", points_mm=((0.0, 0.0, 0.0),))
    assert fault.value.code == "line-too-short"
    with pytest.raises(BadValue) as fault:
        fit_line(along(0.0, 0.0, [0.0, 20.0]), STILL)
    assert fault.value.code == "line-no-direction"
