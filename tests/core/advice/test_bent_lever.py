"""A lever that is bent already: kept, lengthened, tilted with its box, or bent anew."""

import dataclasses
import math

import numpy as np
import pytest

from floorpan.advice.lever_for_knob import lever_for_knob
from floorpan.advice.lever_freedom import LeverFreedom
from floorpan.frames import Vector
from floorpan.items import Shifter
from floorpan.items.placing import Place
from floorpan.items.shifter_gate import gate_table, lever_rod, lever_states, pivot_pose

SHIFTER = Shifter(id="shifter-1", place=Place(x_mm=500.0, y_mm=10.0, z_mm=80.0))
NOTHING = LeverFreedom(length_free=False, bend_free=False, raise_free=False, tilt_free=False, move_free=False)


def only(**free: object) -> LeverFreedom:
    return dataclasses.replace(NOTHING, **free)  # type: ignore[arg-type]


def shifted(shifter: Shifter, *by: float) -> Vector:
    x, y, z = (float(v) for v in np.array(gate_table(shifter)[0].knob_mm) + by)
    return (x, y, z)


def bent_already() -> Shifter:
    answer = lever_for_knob(SHIFTER, shifted(SHIFTER, 50, 15, 0), only(bend_free=True, length_free=True))
    assert answer.bend is not None
    return answer.shifter


def test_a_bent_lever_whose_knob_is_where_it_shall_be_stays_as_it_is() -> None:
    bent = bent_already()
    answer = lever_for_knob(bent, shifted(bent, 0, 0, 0), LeverFreedom())
    assert answer.met
    assert answer.trouble == pytest.approx(0.0, abs=1e-6)
    assert answer.bend == answer.present.bend
    assert answer.readings.rod_mm == pytest.approx(answer.present.rod_mm)


def rods(shifter: Shifter) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Pivot, bend and knob in car axes."""
    state = lever_states(shifter)["N"]
    rod = lever_rod(shifter, state)
    assert rod is not None
    into = pivot_pose(shifter).after(state.turn())
    corners = into.apply(np.array([[0, 0, 0], rod.corner_mm, [0, 0, state.length_mm]], dtype=float))
    return corners[0], corners[1], corners[2]


def test_a_bent_lever_is_lengthened_along_its_upper_rod_and_keeps_its_lower_one() -> None:
    """By vectors: 30 mm more along the rod over the bend; the rod in the joint stands as it did."""
    bent = bent_already()
    pivot, corner, knob = rods(bent)
    up = (knob - corner) / np.linalg.norm(knob - corner)
    target = knob + 30.0 * up
    answer = lever_for_knob(bent, tuple(target.tolist()), only(length_free=True))
    assert answer.met
    assert answer.readings.rod_mm == pytest.approx(answer.present.rod_mm + 30.0)
    for one, other in zip(rods(answer.shifter), (pivot, corner, target), strict=True):
        np.testing.assert_allclose(one, other, atol=1e-5)
    assert answer.shifter.bend_deg == pytest.approx(bent.bend_deg)


def test_a_bent_lever_is_bent_anew_where_that_brings_the_knob_nearer() -> None:
    """The rod in the joint keeps its line: the new lever, made straight, would stand on the old straight one."""
    bent = bent_already()
    answer = lever_for_knob(bent, shifted(bent, -60, 0, -5), only(bend_free=True, length_free=True))
    assert answer.met
    assert answer.bend is None or answer.bend.deg != pytest.approx(bent.bend_deg)
    pivot, corner, _ = rods(bent)
    stick = (corner - pivot) / np.linalg.norm(corner - pivot)
    np.testing.assert_allclose(stick, lever_states(SHIFTER)["N"].stick(), atol=1e-6)
    if answer.bend is not None:
        pivot, corner, _ = rods(answer.shifter)
        np.testing.assert_allclose((corner - pivot) / np.linalg.norm(corner - pivot), stick, atol=1e-6)


def test_a_bent_lever_and_its_gate_turn_with_a_tilted_box() -> None:
    """Closed form: a turn about the foot carries the bend along."""
    bent = bent_already()
    tilt = math.radians(5.0)
    turn = np.array([[math.cos(tilt), 0, math.sin(tilt)], [0, 1, 0], [-math.sin(tilt), 0, math.cos(tilt)]])
    foot = np.array([500.0, 10.0, 80.0])
    wanted = [foot + turn @ (place - foot) for place in rods(bent)]
    answer = lever_for_knob(bent, tuple(wanted[2].tolist()), only(tilt_free=True))
    assert answer.met
    assert answer.tilt_deg == pytest.approx(5.0)
    for one, other in zip(rods(answer.shifter), wanted, strict=True):
        np.testing.assert_allclose(one, other, atol=1e-5)
