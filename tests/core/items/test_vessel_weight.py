"""Volume and centre of gravity of vessels: published frustums, closed forms, and a sum of thin slices."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.items.vessel_library import library, vessel_of
from floorpan.items.vessel_weight import FILLS, filled, shell_centre_mm, weight
from floorpan.items.vessels import Vessel

CUPS = [
    (45, 61, 65, 35.74579, 144.491),
    (56, 80, 90, 50.23973, 330.2442),
    (56, 90, 115, 66.26843, 490.0204),
    (56, 90, 136, 78.36962, 579.5024),
]


@pytest.mark.parametrize(("base", "top", "height", "centre", "ml"), CUPS)
def test_four_paper_cups_full(base: float, top: float, height: float, centre: float, ml: float) -> None:
    """Check values 4.11 and 4.12: (h / 4)(r**2 + 2 r R + 3 R**2) / (r**2 + r R + R**2)."""
    volume, at = filled(((0.0, base / 2), (height, top / 2)), height)
    assert at == pytest.approx(centre, abs=1e-5)
    assert volume == pytest.approx(ml, abs=1e-3)


def test_a_cylinder_has_its_centre_half_way_up() -> None:
    """Check value 4.12: the cylinder limit is h / 2."""
    volume, at = filled(((0.0, 33.0), (120.0, 33.0)), 80.0)
    assert at == pytest.approx(40.0)
    assert volume == pytest.approx(math.pi * 33**2 * 80 / 1000)


@pytest.mark.parametrize("key", [vessel.key for vessel in library()])
@pytest.mark.parametrize("share", [0.1, 0.37, 0.8, 1.0])
def test_an_outline_is_the_sum_of_thin_slices(key: str, share: float) -> None:
    profile = vessel_of(key, "v-1").profile
    heights, radii = np.array(profile).T
    level = share * heights[-1]
    edges = np.linspace(0.0, level, 200_001)
    middles = (edges[1:] + edges[:-1]) / 2
    slices = math.pi * np.interp(middles, heights, radii) ** 2 * (edges[1] - edges[0])
    volume, at = filled(profile, level)
    assert volume == pytest.approx(slices.sum() / 1000, rel=1e-5)
    assert at == pytest.approx((slices * middles).sum() / slices.sum(), rel=1e-5)


def test_an_empty_shell_of_a_closed_can_balances_half_way_up() -> None:
    assert shell_centre_mm(((0.0, 33.0), (120.0, 33.0)), open_top=False) == pytest.approx(60.0)
    # Open: side 2 pi r h at h / 2 and bottom pi r**2 at 0.
    side, bottom = 2 * 33 * 120, 33**2
    open_top = shell_centre_mm(((0.0, 33.0), (120.0, 33.0)), open_top=True)
    assert open_top == pytest.approx(side * 60 / (side + bottom))


def test_drink_and_vessel_are_weighed_together() -> None:
    vessel = Vessel(
        id="v-1", profile=((0.0, 40.0), (100.0, 40.0)), full_kg=0.5, empty_kg=0.1, filled_to_mm=80.0
    )
    full, half, empty = weight(vessel), weight(vessel, 0.5), weight(vessel, 0.0)
    assert (full.kg, half.kg, empty.kg) == pytest.approx((0.5, 0.3, 0.1))
    assert full.level_mm == 80.0
    assert full.centre_mm == pytest.approx((0.4 * 40 + 0.1 * 50) / 0.5)
    assert half.centre_mm == pytest.approx((0.2 * 20 + 0.1 * 50) / 0.3)
    assert empty.centre_mm == pytest.approx(50.0)


@given(st.floats(0.0, 1.0), st.sampled_from([vessel.key for vessel in library()]))
def test_the_centre_lies_inside_and_weight_grows_with_the_fill(fill: float, key: str) -> None:
    vessel = vessel_of(key, "v-1")
    at = weight(vessel, fill)
    assert 0.0 < at.centre_mm < vessel.profile[-1][0]
    assert vessel.empty_kg <= at.kg <= vessel.full_kg + 1e-12
    assert at.kg <= weight(vessel, min(1.0, fill + 0.05)).kg + 1e-12


def test_every_vessel_of_the_library_has_its_weights_and_a_source() -> None:
    assert FILLS[0] == 0.0
    assert FILLS[-1] == 1.0
    kinds = {vessel.key.split("-")[0] for vessel in library()}
    assert {"can", "bottle", "paper", "open", "travel", "flask", "tumbler"} <= kinds
    for vessel in library():
        assert 0.0 < vessel.empty_kg < vessel.full_kg
        assert 0.0 < vessel.filled_to_mm < vessel.profile[-1][0]
        # The outline is the outside, so it holds what is in it; no drink is denser than water by much.
        held, _ = filled(vessel.profile, vessel.filled_to_mm)
        assert held > 970.0 * (vessel.full_kg - vessel.empty_kg)
        assert vessel.source
