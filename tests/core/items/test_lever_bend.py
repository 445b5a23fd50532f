"""A bent lever: its corner by vectors and by the cosine rule, the body that is drawn and checked, its opening."""

import dataclasses
import math

import igl
import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import BadValue
from floorpan.geometry.solids import Body
from floorpan.items.lever_bend import bent_rod
from floorpan.items.opening import opening_gap
from floorpan.items.placing import Place
from floorpan.items.shifter import KIND
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import gate_table, lever_rod, lever_states, lever_way, pivot_pose
from floorpan.items.sweep import swept_part

STRAIGHT = Shifter(id="shifter-1", place=Place(x_mm=500.0, y_mm=10.0, z_mm=80.0, turn_deg=15.0))
BENT = dataclasses.replace(STRAIGHT, bend_deg=25.0, bend_turn_deg=30.0, bend_mm=140.0)
"""Bent over its boot, so that both pieces are in sight."""


def ends(body: Body) -> list[np.ndarray]:
    return [solid.points() for solid in body]


@given(
    length=st.floats(60.0, 700.0),
    share=st.floats(0.01, 0.99),
    bend=st.floats(0.1, 60.0),
    turn=st.floats(-180.0, 180.0),
)
def test_the_triangle_of_a_bent_rod(length: float, share: float, bend: float, turn: float) -> None:
    """Cosine rule and plain vectors: both pieces have their lengths, the angle between them is the bend."""
    rod = bent_rod(length, bend, share * length, turn)
    corner, knob = np.array(rod.corner_mm), np.array([0.0, 0.0, length])
    assert np.linalg.norm(corner) == pytest.approx(rod.under_mm) == pytest.approx(share * length)
    assert np.linalg.norm(knob - corner) == pytest.approx(rod.over_mm)
    inner = math.pi - math.radians(bend)
    law = math.hypot(rod.under_mm, rod.over_mm) ** 2 - 2 * rod.under_mm * rod.over_mm * math.cos(inner)
    assert law == pytest.approx(length**2)
    upward = corner / np.linalg.norm(corner), (knob - corner) / rod.over_mm
    cross = np.linalg.norm(np.cross(*upward))
    assert math.degrees(math.atan2(cross, float(upward[0] @ upward[1]))) == pytest.approx(bend, abs=1e-5)
    # The upper piece goes where it is told to: the corner stands off the other way.
    away = np.array([math.cos(math.radians(turn)), math.sin(math.radians(turn))])
    assert float(corner[:2] @ away) == pytest.approx(-np.linalg.norm(corner[:2]), abs=1e-6)


def test_a_bend_at_the_pivot_or_of_nothing_is_a_straight_lever() -> None:
    for field in ("bend_deg", "bend_mm"):
        shifter = dataclasses.replace(BENT, **{field: 0.0})
        assert lever_rod(shifter, lever_states(shifter)["N"]) is None
        assert KIND.envelope(shifter, "lever", {})[0].hull is KIND.envelope(STRAIGHT, "lever", {})[0].hull


def test_a_bend_leaves_every_knob_where_it_is() -> None:
    assert gate_table(BENT) == gate_table(STRAIGHT)
    assert KIND.motion_mm(BENT, "knob", "gear", "N", "3") == KIND.motion_mm(
        STRAIGHT, "knob", "gear", "N", "3"
    )


@pytest.mark.parametrize("gear", ["N", "1", "4", "R"])
def test_the_bent_lever_is_drawn_as_two_rods_from_boot_to_knob(gear: str) -> None:
    """By vectors: the pieces meet at the bend, the first begins so far along the rod as the boot covers it."""
    lower, upper = ends(KIND.envelope(BENT, "lever", {"gear": gear}))
    pivot = np.array(pivot_pose(BENT).shift_mm)
    [knob] = [np.array(place.knob_mm) for place in gate_table(BENT) if place.gear == gear]
    np.testing.assert_allclose(lower[1], upper[0], atol=1e-9)
    np.testing.assert_allclose(upper[1], knob, atol=1e-9)
    assert np.linalg.norm(lower[1] - pivot) == pytest.approx(140.0)
    assert np.linalg.norm(lower[0] - pivot) == pytest.approx(90.0)
    assert np.linalg.norm(np.cross(lower[0] - pivot, lower[1] - pivot)) == pytest.approx(0.0, abs=1e-6)


def test_a_bend_under_the_boot_shows_only_the_upper_rod() -> None:
    """What the boot covers is counted along the rod."""
    hidden = dataclasses.replace(BENT, bend_mm=50.0)
    [piece] = ends(KIND.envelope(hidden, "lever", {}))
    rod = lever_rod(hidden, lever_states(hidden)["N"])
    assert rod is not None
    assert np.linalg.norm(piece[1] - piece[0]) == pytest.approx(rod.length_mm - 90.0)
    covered = dataclasses.replace(hidden, boot_mm=500.0)
    [ball] = ends(KIND.envelope(covered, "lever", {}))
    np.testing.assert_allclose(ball, np.array([gate_table(covered)[0].knob_mm] * 2), atol=1e-9)


def test_the_upper_rod_goes_rearward_and_right_of_the_lower_one() -> None:
    upright = dataclasses.replace(BENT, place=Place(), lean_deg=0.0)
    lower, upper = ends(KIND.envelope(upright, "lever", {}))
    x, y, _ = (upper[1] - upper[0]) / np.linalg.norm(upper[1] - upper[0]) - (
        lower[1] - lower[0]
    ) / np.linalg.norm(lower[1] - lower[0])
    assert math.degrees(math.atan2(y, x)) == pytest.approx(30.0)


def test_no_point_of_the_bent_lever_travels_farther_than_told() -> None:
    """Sampled: the bound that the moving checks step by holds for the corner too."""
    for gear in ("1", "5", "R"):
        bound = KIND.motion_mm(BENT, "lever", "gear", "N", gear)
        shares = np.linspace(0.0, 1.0, 33)
        bodies = [
            np.concatenate(ends(KIND.envelope_between(BENT, "lever", {}, "gear", "N", gear, float(share))))
            for share in shares
        ]
        for share, other, one, two in zip(shares, shares[1:], bodies, bodies[1:], strict=False):
            travelled = float(np.linalg.norm(two - one, axis=1).max())
            assert travelled <= bound * (other - share) + 1e-9


def test_the_opening_of_a_bent_lever_by_marching_along_its_skin() -> None:
    """Lines on the skin of each rod, cut at the opening's height: no ellipse is used."""
    shifter = dataclasses.replace(BENT, place=Place(), opening_mm=165.0)
    for gear in ("N", "2", "5"):
        state = lever_states(shifter)[gear]
        rod = lever_rod(shifter, state)
        assert rod is not None
        corners = state.turn().apply(
            np.array([[0, 0, 0], rod.corner_mm, [0, 0, state.length_mm]], dtype=float)
        )
        height = shifter.opening_mm - shifter.pivot_mm
        one, two = corners[:2] if corners[1][2] >= height else corners[1:]
        along = (two - one) / np.linalg.norm(two - one)
        across = np.cross(along, [0.3, 0.9, 0.1])
        across /= np.linalg.norm(across)
        angles = np.linspace(0, 2 * np.pi, 3601)[:, None]
        start = one + shifter.lever_radius_mm * (
            np.cos(angles) * across + np.sin(angles) * np.cross(along, across)
        )
        skin = start + ((height - start[:, 2]) / along[2])[:, None] * along
        room = np.array([shifter.opening_length_mm, shifter.opening_width_mm]) / 2 - np.abs(skin[:, :2])
        assert opening_gap(shifter, gear) == pytest.approx(float(room.min()), abs=1e-3)


def test_the_sweep_of_a_bent_lever_holds_it_everywhere_and_nothing_between_its_rods() -> None:
    """libigl's signed distance: both rods lie a radius inside the closed mesh, the middle of their chord outside."""
    sharp = dataclasses.replace(
        BENT,
        bend_deg=60.0,
        bend_turn_deg=0.0,
        lever_radius_mm=4.0,
        throw_deg=2.0,
        plane_deg=1.0,
        boot_mm=20.0,
    )
    swept = swept_part(sharp, "lever", step_deg=4.0)
    mesh = trimesh.Trimesh(swept.mesh.points, swept.mesh.faces, process=False)
    assert mesh.is_watertight
    inside = []
    for gear in ("1", "4", "R"):
        for share in (0.0, 0.3, 0.8, 1.0):
            state = lever_way(sharp, "N", gear).at(share)
            rod = lever_rod(sharp, state)
            assert rod is not None
            places = [rod.at(along) for along in np.linspace(20.0, rod.length_mm, 12)]
            inside.append(pivot_pose(sharp).after(state.turn()).apply(np.array(places)))
    depth = -igl.signed_distance(np.concatenate(inside), swept.mesh.points, swept.mesh.faces)[0]
    assert depth.min() >= sharp.lever_radius_mm - 1e-6
    neutral = lever_states(sharp)["N"]
    rod = lever_rod(sharp, neutral)
    assert rod is not None
    between = (np.array(rod.at(20.0)) + np.array(rod.at(rod.length_mm))) / 2
    there = pivot_pose(sharp).after(neutral.turn()).apply(between[None, :])
    assert igl.signed_distance(there, swept.mesh.points, swept.mesh.faces)[0][0] > 0.0


def test_a_bend_over_the_knob_is_refused_with_a_remedy() -> None:
    with pytest.raises(BadValue, match="leave the lever straight") as told:
        dataclasses.replace(BENT, bend_mm=240.0)
    assert told.value.code == "bend-over-knob"
    assert dataclasses.replace(STRAIGHT, bend_mm=400.0).bend_mm == 400.0
