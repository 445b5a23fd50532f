"""The knob as a solid about its centre, its axis up: a ball, a cylinder, or a pear on its neck."""

import functools
import math

import numpy as np

from floorpan.frames import STILL, Pose
from floorpan.geometry.solids import Hull
from floorpan.items.lever import LeverState
from floorpan.items.shapes import orb
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import knob_at, lever_rod, pivot_pose

_SIDES = 32
_STEPS = 12


def knob_hull(shifter: Shifter) -> Hull:
    """The knob about its centre, its axis along Z.

    A cylinder's centre is half way along it, a pear's is that of the ball at its top; its skin runs straight from
    there to the neck. Facets lie outside the true shape; the hull tells by how much.
    """
    if shifter.knob == "cylinder":
        return cylinder_hull(shifter.knob_radius_mm, shifter.knob_length_mm)
    if shifter.knob == "pear":
        return pear_hull(shifter.knob_radius_mm, shifter.knob_length_mm, shifter.knob_neck_radius_mm)
    return orb(shifter.knob_radius_mm)


@functools.lru_cache(maxsize=256)
def cylinder_hull(radius_mm: float, length_mm: float) -> Hull:
    """A cylinder about the origin, Z its axis."""
    return _turned([(radius_mm, -length_mm / 2), (radius_mm, length_mm / 2)], 0.0)


@functools.lru_cache(maxsize=256)
def pear_hull(radius_mm: float, length_mm: float, neck_radius_mm: float) -> Hull:
    """The convex body of revolution about Z of a ball about the origin and a neck's circle under it.

    The neck's end lies length_mm under the top of the ball; one that lies within the ball adds nothing.
    """
    step = math.pi / _STEPS
    over = radius_mm / math.cos(step / 2)
    middles = [math.pi / 2 - (at + 0.5) * step for at in range(_STEPS)]
    profile = [(over * math.cos(angle), over * math.sin(angle)) for angle in middles]
    profile.append((neck_radius_mm, radius_mm - length_mm))
    return _turned(profile, over - radius_mm)


def farthest_mm(shifter: Shifter) -> float:
    """How far a point of the knob's undilated hull is from its centre at most [mm]; none of a ball."""
    return float(np.linalg.norm(knob_hull(shifter).points, axis=1).max())


def knob_turn(shifter: Shifter, state: LeverState) -> Pose:
    """From the knob's own axes into the car's: its axis lies along the rod that it sits on.

    A knob beside its lever stands parallel to the rod.
    """
    turn = STILL
    if shifter.knob != "sphere":
        bent = lever_rod(shifter, state)
        piece = STILL if bent is None else bent.lower if shifter.offset_mm else bent.upper
        turn = pivot_pose(shifter).after(state.turn()).after(piece)
    return Pose(rotation=turn.rotation, shift_mm=knob_at(shifter, state))


def _turned(profile: list[tuple[float, float]], outside_mm: float) -> Hull:
    """A profile of (radius, height) turned about Z, drawn around its true circles."""
    around = np.linspace(0.0, 2 * np.pi, _SIDES, endpoint=False)
    wider = 1.0 / math.cos(math.pi / _SIDES)
    circle = wider * np.column_stack([np.cos(around), np.sin(around)])
    rings = [np.column_stack([radius * circle, np.full(_SIDES, height)]) for radius, height in profile]
    widest = max(radius for radius, _ in profile)
    return Hull(np.vstack(rings), 0.0, outside_mm + widest * (wider - 1.0))
