"""Knobs as solids, held to outlines of a geometry library; a knob beside its lever, in closed form."""

import dataclasses
import itertools
import math

import igl
import numpy as np
import pytest
import shapely
from scipy.spatial import ConvexHull

from floorpan.advice.lever_for_knob import lever_for_knob
from floorpan.advice.lever_freedom import usual_freedom
from floorpan.advice.lever_sums import bend_of, lever_readings
from floorpan.errors import BadValue
from floorpan.items import Shifter, gate_table, opening_gap
from floorpan.items.knob_shapes import cylinder_hull, knob_hull, pear_hull
from floorpan.items.placing import Place
from floorpan.items.shifter import KIND
from floorpan.items.shifter_gate import lever_rod, lever_states, pivot_pose
from floorpan.items.sweep import swept_part

PEAR = Shifter(
    id="shifter-1", knob="pear", knob_radius_mm=24.0, knob_length_mm=70.0, knob_neck_radius_mm=12.0
)
CYLINDER = dataclasses.replace(PEAR, knob="cylinder")
BESIDE = Shifter(id="shifter-1", offset_mm=45.0, offset_turn_deg=90.0)


def outline(radius: float, length: float, neck: float) -> shapely.Geometry:
    """A pear's true profile, both halves, as the hull of a fine circle and the neck's ends."""
    low = radius - length
    return shapely.union(
        shapely.Point(0, 0).buffer(radius, quad_segs=4000), shapely.LineString([(-neck, low), (neck, low)])
    ).convex_hull


@pytest.mark.parametrize(
    ("radius", "length", "neck"), [(24, 70, 12), (30, 64, 30), (20, 120, 5), (24, 40, 3), (25, 30, 25)]
)
def test_a_pear_holds_its_ball_and_neck_and_stands_out_no_more_than_it_says(
    radius: float, length: float, neck: float
) -> None:
    hull, true = pear_hull(radius, length, neck), outline(radius, length, neck)
    away = [true.distance(shapely.Point(math.hypot(x, y), z)) for x, y, z in hull.points]
    assert max(away) <= hull.facet_mm + 1e-6
    assert hull.facet_mm < 0.02 * radius
    planes = ConvexHull(hull.points).equations
    ring = np.array(true.exterior.coords)[::37]
    for turn in np.linspace(0.0, 2 * np.pi, 29):
        skin = np.column_stack([ring[:, 0] * np.cos(turn), ring[:, 0] * np.sin(turn), ring[:, 1]])
        assert (skin @ planes[:, :3].T + planes[:, 3]).max() <= 1e-3, "the true knob lies inside"


def test_a_cylinder_is_round_its_circle_by_what_it_says() -> None:
    hull = cylinder_hull(20.0, 60.0)
    reach = np.linalg.norm(hull.points[:, :2], axis=1)
    assert reach.max() - 20.0 == pytest.approx(hull.facet_mm)
    assert 20.0 * (1 / math.cos(math.pi / 32) - 1) == pytest.approx(hull.facet_mm)
    assert {round(float(z), 9) for z in hull.points[:, 2]} == {-30.0, 30.0}
    area = ConvexHull(hull.points[hull.points[:, 2] > 0][:, :2]).volume
    # A polygon about a circle: n r^2 tan(pi / n).
    assert area == pytest.approx(32 * 400 * math.tan(math.pi / 32))


@pytest.mark.parametrize("shifter", [PEAR, CYLINDER])
def test_a_shaped_knob_stands_along_its_lever(shifter: Shifter) -> None:
    turned = dataclasses.replace(shifter, place=Place(x_mm=200.0, turn_deg=30.0))
    for gear, state in lever_states(turned).items():
        (knob,) = KIND.envelope(turned, "knob", {"gear": gear})
        axis = np.array(knob.pose.apply(np.array([[0, 0, 0], [0, 0, 1.0]])))
        stick = turned.place.pose().apply(state.stick()) - turned.place.pose().apply(np.zeros(3))
        np.testing.assert_allclose(axis[1] - axis[0], stick, atol=1e-9)
        at = next(place.knob_mm for place in gate_table(turned) if place.gear == gear)
        np.testing.assert_allclose(axis[0], at, atol=1e-9)


@pytest.mark.parametrize("shifter", [PEAR, CYLINDER, dataclasses.replace(PEAR, offset_mm=40.0)])
def test_no_corner_of_a_shaped_knob_travels_farther_than_its_motion_says(shifter: Shifter) -> None:
    for gear in ("1", "R"):
        told = KIND.motion_mm(shifter, "knob", "gear", "N", gear)
        at = [
            KIND.envelope_between(shifter, "knob", {}, "gear", "N", gear, share)[0].points()
            for share in np.linspace(0.0, 1.0, 201)
        ]
        steps = [np.linalg.norm(b - a, axis=1).max() for a, b in itertools.pairwise(at)]
        assert max(steps) * 200 <= told + 1e-9


@pytest.mark.parametrize("shifter", [PEAR, CYLINDER])
def test_what_a_shaped_knob_sweeps_holds_it_on_its_way(shifter: Shifter) -> None:
    """Depth by libigl's signed distance."""
    mesh = swept_part(shifter, "knob", step_deg=4.0).mesh
    for (a, b), share in itertools.product(KIND.axes(shifter)[0].legs, (0.13, 0.5, 1.0)):
        points = KIND.envelope_between(shifter, "knob", {}, "gear", a, b, share)[0].points()
        found = igl.signed_distance(np.asarray(points), np.asarray(mesh.points), np.asarray(mesh.faces))
        assert np.asarray(found[0]).max() <= 1e-6


def test_a_knob_beside_its_lever_is_where_it_was_and_its_rod_is_not() -> None:
    """A right triangle: rod sqrt(L^2 - o^2) from the pivot, then o square across to the knob."""
    plain = Shifter(id="shifter-1")
    assert [one.knob_mm for one in gate_table(BESIDE)] == [one.knob_mm for one in gate_table(plain)]
    for gear, state in lever_states(BESIDE).items():
        rod = lever_rod(BESIDE, state)
        assert rod is not None
        assert rod.under_mm == pytest.approx(math.sqrt(240.0**2 - 45.0**2))
        assert rod.over_mm == pytest.approx(45.0)
        low, across = KIND.envelope(BESIDE, "lever", {"gear": gear})
        corner, knob = across.points()
        pivot = np.array(pivot_pose(BESIDE).shift_mm)
        assert math.dist(corner, pivot) == pytest.approx(rod.under_mm)
        assert float((corner - pivot) @ (knob - corner)) == pytest.approx(0.0, abs=1e-6)
        np.testing.assert_allclose(knob, KIND.grips(plain, {"gear": gear})[0].at_mm, atol=1e-9)
        np.testing.assert_allclose(low.points()[1], corner, atol=1e-9)
        assert knob[1] > corner[1], "set to the right"


def test_a_shaped_knob_beside_its_lever_stands_parallel_to_the_rod() -> None:
    beside = dataclasses.replace(BESIDE, knob="cylinder")
    (knob,) = KIND.envelope(beside, "knob", {"gear": "3"})
    low = KIND.envelope(beside, "lever", {"gear": "3"})[0].points()
    axis = np.asarray(knob.pose.rotation).reshape(3, 3)[:, 2]
    np.testing.assert_allclose(axis, (low[1] - low[0]) / np.linalg.norm(low[1] - low[0]), atol=1e-9)


def test_the_opening_of_an_offset_lever_in_closed_form() -> None:
    """Upright: the rod leans by asin(o / L) to the left of the line to the knob."""
    upright = dataclasses.replace(BESIDE, lean_deg=0.0, opening_length_mm=400.0, opening_width_mm=120.0)
    lean = math.asin(45.0 / 240.0)
    expected = 60.0 - 65.0 * math.tan(lean) - 6.5 / math.cos(lean)
    assert opening_gap(upright, "N") == pytest.approx(expected)


def test_what_lever_a_knob_needs_keeps_the_offset() -> None:
    target = tuple(np.add(gate_table(BESIDE)[0].knob_mm, (20.0, 0.0, 15.0)).tolist())
    answer = lever_for_knob(BESIDE, target, usual_freedom(BESIDE))
    plain = lever_for_knob(
        Shifter(id="shifter-1"), target, dataclasses.replace(usual_freedom(BESIDE), bend_free=False)
    )
    assert answer.shifter.offset_mm == 45.0
    assert answer.readings.knob_mm == pytest.approx(plain.readings.knob_mm)
    assert bend_of(answer.shifter) is None
    assert lever_readings(BESIDE).rod_mm == pytest.approx(math.sqrt(240.0**2 - 45.0**2) + 45.0)


def test_measures_that_leave_no_lever_are_refused() -> None:
    with pytest.raises(BadValue, match="no lever"):
        Shifter(id="s-1", lever_mm=80.0, offset_mm=90.0)
    with pytest.raises(BadValue, match="not both"):
        dataclasses.replace(BESIDE, bend_deg=20.0, bend_mm=100.0)
    assert knob_hull(Shifter(id="s-1")).radius_mm == 24.0
