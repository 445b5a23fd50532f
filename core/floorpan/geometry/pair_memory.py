"""What a body on its way learnt about one that stands, from look to look.

A pair of solids last seen at distance d is now at least d less the largest way a corner of the first one's box went
since (see `approach`), and so after every look that is remembered: the best of these bounds counts.
"""

import math

import numpy as np

from floorpan.geometry.approach import hull_corners
from floorpan.geometry.mesh import Floats
from floorpan.geometry.solids import Body, Hull

_LOOKS = 48


class PairMemory:
    """Owned by the caller, one for each body and what it is measured to; it never changes an answer.

    Another body, or other hulls, are noticed and begin anew.
    """

    __slots__ = ("_apart_mm", "_boxes", "_corners", "_hulls", "_looks", "_now", "_other")

    def __init__(self) -> None:
        self._other: Body = ()
        self._hulls: tuple[Hull, ...] = ()
        self._looks = 0

    def bounds(self, body: Body, other: Body) -> Floats:
        """What each solid (M,) of a body is apart at least from each (N,) of the other, undilated (M, N) [mm]."""
        hulls = tuple(solid.hull for solid in body)
        if other is not self._other or not _same(hulls, self._hulls):
            self._other, self._hulls, self._looks = other, hulls, 0
            self._boxes = [hull_corners(hull) for hull in hulls]
            self._corners = np.zeros((_LOOKS, len(body), 8, 3))
            self._apart_mm = np.full((_LOOKS, len(body), len(other)), -math.inf)
        self._now = np.array([solid.pose.apply(box) for solid, box in zip(body, self._boxes, strict=True)])
        looks = min(self._looks, _LOOKS)
        if not looks:
            return np.zeros((len(body), len(other)))
        way = self._now - self._corners[:looks]
        gone = np.sqrt(np.einsum("kmij,kmij->kmi", way, way).max(axis=2))
        bounds: Floats = (self._apart_mm[:looks] - gone[:, :, None]).max(axis=0)
        return bounds

    def learn(self, apart_mm: Floats) -> None:
        """What came out of the look that the bounds were asked for (M, N), or a bound where none was needed [mm]."""
        self._corners[self._looks % _LOOKS] = self._now
        self._apart_mm[self._looks % _LOOKS] = apart_mm
        self._looks += 1


def _same(one: tuple[Hull, ...], two: tuple[Hull, ...]) -> bool:
    return len(one) == len(two) and all(a is b for a, b in zip(one, two, strict=True))
