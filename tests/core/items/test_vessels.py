"""Vessels: their bodies against closed-form volumes, how profiles are cut, and the library against its sources."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from floorpan.errors import BadValue, NoSuchThing
from floorpan.items.placing import Place
from floorpan.items.vessel_library import library, library_vessel, vessel_of
from floorpan.items.vessels import KIND, Profile, Vessel, convex_runs, height_mm

# A polygon of 48 sides drawn around a circle has this much more area.
AROUND = 48 / math.pi * math.tan(math.pi / 48)

BOTTLE: Profile = ((0, 28), (8, 33), (140, 33), (185, 20), (198, 14), (220, 14))


def volume(profile: Profile) -> float:
    """Cone frustums on end, in mm3."""
    pairs = itertools.pairwise(profile)
    return sum(math.pi * (b[0] - a[0]) / 3 * (a[1] ** 2 + a[1] * b[1] + b[1] ** 2) for a, b in pairs)


def measured(vessel: Vessel) -> float:
    return sum(float(ConvexHull(solid.points()).volume) for solid in KIND.envelope(vessel, "vessel", {}))


@pytest.mark.parametrize(
    ("base", "top", "height", "ml"),
    [(45, 61, 65, 144.491), (56, 80, 90, 330.2442), (56, 90, 115, 490.0204), (56, 90, 136, 579.5024)],
)
def test_paper_cups_hold_what_a_frustum_holds(base: float, top: float, height: float, ml: float) -> None:
    """Check value 4.11: frustum volumes of four cup sizes."""
    cup = Vessel(id="v-1", profile=((0, base / 2), (height, top / 2)))
    assert measured(cup) == pytest.approx(ml * 1000 * AROUND, rel=1e-6)


@pytest.mark.parametrize("profile", [BOTTLE, *(vessel.profile for vessel in library())])
def test_the_pieces_of_a_vessel_fill_it_once(profile: Profile) -> None:
    vessel = Vessel(id="v-1", profile=profile)
    assert measured(vessel) == pytest.approx(volume(profile) * AROUND, rel=1e-6)


def test_a_profile_is_cut_only_where_it_turns_hollow() -> None:
    assert convex_runs(((0, 20), (10, 30), (100, 30), (120, 25))) == (
        ((0, 20), (10, 30), (100, 30), (120, 25)),
    )
    # A bottle is hollow where its shoulder meets the neck.
    assert convex_runs(BOTTLE) == (BOTTLE[:5], BOTTLE[4:])
    # A step outward starts a new piece, a step inward only where the outline goes on upward.
    assert convex_runs(((0, 30), (50, 30), (50, 40), (90, 40))) == (
        ((0, 30), (50, 30)),
        ((50, 30), (50, 40), (90, 40)),
    )
    assert convex_runs(((0, 40), (50, 40), (50, 30), (90, 30))) == (
        ((0, 40), (50, 40), (50, 30)),
        ((50, 30), (90, 30)),
    )


@given(
    st.lists(st.tuples(st.floats(0.0, 80.0), st.floats(2.0, 60.0)), min_size=1, max_size=7),
    st.floats(2.0, 60.0),
)
@example([(1.0, 2.0), (0.0, 2.0), (1.0, 2.0)], 3.0)
def test_any_profile_is_filled_once(steps: list[tuple[float, float]], base: float) -> None:
    profile = [(0.0, base)]
    for rise, radius in steps:
        rise = 0.0 if rise < 0.5 else rise
        profile.append((profile[-1][0] + rise, radius))
    if not 0.5 <= profile[-1][0] <= 600.0:
        return
    vessel = Vessel(id="v-1", profile=tuple(profile))
    assert measured(vessel) == pytest.approx(volume(tuple(profile)) * AROUND, rel=1e-6)


def test_no_point_of_the_true_circle_lies_outside() -> None:
    (solid,) = KIND.envelope(Vessel(id="v-1"), "vessel", {})
    outline = ConvexHull(solid.points()[:, :2])
    around = np.linspace(0, 2 * np.pi, 997)
    circle = 33.0 * np.column_stack([np.cos(around), np.sin(around)])
    assert (circle @ outline.equations[:, :2].T + outline.equations[:, 2]).max() <= 1e-9
    assert np.linalg.norm(solid.points()[:, :2], axis=1).max() <= 33.0 + solid.hull.facet_mm + 1e-9


def test_a_vessel_that_is_out_takes_no_room() -> None:
    vessel = Vessel(id="v-1", place=Place(z_mm=100.0))
    assert KIND.envelope(vessel, "vessel", {"place": "out"}) == ()
    assert KIND.envelope(vessel, "vessel", {"place": "in"})[0].points()[:, 2].min() == pytest.approx(100.0)


@pytest.mark.parametrize(
    "profile",
    [
        ((0, 30),),
        ((5, 30), (90, 30)),
        ((0, 30), (90, 30), (80, 30)),
        ((0, 30), (0, 20)),
        ((0, 0.5), (90, 30)),
        ((0, 30), (math.nan, 30)),
        ((0, 30), (700, 30)),
        ((0, math.inf), (100, 30)),
    ],
)
def test_a_profile_that_is_no_vessel_is_refused(profile: Profile) -> None:
    with pytest.raises(BadValue):
        Vessel(id="v-1", profile=profile)


def widest(key: str) -> float:
    return 2 * max(radius for _, radius in library_vessel(key).profile)


def tall(key: str) -> float:
    return library_vessel(key).profile[-1][0]


def test_the_can_is_the_measured_one_not_its_size_code() -> None:
    """Check value 4.02: 66.09 +- 0.18 across, 122.22 +- 0.38 high (can makers' manual), not 68.26 of code 211."""
    assert widest("can-355") == pytest.approx(66.09, abs=0.01)
    assert tall("can-355") == pytest.approx(122.22, abs=0.01)


def test_cups_follow_the_suppliers_list_with_a_lid_on_top() -> None:
    """Check value 4.04: 12 oz 90/56/115, 16 oz 90/56/136; a lid sits on the rim."""
    for key, height in (("paper-cup-12", 115), ("paper-cup-16", 136)):
        profile = library_vessel(key).profile
        assert profile[0] == (0.0, 28.0)
        slope = (profile[1][1] - profile[0][1]) / profile[1][0]
        assert slope == pytest.approx((45 - 28) / height, abs=1e-3)
        assert tall(key) > height
        assert "measure yours" in library_vessel(key).source
    assert library_vessel("open-cup-12").profile == ((0.0, 28.0), (115.0, 45.0))


def test_bottles_lie_inside_the_spans_people_meet() -> None:
    """Common practice, no source: 500 ml 63 to 67 by 205 to 235; 1 l 85 to 92 by 250 to 290."""
    assert 63 <= widest("bottle-500") <= 67
    assert 205 <= tall("bottle-500") <= 235
    assert 85 <= widest("bottle-1000") <= 92
    assert 250 <= tall("bottle-1000") <= 290
    # Check value 4.07: the thread of the neck is 27.4 mm across, so a cap over it is wider.
    for key in ("bottle-500", "bottle-1000"):
        assert 2 * library_vessel(key).profile[-1][1] > 27.4


def test_every_vessel_has_a_source_and_room_for_what_it_holds() -> None:
    keys = [vessel.key for vessel in library()]
    assert len(set(keys)) == len(keys) >= 8
    for vessel in library():
        assert vessel.source
        # It weighs no more than its outside filled with water, and a third for a thick wall.
        assert vessel.full_kg < volume(vessel.profile) * 1.3e-6


def test_a_vessel_of_the_library_can_be_placed() -> None:
    placed = vessel_of("bottle-500", "vessel-1", Place(x_mm=3.0), stands_in="cup-holder-1")
    assert (placed.id, placed.name, placed.stands_in) == ("vessel-1", "Bottle, 500 ml", "cup-holder-1")
    assert height_mm(placed) == tall("bottle-500")
    with pytest.raises(NoSuchThing):
        vessel_of("thimble", "vessel-2")


def test_steps_to_and_fro_at_one_height_hold_nothing() -> None:
    """Closed form: two cylinders on one another, whatever the outline does between them at one height."""
    plain = Vessel(id="v-1", profile=((0, 40), (50, 40), (50, 35), (90, 35)))
    stair = Vessel(id="v-1", profile=((0, 40), (50, 40), (50, 30), (50, 35), (90, 35)))
    assert measured(stair) == pytest.approx(measured(plain), rel=1e-9)
