"""The union of the car's solids: its distance and what a point is nearest to."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from floorpan.sample.shapes import Floats, Shape

_AT_ONCE = 4096


@dataclass(frozen=True, slots=True)
class Car:
    """A tuple of solids. Its distance is exact outside all of them; inside, the deepest of their depths."""

    shapes: tuple[Shape, ...]

    def distance(self, points: Floats) -> Floats:
        """Signed distance in mm from points (N, 3) to the nearest solid, shape (N,)."""
        return self._nearest(points)[0]

    def nearest_label(self, points: Floats) -> list[str]:
        """The label of the nearest (or most deeply entered) solid of each of the points (N, 3)."""
        return [self.shapes[k].label for k in self._nearest(points)[1]]

    def nearest_shape(self, points: Floats) -> NDArray[np.intp]:
        """Which solid is nearest to each of the points (N, 3): places in ``shapes``, shape (N,)."""
        return self._nearest(points)[1]

    def labelled(self, only: Sequence[str] = (), exclude: Sequence[str] = ()) -> "Car":
        """Only the named kinds of solids (all, when none is named), without the excluded ones."""
        return Car(tuple(s for s in self.shapes if (not only or s.label in only) and s.label not in exclude))

    def mirrored(self) -> "Car":
        """The mirror image in the car's centre plane."""
        return Car(tuple(shape.mirrored() for shape in self.shapes))

    def _nearest(self, points: Floats) -> tuple[Floats, NDArray[np.intp]]:
        points = np.asarray(points, dtype=np.float64).reshape(-1, 3)
        boxes = np.stack([shape.bounds() for shape in self.shapes])
        best = np.full(len(points), np.inf)
        which = np.zeros(len(points), dtype=np.intp)
        for start in range(0, len(points), _AT_ONCE):
            part = slice(start, start + _AT_ONCE)
            self._nearest_of_part(points[part], boxes, best[part], which[part])
        return best, which

    def _nearest_of_part(self, points: Floats, boxes: Floats, best: Floats, which: NDArray[np.intp]) -> None:
        """Fill best and which; a solid is asked only about points nearer to its box than their best."""
        square = np.zeros((len(boxes), len(points)))
        for k in range(3):
            x = points[:, k]
            beside = np.maximum(np.maximum(boxes[:, 0, k, None] - x, x - boxes[:, 1, k, None]), 0.0)
            square += beside * beside
        first = square.argmin(axis=0)
        for again in (False, True):
            for shape in range(len(boxes)):
                reach = np.maximum(best, 0.0)
                near = (square[shape] <= reach * reach) & (first != shape) if again else first == shape
                asked = np.flatnonzero(near)
                if len(asked) == 0:
                    continue
                found = self.shapes[shape].distance(points[asked])
                closer = (found < best[asked]) | ((found == best[asked]) & (shape < which[asked]))
                best[asked[closer]] = found[closer]
                which[asked[closer]] = shape
