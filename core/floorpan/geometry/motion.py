"""The least gap over a motion, without blind sampling."""

import heapq
import math
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LeastOverMotion:
    """Where a gap is least along a motion.

    gap_mm : least gap that was evaluated [mm]; the true least is never above it
    share  : where, as a share of the motion (0 to 1)
    step_mm: the true least is at most this much below gap_mm [mm]
    looked : how many poses were evaluated
    """

    gap_mm: float
    share: float
    step_mm: float
    looked: int

    @property
    def floor_mm(self) -> float:
        """The gap is nowhere less than this [mm]: the true least lies from here up to gap_mm."""
        return self.gap_mm - self.step_mm


def least_over_motion(
    gap_at: Callable[[float], float],
    travel_mm: float,
    *,
    within_mm: float = 0.1,
    wanted_mm: float = math.inf,
    most: int = 400,
) -> LeastOverMotion:
    """Least of gap_at(share) for share 0 to 1, by the Piyavskii-Shubert bound.

    gap_at    : gap [mm] at a share of the motion; changes by no more than travel_mm over the whole motion
    travel_mm : how far any point travels over the motion, at most [mm] (the Lipschitz constant)
    within_mm : stop when the bound and the best value are this close
    wanted_mm : a gap that is roomier than this need only be known to a twentieth of what it has to spare; its
                floor_mm is still not below wanted_mm
    most      : stop after this many evaluations and say how far the bound still is

    Source: Shubert, "A sequential method seeking the global maximum of a function", SIAM J. Numer. Anal. 9 (1972).
    """
    values = {0.0: gap_at(0.0), 1.0: gap_at(1.0)}
    best = min(values, key=values.__getitem__)
    heap: list[tuple[float, float, float]] = []

    def add(a: float, b: float) -> None:
        floor = (values[a] + values[b] - travel_mm * (b - a)) / 2
        heapq.heappush(heap, (floor, a, b))

    add(0.0, 1.0)
    while heap and len(values) < most:
        if values[best] - heap[0][0] <= max(within_mm, (values[best] - wanted_mm) / 20):
            break
        _, a, b = heapq.heappop(heap)
        if travel_mm <= 0.0:
            break
        middle = (a + b) / 2 + (values[a] - values[b]) / (2 * travel_mm)
        middle = min(max(middle, a + (b - a) * 0.02), b - (b - a) * 0.02)
        values[middle] = gap_at(middle)
        if values[middle] < values[best]:
            best = middle
        add(a, middle)
        add(middle, b)
    bound = max(0.0, values[best] - heap[0][0]) if heap and travel_mm > 0.0 else 0.0
    return LeastOverMotion(values[best], best, bound, len(values))
