"""How hard a corner a well holds a vessel to: closed forms, a flood over all places, friction, and what must not be."""

import heapq
import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from floorpan.items.cup_holder import CupHolder
from floorpan.items.finger_hold import MOST_G, Fingers, holds_with_fingers
from floorpan.items.lean_contacts import furthest, leaning, nearest
from floorpan.items.lean_path import MOST_LEAN_RAD, way
from floorpan.items.vessel_library import library, vessel_of
from floorpan.items.vessel_weight import weight
from floorpan.items.vessels import Profile
from floorpan.items.well_fit import well_fit
from floorpan.items.well_hold import Tilt, lean_rad_at, leaves_g, leaving_ratio, pulls
from floorpan.items.well_outline import WellOutline, well_outline


def cylinder(across: float, height: float = 200.0) -> Profile:
    return ((0.0, across / 2), (height, across / 2))


def straight(across: float, depth: float) -> WellOutline:
    return WellOutline(((0.0, across / 2), (depth, across / 2)))


@pytest.mark.parametrize(
    ("base", "top", "height", "centre", "ratio"),
    [
        (45, 61, 65, 35.74579, 0.629445),
        (56, 80, 90, 50.23973, 0.557328),
        (56, 90, 115, 66.26843, 0.422524),
        (56, 90, 136, 78.36962, 0.357281),
    ],
)
def test_a_well_without_depth_is_a_shelf(
    base: float, top: float, height: float, centre: float, ratio: float
) -> None:
    """Check value 4.11: a / g = r / h is what is left as the depth goes to nothing."""
    cup: Profile = ((0.0, base / 2), (height, top / 2))
    exact = base / 2 / centre
    assert exact == pytest.approx(ratio, abs=1e-6)
    assert leaving_ratio(cup, straight(base + 4, 1e-7), centre) == pytest.approx(exact, rel=1e-7)


@pytest.mark.parametrize("depth", [1.0, 5.0, 10.0, 20.0, 40.0])
def test_a_shallow_straight_well_holds_to_r_over_what_stands_over_it(depth: float) -> None:
    """Upright the vessel pivots on its corner while the mouth shifts it back: x of its centre grows by h - D for

    each radian, its height by r. In a loose shallow well that first moment is the hardest: a / g = r / (h - D).
    """
    found = leaving_ratio(cylinder(66), straight(89, depth), 100.0)
    assert found == pytest.approx(33 / (100 - depth), rel=1e-6)


def test_past_its_free_tilt_a_vessel_is_lifted_between_two_contacts() -> None:
    """Between far wall and mouth the base's raised corner is at D - (W cos t - d) / sin t; by hand from there

    the centre of gravity rises by (W - d cos t) / sin(t)**2 - r cos t - h sin t and goes aside by h cos t - r sin t.
    """
    wide, across, depth, centre = 76.0, 66.09, 70.0, 110.0
    radius = across / 2
    free = math.radians(8.662)

    def barrier(t: float) -> float:
        up = (wide - across * math.cos(t)) / math.sin(t) ** 2 - radius * math.cos(t) - centre * math.sin(t)
        return up / (centre * math.cos(t) - radius * math.sin(t))

    found = leaving_ratio(cylinder(across), straight(wide, depth), centre)
    # Check value 4.17 prints the free tilt to 0.001 degrees.
    assert found == pytest.approx(barrier(free), rel=2e-3)


def test_the_raised_corner_passes_the_mouth_where_it_must() -> None:
    """In a straight well that is at cos t = d / W."""
    lean = math.acos(66 / 89)
    gone = way(cylinder(66), straight(89, 50), np.array([lean]))
    assert float(gone.y_mm[0]) + 33 * math.sin(lean) == pytest.approx(50.0, abs=1e-6)


def test_a_vessel_whose_centre_lies_below_the_mouth_stays() -> None:
    assert leaving_ratio(cylinder(66), straight(80, 70), 60.0) == math.inf
    assert leaving_ratio(cylinder(66), straight(66, 30), 100.0) > 100.0


def test_a_tapered_wall_lets_a_vessel_slide_up() -> None:
    """A frictionless wall at b off upright is climbed at a / g = 1 / tan b, however low the centre of gravity."""
    well = WellOutline(((0.0, 36.0), (70.0, 46.0)))
    assert leaving_ratio(cylinder(66), well, 20.0) == pytest.approx(7.0, rel=1e-6)


WELLS = st.builds(
    lambda base, flare, depth: (base, base + flare, depth),
    st.floats(60.0, 90.0),
    st.floats(0.0, 8.0),
    st.floats(10.0, 90.0),
)


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from([vessel.key for vessel in library()]),
    st.floats(0.2, 30.0),
    st.floats(2.0, 80.0),
    st.floats(0.5, 30.0),
)
def test_a_deeper_straight_well_never_holds_less(key: str, room: float, depth: float, more: float) -> None:
    vessel = vessel_of(key, "v-1")
    across = 2 * max(radius for _, radius in vessel.profile) + room
    centre = weight(vessel).centre_mm
    shallow = leaving_ratio(vessel.profile, straight(across, depth), centre)
    deep = leaving_ratio(vessel.profile, straight(across, depth + more), centre)
    assert min(deep, 50.0) >= min(shallow, 50.0) * (1 - 2e-3)


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from([vessel.key for vessel in library()]), WELLS, st.floats(20.0, 150.0), st.floats(0.1, 30.0)
)
def test_a_higher_centre_of_gravity_never_holds_more(
    key: str, sizes: tuple[float, float, float], centre: float, more: float
) -> None:
    base, mouth, depth = sizes
    profile, well = vessel_of(key, "v-1").profile, WellOutline(((0.0, base / 2), (depth, mouth / 2)))
    low, high = leaving_ratio(profile, well, centre), leaving_ratio(profile, well, centre + more)
    assert min(high, 50.0) <= min(low, 50.0) * (1 + 5e-3) + 1e-6


def barrier_mm(profile: Profile, well: WellOutline, centre: float, ratio: float, count: int = 110) -> float:
    """Second way: how far the energy over the weight must rise on the easiest way out from where it comes to rest.

    A flood over a grid of leans and heights, each with the vessel as far towards the push as it goes; it knows
    nothing of the two-contact way but the height of its lowest point, put in so that the grid has it.
    """
    lean = np.linspace(1e-9, MOST_LEAN_RAD, count)
    section, mirrored = leaning(profile, lean), leaning(profile, -lean)
    over = float(np.max(-section.z.min(axis=1)))
    lowest = way(profile, well, lean)
    heights = np.linspace(0.0, well.top_mm + over, count)
    energy = np.full((count, count), np.inf)
    for column, height in enumerate(heights):
        y = np.full(count, height)
        right, left = furthest(section, well, y).at_mm, nearest(mirrored, well, y).at_mm
        goes = (y >= section.floor()[0] - 1e-9) & (right >= left - 1e-9) & np.isfinite(right)
        at = height + centre * np.cos(lean) - ratio * (np.where(goes, right, 0.0) + centre * np.sin(lean))
        energy[:, column] = np.where(np.isfinite(right), np.where(goes, at, np.inf), -np.inf)
    # At the last lean it lies over the edge.
    energy[-1] = -np.inf
    for row in range(count):
        column = int(np.searchsorted(heights, lowest.y_mm[row])) - 1
        if not lowest.out[row] and column >= 0 and np.isinf(energy[row, column]):
            y = lowest.y_mm[row : row + 1]
            right = float(furthest(leaning(profile, lean[row : row + 1]), well, y).at_mm[0])
            up, aside = centre * math.cos(lean[row]), centre * math.sin(lean[row])
            energy[row, column] = y[0] + up - ratio * (right + aside)
    along = [
        (row, int(np.flatnonzero(np.isfinite(energy[row]))[0]))
        for row in range(count)
        if np.isfinite(energy[row]).any()
    ]
    return _rise_to_get_out(energy, along)


Cell = tuple[int, int]


def _rise_to_get_out(energy: np.ndarray, along: list[Cell]) -> float:
    """Along: the cells of the lowest places, lean by lean; each lies beside the next however steep the way is."""
    beside: dict[Cell, list[Cell]] = {}
    for one, following in pairwise(along):
        beside.setdefault(one, []).append(following)
        beside.setdefault(following, []).append(one)

    def around(at: Cell) -> list[Cell]:
        rows, columns = energy.shape
        near = [
            (row, column)
            for row in range(max(at[0] - 1, 0), min(at[0] + 2, rows))
            for column in range(max(at[1] - 1, 0), min(at[1] + 2, columns))
        ]
        return near + beside.get(at, [])

    rest = along[0]
    while energy[least := min(around(rest), key=lambda at: energy[at])] < energy[rest]:
        if energy[least] == -np.inf:
            return 0.0
        rest = least
    queue, seen, level = [(energy[rest], rest)], set(), energy[rest]
    while queue:
        here, at = heapq.heappop(queue)
        if at in seen:
            continue
        seen.add(at)
        level = max(level, here)
        if here == -np.inf:
            return float(level - energy[rest])
        for one in around(at):
            if one not in seen and energy[one] < np.inf:
                heapq.heappush(queue, (energy[one], one))
    return math.inf


COMMON_WELLS = [
    CupHolder(id="h-1", mouth_mm=86, base_mm=74, depth_mm=50),
    CupHolder(id="h-1", mouth_mm=89, base_mm=80, depth_mm=60, step_mm=76, step_depth_mm=25),
]


@pytest.mark.parametrize("key", ["can-355", "can-500", "bottle-500", "paper-cup-16", "travel-mug"])
@pytest.mark.parametrize("holder", COMMON_WELLS, ids=["tapered", "stepped"])
def test_there_is_no_easier_way_out_than_the_one_between_two_contacts(key: str, holder: CupHolder) -> None:
    vessel, well = vessel_of(key, "v-1"), well_outline(holder)
    centre = weight(vessel).centre_mm
    ratio = leaving_ratio(vessel.profile, well, centre)
    assert 0.1 < ratio < 20.0
    for share in (0.5, 0.8):
        assert barrier_mm(vessel.profile, well, centre, share * ratio) > 0.0
    assert barrier_mm(vessel.profile, well, centre, 1.02 * ratio) == 0.0


@pytest.mark.parametrize("key", ["can-500", "bottle-500", "travel-mug"])
def test_a_vessel_that_rests_without_friction_rests_with_it(key: str) -> None:
    """Where it just rests without friction, two upright pushes of the contacts balance it. With friction at every

    contact the balance has more to choose from: the greatest push it can bear at the same lean is no less.
    Found by linear programming over the forces of every contact, each within its cone.
    """
    from scipy.optimize import linprog

    vessel, well = vessel_of(key, "v-1"), well_outline(COMMON_WELLS[0])
    centre = weight(vessel).centre_mm
    for lean in np.radians([2.0, 6.0, 12.0]):
        contacts = contacts_at(vessel.profile, well, float(lean))
        assert len(contacts) >= 2
        held = []
        for grip in (0.0, 0.1, 0.3):
            columns = []
            for (x, z), (nx, nz) in contacts:
                for side in (-grip, grip):
                    fx, fz = nx - side * nz, nz + side * nx
                    columns.append((fx, fz, x * fz - z * fx))
            cx, cz = centre * math.sin(lean), centre * math.cos(lean)
            # Forces and their moment about the middle of the base, the push last: balance under a weight of one.
            push = (1.0, 0.0, -cz)
            balance = np.array([*columns, push]).T
            found = linprog(
                [0.0] * len(columns) + [-1.0], A_eq=balance, b_eq=[0.0, 1.0, cx], bounds=(0.0, None)
            )
            held.append(-found.fun if found.status == 0 else math.inf if found.status == 3 else 0.0)
        assert all(more >= less - 1e-9 for less, more in pairwise(held))
        without = float(way(vessel.profile, well, np.array([lean])).y_by_lean[0])
        assert math.isfinite(without)


def contacts_at(
    profile: Profile, well: WellOutline, lean: float
) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """(place about the middle of the base, direction of the push on the vessel) of what touches at a lean.

    From the outlines drawn as polygons: every corner near the wall, every edge of the well near a side.
    """
    section = leaning(profile, np.array([lean]))
    y = way(profile, well, np.array([lean])).y_mm
    x = float(furthest(section, well, y).at_mm[0])
    points = np.column_stack([section.x[0] + x, section.z[0] + y[0]])
    found = []
    if points[:, 1].min() < 1e-6:
        low = points[points[:, 1].argmin()]
        found.append(((low[0] - x, low[1] - y[0]), (0.0, 1.0)))
    wall = np.array(well.wall)
    slope = (wall[-1, 1] - wall[0, 1]) / wall[-1, 0]
    length = math.hypot(1.0, slope)
    for px, pz in points:
        if pz < wall[-1, 0] and abs(abs(px) - (wall[0, 1] + slope * pz)) < 1e-6:
            side = math.copysign(1.0, px)
            found.append(((px - x, pz - y[0]), (-side / length, slope / length)))
    for side in (1.0, -1.0):
        edge = np.array([side * wall[-1, 1], wall[-1, 0]])
        for a, b in zip(points, np.roll(points, -1, axis=0), strict=True):
            along = (b - a) / max(float(np.linalg.norm(b - a)), 1e-12)
            normal = np.array([along[1], -along[0]])
            away = float((edge - a) @ normal)
            if abs(away) < 1e-6 and -1e-9 <= (edge - a) @ along <= np.linalg.norm(b - a) + 1e-9:
                inward = -normal if (points.mean(axis=0) - a) @ normal < 0 else normal
                found.append(((edge[0] - x, edge[1] - y[0]), (float(inward[0]), float(inward[1]))))
    return found


def test_half_the_weight_holds_half_the_corner() -> None:
    ratio = 0.66
    assert leaves_g(ratio, "cornering", unloaded_g=0.0) == pytest.approx(0.66)
    assert leaves_g(ratio, "braking", unloaded_g=0.5) == pytest.approx(0.33)
    assert leaves_g(ratio, "cornering", unloaded_g=1.0) == 0.0
    assert leaves_g(math.inf, "cornering") == math.inf


def test_a_holder_that_leans_holds_less_one_way() -> None:
    """In the plane of the lean the angles simply add up: tan(atan(a / g) + lean) is the leaving ratio."""
    ratio, lean = 0.66, 7.0
    expected = math.tan(math.atan(ratio) - math.radians(lean))
    sideways = Tilt(right_deg=lean)
    assert leaves_g(ratio, "cornering", unloaded_g=0.0, tilt=sideways) == pytest.approx(expected)
    # Across the lean it only takes away from what is left in both directions together.
    across = leaves_g(ratio, "braking", unloaded_g=0.0, tilt=sideways)
    assert expected < across < ratio
    push, into = pulls(across, "braking", unloaded_g=0.0, tilt=sideways)
    assert push / into == pytest.approx(ratio)
    assert leaves_g(ratio, "cornering", tilt=Tilt(right_deg=40.0)) == 0.0


@settings(max_examples=60, deadline=None)
@given(st.floats(0.05, 5.0), st.floats(-15.0, 15.0), st.floats(-15.0, 15.0), st.floats(0.0, 0.8))
def test_pull_and_leaving_agree_at_any_lean(ratio: float, back: float, right: float, unloaded: float) -> None:
    tilt = Tilt(back_deg=back, right_deg=right)
    found = leaves_g(ratio, "cornering", unloaded_g=unloaded, tilt=tilt)
    if not 0.0 < found < 50.0:
        return
    pushes = [pulls(sign * found, "cornering", unloaded_g=unloaded, tilt=tilt) for sign in (1.0, -1.0)]
    assert max(push / into if into > 0 else math.inf for push, into in pushes) == pytest.approx(
        ratio, rel=1e-6
    )


def test_an_upper_ring_holds_a_tall_bottle() -> None:
    bottle = vessel_of("bottle-500", "v-1")
    centre = weight(bottle).centre_mm
    plain = CupHolder(id="h-1", mouth_mm=86, base_mm=74, depth_mm=50)
    ringed = CupHolder(id="h-1", mouth_mm=86, base_mm=74, depth_mm=50, ring_mm=72, ring_over_mm=60)
    without = leaving_ratio(bottle.profile, well_outline(plain), centre)
    assert leaving_ratio(bottle.profile, well_outline(ringed), centre) > 2 * without


def test_a_ring_as_wide_as_the_well_is_a_deeper_well() -> None:
    """A straight vessel in a straight well cannot tell a ring from a wall that goes up to it."""
    deep = leaving_ratio(cylinder(66), straight(76, 90), 120.0)
    ringed = leaving_ratio(cylinder(66), WellOutline(((0.0, 38.0), (50.0, 38.0)), (90.0, 38.0)), 120.0)
    assert ringed == pytest.approx(deep, rel=1e-3)


def test_a_lower_step_lets_a_slim_can_lean_less() -> None:
    can = vessel_of("slim-can-250", "v-1")
    plain = CupHolder(id="h-1", mouth_mm=82, base_mm=82, depth_mm=60)
    stepped = CupHolder(id="h-1", mouth_mm=82, base_mm=82, depth_mm=60, step_mm=56, step_depth_mm=30)
    assert well_fit(stepped, can).sits_mm == 60.0
    assert well_fit(stepped, can).side_mm == pytest.approx(3.0)
    assert well_fit(stepped, can).free_tilt_deg < well_fit(plain, can).free_tilt_deg / 3
    # A can too wide for the step stands on its ledge.
    wide = vessel_of("can-355", "v-1")
    assert well_fit(stepped, wide).sits_mm == pytest.approx(30.0, abs=5.0)


@pytest.mark.parametrize("key", ["can-500", "bottle-500", "paper-cup-16", "travel-mug"])
def test_fingers_without_force_are_a_stiff_wall(key: str) -> None:
    """Two ways to the same: energies on a grid with springs of no force, and the exact two-contact way."""
    vessel, well = vessel_of(key, "v-1"), well_outline(COMMON_WELLS[0])
    at = weight(vessel)
    exact = leaving_ratio(vessel.profile, well, at.centre_mm)
    soft = Fingers(reach_mm=4.0, n_per_mm=1e-9)
    found = holds_with_fingers(vessel.profile, well, soft, at.kg, at.centre_mm, lambda a: (a, 1.0))
    assert found == pytest.approx(exact, rel=0.08)
    assert found <= exact * 1.02


def test_stiffer_fingers_hold_a_loose_bottle_harder() -> None:
    vessel, well = vessel_of("bottle-500", "v-1"), well_outline(COMMON_WELLS[0])
    at = weight(vessel)
    held = [
        holds_with_fingers(
            vessel.profile, well, Fingers(reach_mm=10.0, n_per_mm=k), at.kg, at.centre_mm, lambda a: (a, 1.0)
        )
        for k in (0.05, 0.3, 1.0)
    ]
    assert held == sorted(held)
    assert held[-1] > 1.5 * held[0]
    assert held[-1] <= MOST_G


def test_a_straight_vessel_is_pressed_aside_as_far_as_its_springs_give() -> None:
    """With its centre of gravity at the mouth the push works on the fingers alone: no lean, so it stays."""
    found = holds_with_fingers(
        cylinder(66), straight(80, 60), Fingers(reach_mm=7.0, n_per_mm=2.0), 0.5, 55.0, lambda a: (a, 1.0)
    )
    assert found == MOST_G


def test_a_loose_vessel_leans_as_a_corner_grows_and_is_out_at_last() -> None:
    profile, well = cylinder(66), straight(76, 70)
    assert lean_rad_at(profile, well, 110.0, 0.3) == 0.0
    leaning_by = lean_rad_at(profile, well, 110.0, 1.5)
    # Past what its base holds it leans up to its free tilt: check value 4.17 has 8.662 degrees for 66.09.
    assert math.degrees(leaning_by) == pytest.approx(8.7, abs=0.5)
    assert lean_rad_at(profile, well, 110.0, 99.0) == pytest.approx(math.pi / 2)
