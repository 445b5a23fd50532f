"""Swept rooms: they hold every sampled pose, by no more than they promise."""

import math
from typing import Any

import igl
import numpy as np
import pytest
import trimesh

from floorpan.errors import BadValue
from floorpan.items.knob_point import KnobPoint
from floorpan.items.lever import LeverState
from floorpan.items.placing import Place
from floorpan.items.shifter import KIND
from floorpan.items.shifter_fields import Shifter
from floorpan.items.sweep import Sweep, sag_mm, swept_hand, swept_part

SHIFTER = Shifter(
    id="s-1", gears=3, place=Place(x_mm=400.0, y_mm=10.0, z_mm=50.0, turn_deg=5.0), ring_lift_mm=18.0
)


def closed(sweep: Sweep) -> trimesh.Trimesh:
    mesh = trimesh.Trimesh(sweep.mesh.points, sweep.mesh.faces, process=False)
    assert mesh.is_watertight
    assert mesh.volume > 0
    return mesh


def depth_of(mesh: trimesh.Trimesh, points: Any) -> np.ndarray:
    """How deep points lie inside a closed mesh (libigl's signed distance)."""
    found = igl.signed_distance(
        np.asarray(points, dtype=float), np.asarray(mesh.vertices), np.asarray(mesh.faces)
    )
    return -np.asarray(found[0])


def cores(part: str, count: int) -> tuple[np.ndarray, float]:
    """The part's core at evenly spaced shares of every leg, as segments (N, 2, 3), and its radius."""
    found: list[np.ndarray] = []
    radius = 0.0
    for a, b in KIND.axes(SHIFTER)[0].legs:
        for share in np.linspace(0, 1, count):
            (solid,) = KIND.envelope_between(SHIFTER, part, {}, "gear", a, b, float(share))
            radius = solid.hull.radius_mm
            found.append(solid.points()[[0, -1]])
    return np.array(found), radius


def to_segments(at: np.ndarray, segments: np.ndarray) -> float:
    """Least distance of a point to segments (N, 2, 3)."""
    start, along = segments[:, 0], segments[:, 1] - segments[:, 0]
    square = np.maximum(np.einsum("ij,ij->i", along, along), 1e-12)
    share = np.clip(np.einsum("ij,ij->i", at - start, along) / square, 0.0, 1.0)
    return float(np.linalg.norm(start + share[:, None] * along - at, axis=1).min())


@pytest.mark.parametrize("part", ["knob", "lever"])
def test_every_sampled_pose_lies_inside_and_not_far_inside(part: str) -> None:
    sweep = swept_part(SHIFTER, part, step_deg=3.0)
    mesh = closed(sweep)
    segments, radius = cores(part, 23)
    shares = np.linspace(0, 1, 9)[:, None]
    centres = np.vstack([start + shares * (end - start) for start, end in segments])
    # A ball lies inside where its centre is a radius deep.
    assert depth_of(mesh, centres).min() >= radius - 1e-6
    # And the other way round: no corner of the mesh is farther from the true sweep than promised. Looks lie
    # at most 80 mm / 480 = 0.17 mm apart, which adds less than half of that.
    fine, _ = cores(part, 481)
    farthest = max(to_segments(corner, fine) for corner in sweep.mesh.points[::11])
    assert farthest - radius <= sweep.outside_mm + 0.05
    assert sweep.outside_mm < 0.5


def test_a_hand_sweeps_up_to_the_raised_ring() -> None:
    sweep = swept_hand(SHIFTER, 55.0, step_deg=3.0)
    mesh = closed(sweep)
    centres = np.array(
        [
            grip.at_mm
            for a, b in KIND.axes(SHIFTER)[0].legs
            for share in np.linspace(0, 1, 17)
            for grip in KIND.grips_between(SHIFTER, {}, "gear", a, b, float(share))
        ]
    )
    assert depth_of(mesh, centres).min() >= 55.0 - 1e-6


def state(fore: float, length: float = 240.0) -> LeverState:
    return LeverState(fore_deg=fore, side_deg=0.0, length_mm=length)


def knob(at: LeverState) -> np.ndarray:
    return np.array([at.stick() * at.length_mm])


def test_the_sag_of_an_arc() -> None:
    """r (1 - cos(step / 2)): 28 degrees on 274 mm in 8 steps bulge 0.128 mm."""
    assert sag_mm(state(0, 274), state(28 / 8, 274), knob) == pytest.approx(0.128, abs=5e-4)


@pytest.mark.parametrize("change", [0.0, 12.0, -12.0])
def test_no_way_bulges_beyond_its_sag(change: float) -> None:
    """Second way: the way sampled 400 times against its chord."""
    a, b = state(3, 240), state(9, 240 + change)
    shares = np.linspace(0, 1, 401)
    way = np.array(
        [knob(LeverState(fore_deg=3 + 6 * s, side_deg=0, length_mm=240 + change * s))[0] for s in shares]
    )
    chord = way[0] + shares[:, None] * (way[-1] - way[0])
    assert np.linalg.norm(way - chord, axis=1).max() <= sag_mm(a, b, knob) + 1e-9
    assert sag_mm(a, b, knob) < 0.7


def test_finer_steps_take_less_room() -> None:
    coarse, fine = (closed(swept_part(SHIFTER, "knob", step)) for step in (6.0, 2.0))
    assert fine.volume < coarse.volume
    # The tube of one straight gate of arcs is at least the ball and the tube of one throw.
    throw = 240 * math.radians(12)
    assert fine.volume > 4 / 3 * math.pi * 24**3 + math.pi * 24**2 * throw


def test_typed_knobs_are_swept_too() -> None:
    typed = Shifter(id="s-1", gears=3, knobs=(KnobPoint(gear="2", x_mm=120.0, y_mm=-30.0, z_mm=255.0),))
    mesh = closed(swept_part(typed, "knob", step_deg=4.0))
    assert depth_of(mesh, [[120.0, -30.0, 255.0]])[0] >= 24.0 - 1e-6


def test_a_box_sweeps_nothing() -> None:
    with pytest.raises(BadValue):
        swept_part(SHIFTER, "box")
