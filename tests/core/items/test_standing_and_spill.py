"""Tipping, sliding and spilling as the textbooks print them."""

import math

import numpy as np
import pytest

from floorpan.items.spill import (
    freeboard_mm,
    spills_g,
    surface_rise_mm,
    surface_slope_deg,
)
from floorpan.items.standing import (
    highest_push_mm,
    slides_at_n,
    standing,
    tips_at_n,
)
from floorpan.items.vessel_library import vessel_of
from floorpan.items.vessels import Vessel

G = 9.81


@pytest.mark.parametrize(
    ("radius", "centre", "ratio"),
    [
        (28.0, 66.26843, 0.422524),
        (28.0, 78.36962, 0.357281),
        (28.0, 50.23973, 0.557328),
        (22.5, 35.74579, 0.629445),
        (33.045, 122.22 / 2, 0.541),
        (23.9, 122.22 / 2, 0.391),
    ],
)
def test_tip_thresholds(radius: float, centre: float, ratio: float) -> None:
    """Check value 4.11: a / g = r / h; the can as a solid cylinder on its full base and on its 47.8 mm stand."""
    assert standing(radius, centre, 9.0).tips_g == pytest.approx(ratio, abs=5e-4)


@pytest.mark.parametrize(("grip", "first", "moves_ms2"), [(0.5, "slides", 4.905), (0.8, "tips", 6.54)])
def test_tip_or_slide(grip: float, first: str, moves_ms2: float) -> None:
    """Check value 4.13: a box 0.6 wide and 0.9 high."""
    found = standing(300.0, 450.0, grip)
    assert found.first == first
    assert found.moves_g * G == pytest.approx(moves_ms2, abs=5e-3)
    assert found.tips_g * G == pytest.approx(6.54, abs=5e-3)


def test_a_cabinet_on_locked_casters() -> None:
    """Check value 4.14: 50 kg, push at 0.80 m, half foot 0.30 m, grip 0.20; and 120 lb, grip 0.30, half foot 12 in."""
    slides = slides_at_n(50.0, 0.2, G)
    tips = tips_at_n(50.0, 300.0, 800.0, G)
    assert slides == pytest.approx(98.1, abs=0.05)
    assert tips == pytest.approx(183.94, abs=0.005)
    assert slides < tips
    pound_force = 4.4482216152605
    assert slides_at_n(120 * 0.45359237, 0.3) / pound_force == pytest.approx(36.0, abs=1e-6)
    assert highest_push_mm(12 * 25.4, 0.3) / 25.4 == pytest.approx(40.0)


@pytest.mark.parametrize(("grip", "ms2"), [(0.36, 3.53), (0.40, 3.92), (0.369, 3.62), (0.3, 2.94)])
def test_a_crate_on_a_truck_slides(grip: float, ms2: float) -> None:
    """Check value 4.16: a = grip times g."""
    found = standing(1000.0, 500.0, grip)
    assert found.first == "slides"
    assert found.slides_g * G == pytest.approx(ms2, abs=0.006)


def test_a_bump_and_a_falling_shelf_take_away_from_both() -> None:
    level = standing(30.0, 60.0, 0.4)
    assert standing(30.0, 60.0, 0.4, unloaded_g=0.5).tips_g == pytest.approx(level.tips_g / 2)
    leaning = standing(30.0, 60.0, 0.4, lean_deg=5.0)
    assert leaning.tips_g == pytest.approx(math.tan(math.atan(0.5) - math.radians(5.0)))
    assert standing(30.0, 60.0, 0.05, lean_deg=5.0).slides_g == 0.0


@pytest.mark.parametrize(
    ("push", "slope", "rise"),
    [(0.3, 16.6992, 13.5), (0.4, 21.8014, 18.0), (0.8, 38.6598, 36.0), (1.0, 45.0, 45.0)],
)
def test_the_surface_slopes(push: float, slope: float, rise: float) -> None:
    """Check value 4.18: atan(a / g), and its rise at a radius of 45 mm."""
    assert surface_slope_deg(push) == pytest.approx(slope, abs=1e-4)
    assert surface_rise_mm(push, 45.0) == pytest.approx(rise)


def test_an_open_cup_spills_where_the_surface_reaches_its_brim() -> None:
    cup = Vessel(id="v-1", profile=((0, 38), (100, 38)), open_top=True, filled_to_mm=85.0)
    assert freeboard_mm(cup) == 15.0
    # A common sum: 38 mm of radius and 15 mm of room hold 0.4 g.
    assert spills_g(cup) == pytest.approx(15 / 38)
    leaning = spills_g(cup, lambda push: 5.0)
    assert math.tan(math.atan(leaning) + math.radians(5.0)) == pytest.approx(15 / 38)
    assert spills_g(cup, lambda push: 30.0) == 0.0
    assert spills_g(cup, fill=0.5) > spills_g(cup)


def test_a_closed_vessel_never_spills() -> None:
    assert spills_g(vessel_of("paper-cup-12", "v-1")) == math.inf


@pytest.mark.parametrize("push", [0.1, 0.2, 0.3])
def test_a_cup_that_widens_upward_spills_no_sooner_than_told(push: float) -> None:
    """Second way: the volume below a surface that slopes about its middle, summed over fine slices across the cup.

    It is more than what is in the cup, so the real surface lies lower.
    """
    base, widens, level = 28.0, 17.0 / 115.0, 80.0
    heights = np.linspace(0.0, 115.0, 4001)
    step = heights[1] - heights[0]

    def below(slope: float) -> float:
        radius = base + widens * heights
        # Where the sloping surface cuts the disc at this height: drink lies beyond x = (z - level) / slope.
        cut = np.clip((heights - level) / slope, -radius, radius)
        disc = radius**2 * np.arccos(cut / radius) - cut * np.sqrt(radius**2 - cut**2)
        return float(disc.sum() * step)

    assert below(push) > below(1e-6)
