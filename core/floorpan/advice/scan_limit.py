"""Room to a part of the scan, such as the dash: sampled over a block, from points laid over its surface."""

import math

import numpy as np
import trimesh
from scipy.spatial import cKDTree

from floorpan.advice.knob_limits import KnobLimit
from floorpan.advice.sampled_limit import field_limit, lost_mm
from floorpan.frames import Floats, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.progress import Step, Work

SPACING_MM = 8.0
LONGEST_EDGE_MM = 8.0
_MOST_SAMPLES = 500_000
_ROUNDS = 12
# The cosine to the normal from which a place is behind: beside an edge or over rough metal nothing is.
_STRAIGHT_BEHIND = 0.5
# So many corners in from its rim a surface may be ragged.
_RIM_CORNERS = 3


def scan_limit(
    name: str, surface: Mesh, low_mm: Vector, high_mm: Vector, radius_mm: float
) -> Work[KnobLimit | None]:
    """The gap between a ball about the hand and a surface in car axes, careful; None where no hand comes near it.

    low_mm, high_mm : corners of the box in which the hand's centre may be in any gear
    radius_mm       : of the ball about the hand's centre

    What lies straight behind the surface, against its normals, counts as filled: nobody moves a knob in there. Beside
    its open edge there is no behind. Never more than the true gap in front of it; less by 2 * lost_mm of the
    spacing and the edge's length over sqrt(3) at most: 18.5 mm, beside a flat wall half of that.
    """
    counts_mm = radius_mm + lost_mm(SPACING_MM) + 3.0 * SPACING_MM
    box = np.array([surface.points.min(axis=0), surface.points.max(axis=0)])
    low = np.maximum(np.asarray(low_mm, dtype=float), box[0] - counts_mm)
    high = np.minimum(np.asarray(high_mm, dtype=float), box[1] + counts_mm)
    if (low >= high).any():
        return None
    yield Step(0.0, f"Measuring to the {name}")
    spacing = max(SPACING_MM, (float(np.prod(high - low)) / _MOST_SAMPLES) ** (1.0 / 3.0))
    counts = np.ceil((high - low) / spacing).astype(int) + 2
    lines = [low[axis] + spacing * np.arange(counts[axis]) for axis in range(3)]
    laid, normals, rim = _laid_over(surface)
    tree = cKDTree(laid)
    values = np.empty(tuple(counts))
    for number, x in enumerate(lines[0]):
        yield Step(number / len(lines[0]), f"Measuring to the {name}")
        at = np.stack(np.meshgrid([x], lines[1], lines[2], indexing="ij"), axis=-1).reshape(-1, 3)
        away, nearest = tree.query(at, distance_upper_bound=counts_mm)
        found = np.isfinite(away)
        distances = np.full(len(at), counts_mm)
        held = nearest[found]
        facing = np.einsum("ij,ij->i", at[found] - laid[held], normals[held])
        behind = (facing < -_STRAIGHT_BEHIND * away[found]) & ~rim[held]
        distances[found] = np.where(behind, 0.0, away[found])
        values[number] = distances.reshape(counts[1], counts[2])
    return field_limit(
        name,
        (float(low[0]), float(low[1]), float(low[2])),
        spacing,
        _no_steeper(values, spacing),
        radius_mm,
        LONGEST_EDGE_MM / math.sqrt(3.0),
        # Out of the block the hand goes only where the surface is farther than counts_mm.
        whole_inside=True,
    )


def _laid_over(surface: Mesh) -> tuple[Floats, Floats, np.ndarray[tuple[int], np.dtype[np.bool_]]]:
    """Corners of the surface, no edge longer than LONGEST_EDGE_MM (N, 3), their normals, and which lie at its rim."""
    points, faces = trimesh.remesh.subdivide_to_size(
        surface.points, surface.faces, LONGEST_EDGE_MM, max_iter=_ROUNDS
    )
    # Subdivided faces do not share their corners.
    fine = trimesh.Trimesh(points, faces, process=True)
    edges = np.sort(fine.edges, axis=1)
    _, first, times = np.unique(edges, axis=0, return_index=True, return_counts=True)
    rim = np.zeros(len(fine.vertices), dtype=bool)
    rim[edges[first[times == 1]].ravel()] = True
    for _ in range(_RIM_CORNERS):
        rim[edges[rim[edges].any(axis=1)].ravel()] = True
    return np.asarray(fine.vertices), np.asarray(fine.vertex_normals), rim


def _no_steeper(values: Floats, spacing: float) -> Floats:
    """The samples lowered where a change of sides makes them jump by more than the way between them."""
    lowered = values.copy()
    for _ in range(max(values.shape)):
        before = lowered.copy()
        for axis in range(3):
            for forward in (True, False):
                line = np.moveaxis(lowered, axis, 0) if forward else np.moveaxis(lowered, axis, 0)[::-1]
                np.minimum(line[1:], line[:-1] + spacing, out=line[1:])
        if np.array_equal(before, lowered):
            break
    return lowered
