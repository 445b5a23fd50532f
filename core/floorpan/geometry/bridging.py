"""Patches over a hole, flat or following the surface around it, and how far either may be from the truth.

Nobody saw what is in the hole. What can be told is how the surface around it bends: a quadric fitted to it, drawn on
over the hole, leaves a flat patch by its sagitta even where the rim itself lies in a plane, as on a dome.
"""

import itertools
import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.spatial import cKDTree

from floorpan.geometry.fit import fit_plane
from floorpan.geometry.holes import longest_span
from floorpan.geometry.mesh import Floats, Ints, Mesh
from floorpan.geometry.polygons import cut_polygon, newell, plane_axes

_LEAST_AROUND = 12
_MOST_AROUND = 4000
_MOST_RINGS = 12


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A patch over one hole, running as the faces around it.

    points : (P, 3) new points [mm]; faces : (T, 3) numbers of the mesh's points, then of the new ones
    bow_mm : how far the rim leaves its best-fit plane, at most
    sag_mm : how far the surface around the hole, drawn on over it, leaves the flat patch, at most
    rough_mm : root mean square of what the surface around leaves of its quadric
    u_mm   : half-width of what the patch may be off by
    shape  : flat where a curved one was wanted but the rim folds over itself
    """

    points: Floats
    faces: Ints
    bow_mm: float
    sag_mm: float
    rough_mm: float
    u_mm: float
    shape: Literal["flat", "curved"]


def patch_over(mesh: Mesh, loop: Ints, shape: Literal["flat", "curved"]) -> Patch:
    """A patch over a loop (K,) of point numbers, scanned faces on its left.

    u_mm of a flat patch: bow, sagitta and twice the roughness; of a curved one half the sagitta instead of all of
    it, and how far the rim leaves the quadric instead of the bow. Common practice, no source: a hole may hide more.
    """
    rim = loop[::-1]
    line = mesh.points[rim]
    cut, clean = cut_polygon(line)
    around = _Around(mesh, line)
    bow = float(np.abs(fit_plane(line).residual_mm).max())
    local = around.local(line)
    off_rim = float(np.abs(local[:, 2] - around.height(local)).max())
    sag = around.sag(local[cut])
    if shape == "flat" or not _seen_from_middle(local):
        faces, points = rim[cut], np.zeros((0, 3))
        u = bow + sag + 2.0 * around.rough_mm
        if not clean:
            u += sag + bow
        return Patch(points, faces, bow, sag, around.rough_mm, u, "flat")
    points, faces = _rings(local, rim, len(mesh.points), around)
    u = off_rim + sag / 2.0 + 2.0 * around.rough_mm
    return Patch(points, faces, bow, sag, around.rough_mm, u, "curved")


class _Around:
    """A quadric over the plane of a hole's rim, fitted to the points around the hole no farther off than its span."""

    def __init__(self, mesh: Mesh, line: Floats) -> None:
        area = newell(line)
        size = float(np.linalg.norm(area))
        normal = area / size if size > 0.0 else fit_plane(line).normal
        self.centre: Floats = line.mean(axis=0)
        self.axes: Floats = np.vstack([plane_axes(normal), normal])
        span = longest_span(line)
        used = np.zeros(len(mesh.points), dtype=bool)
        used[mesh.faces] = True
        near = used & (np.abs(mesh.points - self.centre) <= 1.5 * span).all(axis=1)
        points = mesh.points[near]
        away = cKDTree(line).query(points)[0]
        points = points[np.argsort(away, kind="stable")][
            : max(np.count_nonzero(away <= 0.75 * span), len(line))
        ]
        points = points[:: max(len(points) // _MOST_AROUND, 1)]
        local = self.local(points)
        self._scale = max(span, 1e-9)
        if len(points) >= _LEAST_AROUND:
            system = self._terms(local)
            self._quadric = np.linalg.lstsq(system, local[:, 2], rcond=None)[0]
            left = local[:, 2] - system @ self._quadric
            self.rough_mm = math.sqrt(float(left @ left) / max(len(points) - 6, 1))
        else:
            self._quadric = np.zeros(6)
            self.rough_mm = float(np.abs(local[:, 2]).max(initial=0.0))

    def local(self, points: Floats) -> Floats:
        """Points (N, 3) in the rim's plane: two coordinates along it, one over it [mm]."""
        inside: Floats = (points - self.centre) @ self.axes.T
        return inside

    def world(self, local: Floats) -> Floats:
        """The way back."""
        out: Floats = local @ self.axes + self.centre
        return out

    def height(self, local: Floats) -> Floats:
        """Height of the quadric over the plane at places (N, 2 or 3) [mm]."""
        z: Floats = self._terms(local) @ self._quadric
        return z

    def sag(self, triangles: Floats) -> float:
        """Greatest distance between the quadric and flat triangles (T, 3, 3), looked at in 15 places of each."""
        share = np.array([(i, j, 4 - i - j) for i in range(5) for j in range(5 - i)]) / 4.0
        places = np.einsum("sk,tkx->tsx", share, triangles).reshape(-1, 3)
        return float(np.abs(places[:, 2] - self.height(places)).max())

    def _terms(self, local: Floats) -> Floats:
        u, v = local[:, 0] / self._scale, local[:, 1] / self._scale
        return np.column_stack([np.ones(len(u)), u, v, u * u, u * v, v * v])


def _seen_from_middle(local: Floats) -> bool:
    """Whether every ray from the middle meets the rim once."""
    after = np.roll(local, -1, axis=0)
    return bool((local[:, 0] * after[:, 1] - local[:, 1] * after[:, 0] > 0.0).all())


def _rings(local: Floats, rim: Ints, first_new: int, around: _Around) -> tuple[Floats, Ints]:
    """Rings of points from the rim to the middle, lying on the quadric and led over to the rim's own heights."""
    count = len(local)
    step = float(np.linalg.norm(np.diff(local, axis=0, append=local[:1]), axis=1).mean())
    wide = float(np.linalg.norm(local[:, :2], axis=1).mean())
    rings = int(np.clip(math.ceil(wide / max(step, 1e-9)), 2, _MOST_RINGS))
    off = local[:, 2] - around.height(local)
    points = []
    for ring in range(1, rings):
        share = 1.0 - ring / rings
        flat = local[:, :2] * share
        points.append(np.column_stack([flat, around.height(flat) + share * off]))
    points.append(np.array([[0.0, 0.0, float(around.height(np.zeros((1, 2)))[0])]]))
    numbers = np.vstack([rim, first_new + np.arange((rings - 1) * count).reshape(rings - 1, count)])
    faces = []
    for outer, inner in itertools.pairwise(numbers):
        faces.append(np.column_stack([outer, np.roll(outer, -1), np.roll(inner, -1)]))
        faces.append(np.column_stack([outer, np.roll(inner, -1), inner]))
    last = numbers[-1]
    middle = np.full(count, first_new + (rings - 1) * count)
    faces.append(np.column_stack([last, np.roll(last, -1), middle]))
    return around.world(np.vstack(points)), np.vstack(faces).astype(np.int32)
