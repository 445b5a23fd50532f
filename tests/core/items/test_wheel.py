"""A wheel: distances to its rim against the torus in closed form, never inside it and no farther out than it says."""

import math
from dataclasses import replace

import numpy as np
import pytest

from floorpan.geometry.clearance import body_gap
from floorpan.geometry.solids import Solid, ball
from floorpan.items import Place, Wheel
from floorpan.items.wheel import KIND

WHEEL = Wheel(id="wheel-1", place=Place(x_mm=-100.0, y_mm=-350.0, z_mm=600.0), lean_deg=25.0)
RING, TUBE = (360.0 - 30.0) / 2, 15.0


def torus_mm(point: np.ndarray) -> float:
    """Closed form: to the circle of a ring that leans forward by 25 degrees, less its tube."""
    lean = math.radians(25.0)
    square_to = np.array([math.cos(lean), 0.0, math.sin(lean)])
    away = point - np.array([-100.0, -350.0, 600.0])
    along = float(away @ square_to)
    out = float(np.linalg.norm(away - along * square_to))
    return math.hypot(out - RING, along) - TUBE


def test_the_rim_is_the_torus_from_outside_within_its_facet() -> None:
    rim = KIND.envelope(WHEEL, "rim", {})
    facet = max(solid.hull.facet_mm for solid in rim)
    assert facet < 0.4
    for point in np.random.default_rng(5).uniform(-400.0, 400.0, (300, 3)):
        at = point + np.array([-100.0, -350.0, 600.0])
        true = torus_mm(at) - 10.0
        if true > 0.0:
            found = body_gap((Solid(ball(at, 10.0)),), rim).distance_mm
            assert true - facet - 1e-9 <= found <= true + 1e-9


def test_its_top_leans_forward() -> None:
    points = np.vstack([solid.points() for solid in KIND.envelope(WHEEL, "rim", {})])
    top = points[points[:, 2].argmax()]
    np.testing.assert_allclose(
        top,
        [-100.0 - RING * math.sin(math.radians(25.0)), -350.0, 600.0 + RING * math.cos(math.radians(25.0))],
        atol=0.3,
    )


def test_the_stalks_lie_ahead_of_the_rim_on_both_sides() -> None:
    [stalks] = KIND.envelope(WHEEL, "stalks", {})
    lean = math.radians(25.0)
    ahead = np.array([-100.0 - 50.0 * math.cos(lean), -350.0, 600.0 - 50.0 * math.sin(lean)])
    aside = np.array([0.0, 150.0, 0.0])
    ends = stalks.points()[stalks.points()[:, 1].argsort()]
    np.testing.assert_allclose(ends, [ahead - aside, ahead + aside], atol=1e-9)
    assert [part.name for part in KIND.parts(replace(WHEEL, stalk_mm=0.0))] == ["rim"]


@pytest.mark.parametrize("place", [Place(y_mm=10.0), Place(x_mm=5.0, turn_deg=20.0)])
def test_a_moved_wheel_keeps_its_rods(place: Place) -> None:
    moved = KIND.moved(WHEEL, place)
    pairs = zip(KIND.envelope(WHEEL, "rim", {}), KIND.envelope(moved, "rim", {}), strict=True)
    assert all(a.hull is b.hull for a, b in pairs)
