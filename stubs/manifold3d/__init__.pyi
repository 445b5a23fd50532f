from collections.abc import Sequence
from enum import Enum

import numpy as np
from numpy.typing import NDArray

class OpType(Enum):
    Add = 0
    Subtract = 1
    Intersect = 2

class Mesh64:
    @property
    def vert_properties(self) -> NDArray[np.float64]: ...
    @property
    def tri_verts(self) -> NDArray[np.uint64]: ...

class Manifold:
    @staticmethod
    def hull_points(pts: NDArray[np.float64]) -> Manifold: ...
    @staticmethod
    def batch_boolean(manifolds: Sequence[Manifold], op: OpType) -> Manifold: ...
    def to_mesh64(self) -> Mesh64: ...
