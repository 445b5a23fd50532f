"""The room a knob, a lever or a hand passes through over the whole gate, as one closed mesh.

Each step of each leg is the hull of two poses, swollen by the sag r * (1 - cos(step / 2)) that the arc
between them bulges beyond the chord, so the mesh never lies inside the true sweep.
"""

import functools
import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import manifold3d
import numpy as np
import trimesh

from floorpan.frames import Floats
from floorpan.geometry.mesh import Mesh
from floorpan.items.knob_shapes import knob_hull, knob_turn
from floorpan.items.lever import NEUTRAL, LeverState, mixed, turned_by_deg
from floorpan.items.placing import no_such_part
from floorpan.items.shifter import axes
from floorpan.items.shifter_fields import Shifter
from floorpan.items.shifter_gate import lever_rod, lever_states, lever_way, pivot_pose

STEP_DEG = 2.0

_CUBE: Floats = np.array([[x, y, z] for x in (-1.0, 1.0) for y in (-1.0, 1.0) for z in (-1.0, 1.0)])

Core = Callable[[LeverState], Floats]


@dataclass(frozen=True, slots=True, eq=False)
class Sweep:
    """A closed mesh in car axes that holds the whole motion, and how far it may stand outside it [mm]."""

    mesh: Mesh
    outside_mm: float


def swept_part(shifter: Shifter, part_name: str, step_deg: float = STEP_DEG) -> Sweep:
    """The room the knob or the lever passes through over every leg; raises BadValue for other parts."""
    if part_name == "knob":
        hull = knob_hull(shifter)
        return _swept(shifter, (_knob_core(shifter),), hull.radius_mm, step_deg, hull.facet_mm)
    if part_name == "lever":
        return _swept(shifter, _pieces(shifter), shifter.lever_radius_mm, step_deg)
    raise no_such_part(part_name)


def swept_hand(shifter: Shifter, radius_mm: float, step_deg: float = STEP_DEG) -> Sweep:
    """The room a hand's ball of that radius about the knob passes through, the ring lifted for reverse."""
    return _swept(shifter, (_hand,), radius_mm, step_deg)


def sag_mm(a: LeverState, b: LeverState, core: Core) -> float:
    """How far any point's way from a to b bulges beyond the straight line between its ends, at most [mm].

    A turn by an angle bulges r * (1 - cos(angle / 2)); where the length changes as well, the way's second
    derivative adds change * angle / 4.
    """
    angle = math.radians(turned_by_deg(a, b))
    ends = np.linalg.norm(np.stack([core(a), core(b)]), axis=2)
    return float(ends.max()) * (1 - math.cos(angle / 2)) + float(np.abs(ends[1] - ends[0]).max()) * angle / 4


def _swept(
    shifter: Shifter, cores: tuple[Core, ...], radius_mm: float, step_deg: float, facet_mm: float = 0.0
) -> Sweep:
    # A core without a radius is swollen by its sag alone: a cube about the ball of that does.
    unit, swell = _round() if radius_mm else (_CUBE, 1.0)
    outside_by = swell if radius_mm else math.sqrt(3.0)
    hulls: dict[tuple[Core, LeverState, LeverState], manifold3d.Manifold] = {}
    outside = 0.0
    for core, (a, b) in itertools.product(cores, _steps(shifter, step_deg)):
        sag = sag_mm(a, b, core)
        # A still lever has no step; a ball of no size has no hull.
        skin = unit * max((radius_mm + sag) * swell, 1e-3)
        points = (np.vstack([core(a), core(b)])[:, None, :] + skin[None, :, :]).reshape(-1, 3)
        hulls[core, a, b] = manifold3d.Manifold.hull_points(np.ascontiguousarray(points))
        outside = max(outside, facet_mm + sag + (radius_mm + sag) * (outside_by - 1) + sag)
    whole = manifold3d.Manifold.batch_boolean(list(hulls.values()), manifold3d.OpType.Add).to_mesh64()
    points = np.asarray(whole.vert_properties, dtype=float)[:, :3]
    mesh = Mesh(pivot_pose(shifter).apply(points), np.asarray(whole.tri_verts).astype(np.int32))
    return Sweep(mesh, outside)


def _steps(shifter: Shifter, step_deg: float) -> list[tuple[LeverState, LeverState]]:
    """Pairs of neighbouring states over every leg; a stretch that two legs share comes once."""
    pieces: dict[tuple[LeverState, LeverState], None] = {}
    for a, b in axes(shifter)[0].legs:
        for piece in lever_way(shifter, a, b).pieces():
            pieces[piece] = None
    found = []
    for start, end in pieces:
        count = max(1, math.ceil(turned_by_deg(start, end) / step_deg))
        states = [mixed(start, end, index / count) for index in range(count + 1)]
        found += list(itertools.pairwise(states))
    return found


@functools.cache
def _round() -> tuple[Floats, float]:
    """A fine ball's corners (K, 3) on the unit sphere, and how much to swell it until it holds the sphere."""
    made = trimesh.creation.icosphere(subdivisions=3)
    corners = np.asarray(made.vertices, dtype=float)
    corners = corners / np.linalg.norm(corners, axis=1)[:, None]
    faces = corners[np.asarray(made.faces)]
    normals = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
    normals = normals / np.linalg.norm(normals, axis=1)[:, None]
    return corners, 1.0 / float(np.abs(np.einsum("ij,ij->i", normals, faces[:, 0])).min())


def _pieces(shifter: Shifter) -> tuple[Core, ...]:
    """The straight pieces of the lever over its boot, each by its two ends."""

    def piece(state: LeverState, low_mm: float, high_mm: float) -> Floats:
        bent = lever_rod(shifter, state)
        if bent is None:
            ends = np.array([[min(low_mm, state.length_mm)], [state.length_mm]])
            return np.asarray(ends * state.stick(), dtype=float)
        return state.turn().apply(np.array([bent.at(low_mm), bent.at(high_mm)]))

    def corner_mm(state: LeverState) -> float:
        bent = lever_rod(shifter, state)
        return max(bent.under_mm, boot) if bent is not None else boot

    boot = shifter.boot_mm
    if lever_rod(shifter, lever_states(shifter)[NEUTRAL]) is None:
        return (lambda state: piece(state, boot, math.inf),)
    return (
        lambda state: piece(state, boot, corner_mm(state)),
        lambda state: piece(state, corner_mm(state), math.inf),
    )


def _knob_core(shifter: Shifter) -> Core:
    """The knob's undilated hull from the pivot, in the shifter's axes."""
    hull, into = knob_hull(shifter), pivot_pose(shifter).inverse()
    return lambda state: into.after(knob_turn(shifter, state)).apply(hull.points)


def _hand(state: LeverState) -> Floats:
    return np.asarray(state.stick() * (state.length_mm + state.lift_mm), dtype=float)[None, :]
