"""How a vessel sits in a well: published tilts, closed forms for tapers, and polygons as the second way."""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.spatial import ConvexHull
from shapely import affinity
from shapely.geometry import Polygon

from floorpan.items.cup_holder import KIND, CupHolder
from floorpan.items.placing import Place
from floorpan.items.vessel_library import library, vessel_of
from floorpan.items.vessels import Profile, Vessel
from floorpan.items.well_fit import vessel_in, vessel_place, well_fit

TILTS = [(70, 66.09, 70, 3.286), (76, 66.09, 70, 8.662), (80, 66.09, 70, 12.459), (89, 66.09, 50, 34.768)]


def straight(diameter: float, height: float = 200.0) -> Vessel:
    return Vessel(id="v-1", profile=((0.0, diameter / 2), (height, diameter / 2)))


def well(mouth: float, base: float, depth: float) -> CupHolder:
    return CupHolder(id="h-1", mouth_mm=mouth, base_mm=base, depth_mm=depth)


@pytest.mark.parametrize(("diameter", "cup", "depth", "tilt"), TILTS)
def test_free_tilt_in_a_straight_well(diameter: float, cup: float, depth: float, tilt: float) -> None:
    """Check value 4.17: W cos a - (D - d sin a) sin a = d."""
    fit = well_fit(well(diameter, diameter, depth), straight(cup))
    assert fit.free_tilt_deg == pytest.approx(tilt, abs=5e-4)
    assert fit.side_mm == pytest.approx(diameter - cup)
    assert fit.sits_mm == depth
    assert fit.enters


def test_the_tilts_are_those_of_the_published_vectors(shared_data: Path) -> None:
    found = json.loads((shared_data.parent / "vectors.json").read_text())["4.17"]
    assert [(row["well"], row["cup"], row["depth"], row["tilt_deg"]) for row in found] == TILTS


def test_the_small_angle_form_would_be_wrong() -> None:
    """Check value 4.17: (W - d) / D gives 11.24 degrees where the well lets the cup lean 12.46."""
    fit = well_fit(well(80, 80, 70), straight(66.09))
    assert fit.free_tilt_deg - math.degrees(math.atan((80 - 66.09) / 70)) > 1.0


@pytest.mark.parametrize(
    ("mouth", "base", "depth", "cup"), [(80, 72, 70, 66.09), (86, 64, 60, 60), (90, 74, 50, 66)]
)
def test_free_tilt_of_a_straight_cup_in_a_tapered_well(
    mouth: float, base: float, depth: float, cup: float
) -> None:
    """The raised corner meets the sloping wall at height d sin a, so k = (M - B) / 2D widens the well there:

    ((M + B) / 2 + k d sin a) cos a - d cos(a)**2 - D sin a = 0, worked by hand from the same triangle.
    """
    k = (mouth - base) / (2 * depth)

    def closing(angle: float) -> float:
        wide = (mouth + base) / 2 + k * cup * math.sin(angle)
        return wide * math.cos(angle) - cup * math.cos(angle) ** 2 - depth * math.sin(angle)

    expected = math.degrees(brentq(closing, 1e-6, math.radians(40)))
    assert well_fit(well(mouth, base, depth), straight(cup)).free_tilt_deg == pytest.approx(
        expected, abs=1e-6
    )


def test_a_straight_cup_stands_on_the_bottom_of_a_tapered_well() -> None:
    fit = well_fit(well(80, 72, 70), straight(66.09))
    assert fit.sits_mm == 70.0
    assert fit.side_mm == pytest.approx(72 - 66.09)


def test_a_straight_cup_wedges_where_the_taper_is_as_wide() -> None:
    """Well 64 at the bottom, 84 at the mouth, 80 deep: it is 70 wide 24 over the bottom."""
    fit = well_fit(well(84, 64, 80), straight(70))
    assert fit.sits_mm == pytest.approx(80 - 24)
    assert fit.side_mm == pytest.approx(0.0, abs=1e-6)
    assert fit.free_tilt_deg == 0.0


def test_a_tapered_cup_hangs_by_its_side_at_the_mouth() -> None:
    """A cup of 56 to 90 over 115 is 76 wide at 67.647 up, so a 76 mm straight well holds it there."""
    fit = well_fit(well(76, 76, 75), Vessel(id="v-1", profile=((0, 28), (115, 45))))
    assert fit.sits_mm == pytest.approx((76 - 56) / (90 - 56) * 115)
    assert fit.side_mm == pytest.approx(0.0, abs=1e-6)


def test_a_vessel_as_wide_as_the_mouth_or_wider_does_not_enter() -> None:
    fit = well_fit(well(80, 80, 70), straight(88))
    assert (fit.enters, fit.sits_mm, fit.side_mm, fit.free_tilt_deg) == (False, 0.0, 0.0, 0.0)


def test_a_mouth_narrower_than_the_base_is_what_counts() -> None:
    fit = well_fit(well(68, 80, 70), straight(66))
    assert fit.side_mm == pytest.approx(2.0)
    assert not well_fit(well(64, 80, 70), straight(66)).enters


def test_a_cup_shorter_than_the_well_is_deep_is_in_it_whole() -> None:
    fit = well_fit(well(80, 80, 120), straight(70, height=60))
    assert fit.sits_mm == 120.0
    assert fit.side_mm == pytest.approx(10.0)


def section(profile: Profile) -> Polygon:
    right = [(radius, height) for height, radius in profile]
    return Polygon(right + [(-x, z) for x, z in reversed(right)])


def fits_leaning(holder: CupHolder, vessel: Vessel, lean_deg: float) -> bool:
    """Whether the leaning outline, standing on the bottom, can be slid to where it cuts no wall."""
    b, m, d = holder.base_mm / 2, holder.mouth_mm / 2, holder.depth_mm
    cup = affinity.rotate(section(vessel.profile), -lean_deg, origin=(0, 0))
    cup = affinity.translate(cup, 0.0, -cup.bounds[1])
    room = Polygon([(-b, 0), (b, 0), (m, d), (-m, d)])
    below = cup.intersection(Polygon([(-500, 0), (500, 0), (500, d), (-500, d)]))
    shifts = np.linspace(-30, 30, 6001)
    outside = [affinity.translate(below, shift).difference(room).area for shift in shifts]
    return min(outside) < 0.02


@pytest.mark.parametrize("key", ["can-355", "bottle-500", "paper-cup-12", "travel-mug"])
def test_free_tilt_of_real_outlines_two_ways(key: str) -> None:
    """Second way: outlines as polygons (shapely), slid across the well in steps of 0.01 mm."""
    holder, vessel = well(82, 74, 65), vessel_of(key, "v-1")
    tilt = well_fit(holder, vessel).free_tilt_deg
    assert 1.0 < tilt < 40.0
    assert fits_leaning(holder, vessel, tilt - 0.1)
    assert not fits_leaning(holder, vessel, tilt + 0.2)


def test_a_dish_lets_a_vessel_fall_out() -> None:
    assert well_fit(well(150, 150, 10), straight(40)).free_tilt_deg > 80.0


def test_a_vessel_stands_where_its_well_holds_it() -> None:
    holder = CupHolder(
        id="holder-1",
        place=Place(x_mm=640.0, y_mm=30.0, z_mm=100.0, turn_deg=10.0),
        mouth_mm=84,
        base_mm=64,
        depth_mm=80,
    )
    vessel = straight(70)
    at = vessel_place(vessel, holder)
    assert (at.x_mm, at.y_mm, at.turn_deg) == (640.0, 30.0, 10.0)
    assert at.z_mm == pytest.approx(124.0)
    placed = vessel_in(vessel, holder)
    assert placed.stands_in == "holder-1"
    assert placed.place == vessel_place(vessel, holder)
    # One that does not enter stands on the mouth.
    assert vessel_place(straight(100), holder).z_mm == pytest.approx(180.0)


def test_every_vessel_of_the_library_is_judged_in_a_common_well() -> None:
    """Moulded holders: mouth 80 to 86, base 64 to 74, depth 50 to 70 mm. Common practice, no source."""
    fits = {vessel.key: well_fit(well(83, 69, 60), vessel_of(vessel.key, "v-1")) for vessel in library()}
    # Its foot is narrower than the mouth, its body is not.
    assert fits["bottle-1000"].sits_mm < 10.0
    assert all(
        fit.sits_mm == 60.0 for key, fit in fits.items() if key.startswith(("can", "slim", "bottle-500"))
    )


def test_the_well_is_open_and_as_thick_as_its_wall() -> None:
    """The wall of a straight well is a ring: pi (R**2 - r**2) depth; the bottom a disc."""
    holder = CupHolder(id="h-1", mouth_mm=80, base_mm=80, depth_mm=70, wall_mm=3)
    body = KIND.envelope(holder, "well", {})
    volume = sum(float(ConvexHull(solid.points()).volume) for solid in body)
    true = math.pi * (43**2 - 40**2) * 70 + math.pi * 43**2 * 3
    spread = 2 * math.pi * 43 * 70 * body[0].hull.facet_mm
    assert true <= volume <= true + 2 * spread
    # The true ring is covered: no point of it lies outside all the wedges.
    for angle in np.linspace(0, 2 * np.pi, 97):
        at = np.array([41.5 * math.cos(angle), 41.5 * math.sin(angle), 35.0])
        assert any((ConvexHull(s.points()).equations @ np.append(at, 1.0)).max() < 1e-9 for s in body)
    # Nothing stands in the way of the vessel by more than a facet.
    for solid in body[1:]:
        assert np.linalg.norm(solid.points()[:, :2], axis=1).min() >= 40.0 - 1e-9
