"""The console's envelope: closed-form volumes, its top, and its outline."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull
from shapely.geometry import Polygon

from floorpan.console.envelope import KIND, Envelope, Station, footprint, outline_xy, station_at, top_z_at
from floorpan.errors import BadValue
from floorpan.items.placing import Place


def station(x: float, width: float, height: float, lean: float = 0.0) -> Station:
    return Station(x_mm=x, width_mm=width, height_mm=height, side_lean_deg=lean)


def envelope(*stations: Station, place: Place | None = None) -> Envelope:
    return Envelope(id="console-1", stations=stations, place=place or Place())


def volume(console: Envelope) -> float:
    return sum(float(ConvexHull(solid.points()).volume) for solid in KIND.envelope(console, "shell", {}))


def test_an_upright_box() -> None:
    assert volume(envelope(station(0, 200, 150), station(800, 200, 150))) == pytest.approx(800 * 200 * 150)


def test_a_trough_with_leaning_sides() -> None:
    """One section all along: half the sum of foot and top times height times length."""
    top = 200 - 2 * 150 * math.tan(math.radians(10))
    console = envelope(station(0, 200, 150, 10), station(800, 200, 150, 10))
    assert volume(console) == pytest.approx(800 * 150 * (200 + top) / 2)


def test_sections_that_grow_alike_make_a_cut_pyramid() -> None:
    """Similar sections: length / 3 * (a + b + sqrt(a b))."""
    a, b = 160 * 120.0, 240 * 180.0
    console = envelope(station(0, 160, 120), station(500, 240, 180))
    assert volume(console) == pytest.approx(500 / 3 * (a + b + math.sqrt(a * b)))


def test_one_hull_for_each_pair_of_neighbours() -> None:
    console = envelope(*(station(200.0 * i, 200, 150 + 10 * i) for i in range(5)))
    assert len(KIND.envelope(console, "shell", {})) == 4


def test_the_outline_runs_round_the_foot() -> None:
    console = envelope(station(0, 200, 100), station(500, 260, 100), place=Place(x_mm=100.0, y_mm=10.0))
    assert outline_xy(console) == ((100.0, -90.0), (600.0, -120.0), (600.0, 140.0), (100.0, 110.0))
    area = Polygon(footprint(console)).area
    assert area == pytest.approx(500 * (200 + 260) / 2)
    assert footprint(console).shape == (4, 2)


def test_the_top_between_stations_and_beside_it() -> None:
    console = envelope(
        station(0, 200, 100, 10), station(400, 200, 200, 10), place=Place(z_mm=50.0, y_mm=-5.0)
    )
    assert top_z_at(console, 100.0) == pytest.approx(50 + 125)
    assert top_z_at(console, 100.0, -5.0) == pytest.approx(50 + 125)
    # Half way up the leaning side, half way across it.
    beside = -5.0 + 100 - 125 * math.tan(math.radians(10)) / 2
    assert top_z_at(console, 100.0, beside) == pytest.approx(50 + 62.5, abs=1e-6)
    assert top_z_at(console, 100.0, 200.0) is None
    assert top_z_at(console, -1.0) is None
    assert station_at(console, 401.0) is None


@given(st.floats(-200, 1000), st.floats(-300, 300))
def test_the_top_is_the_top_of_the_stuff(x: float, y: float) -> None:
    """Second way: the highest point of the hulls over (x, y), by their planes. Sides here do not twist."""
    console = envelope(
        station(0, 160, 120, 8), station(300, 240, 180, 8), place=Place(x_mm=40.0, turn_deg=20.0)
    )
    (solid,) = KIND.envelope(console, "shell", {})
    planes = ConvexHull(solid.points()).equations
    low, high = -math.inf, math.inf
    for a, b, c, d in planes:
        level = a * x + b * y + d
        if abs(c) < 1e-12:
            high = -math.inf if level > 0 else high
        elif c > 0:
            high = min(high, -level / c)
        else:
            low = max(low, -level / c)
    found = top_z_at(console, x, y)
    if high < low - 1e-6:
        assert found is None
    elif high > low + 1e-6:
        assert found == pytest.approx(high, abs=1e-6)


def test_the_top_on_the_centre_line_of_a_turned_console() -> None:
    console = envelope(station(0, 200, 100), station(400, 200, 200), place=Place(x_mm=10.0, turn_deg=30.0))
    x = 10.0 + 200.0 * math.cos(math.radians(30))
    assert top_z_at(console, x) == pytest.approx(150.0)
    crosswise = envelope(station(0, 200, 100), station(400, 200, 200), place=Place(turn_deg=90.0))
    assert top_z_at(crosswise, 0.0) == pytest.approx(100.0)


@pytest.mark.parametrize(
    "stations",
    [
        (station(0, 200, 150),),
        (station(0, 200, 150), station(0, 200, 150)),
        (station(100, 200, 150), station(0, 200, 150)),
        tuple(station(100.0 * i, 200, 150) for i in range(13)),
    ],
)
def test_stations_run_rearward_two_to_twelve(stations: tuple[Station, ...]) -> None:
    with pytest.raises(BadValue):
        Envelope(id="c-1", stations=stations)


def test_sides_that_meet_below_the_top_are_refused() -> None:
    with pytest.raises(BadValue, match="meet below the top"):
        station(0, 100, 200, 30)
    assert station(0, 100, 200, 10).top_width_mm() == pytest.approx(100 - 400 * math.tan(math.radians(10)))


def test_numbers_that_are_none_are_refused() -> None:
    with pytest.raises(BadValue):
        station(math.nan, 100, 100)
    with pytest.raises(BadValue):
        Envelope(id="c-1", wall_mm=0.0)


def test_a_console_set_down_looks_under_its_whole_outline() -> None:
    console = envelope(station(0, 200, 100), station(500, 260, 100))
    assert KIND.set_down_mm(console) == outline_xy(console)
    assert KIND.foot_below_mm(console) == 0.0
    assert np.ptp([x for x, _ in outline_xy(console)]) == 500.0
