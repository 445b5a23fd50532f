"""What a measured gap says: how far, between which points, of which parts."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Vector
from floorpan.geometry.mesh import Floats

NOWHERE: Vector = (math.nan, math.nan, math.nan)


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """The least gap between a body and something else.

    distance_mm : gap [mm]; negative is a depth; infinite where nothing lies within the limit asked for
    on_body, on_surface : the two nearest points on the (dilated) skins [mm]
    away        : unit vector along which the body is moved to widen the gap fastest
    face        : face number on the mesh, -1 between two bodies
    solid_index : which solid of the body; other_index: which solid of the other body, -1 on a mesh
    at_rim      : the point on the mesh lies on its open edge: the surface ends there
    floor_mm    : what is not worked out yet cannot be nearer than this [mm]; equal to distance_mm once all is
    """

    distance_mm: float
    on_body: Vector = NOWHERE
    on_surface: Vector = NOWHERE
    away: Vector = NOWHERE
    face: int = -1
    solid_index: int = -1
    other_index: int = -1
    at_rim: bool = False
    floor_mm: float = math.inf

    @property
    def found(self) -> bool:
        """Whether anything lies within the limit asked for."""
        return math.isfinite(self.distance_mm)

    @property
    def settled(self) -> bool:
        """Whether nothing that is not built yet could be nearer."""
        return self.floor_mm >= self.distance_mm


NOTHING_NEAR = Near(distance_mm=math.inf)


@dataclass(frozen=True, slots=True, eq=False)
class SignedPoints:
    """Points against a surface.

    distance_mm : (N,) negative behind
    nearest : (N, 3) nearest points on the mesh [mm]
    face    : (N,) face numbers
    at_rim  : (N,) mask: nearest point on an open edge, where the normal tells no side: the distance is positive
    normal  : (N, 3) pseudonormal at the nearest point
    """

    distance_mm: Floats
    nearest: Floats
    face: NDArray[np.int64]
    at_rim: NDArray[np.bool_]
    normal: Floats


def near(
    index: int,
    distance_mm: float,
    on_body: Floats,
    on_surface: Floats,
    away: Floats,
    face: int,
    at_rim: bool = False,
) -> Near:
    """A `Near` from arrays."""
    return Near(
        distance_mm=float(distance_mm),
        on_body=vector(on_body),
        on_surface=vector(on_surface),
        away=vector(away),
        face=face,
        solid_index=index,
        at_rim=at_rim,
        floor_mm=float(distance_mm),
    )


def unit_to(start: Floats, end: Floats, otherwise: Floats) -> Floats:
    """Unit vector (3,) from start to end; `otherwise` where they coincide."""
    way = end - start
    length = float(np.linalg.norm(way))
    return way / length if length > 1e-9 else otherwise


def vector(values: Floats) -> Vector:
    """Three numbers as a tuple."""
    x, y, z = (float(v) for v in values)
    return x, y, z
