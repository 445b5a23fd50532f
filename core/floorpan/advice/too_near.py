"""Where a gap that is a convex function of one move is less than wanted, and what is left of a stretch without that."""

from collections.abc import Callable, Iterable

Stretch = tuple[float, float]
Gap = Callable[[float], tuple[float, float]]
"""A move [mm] to (gap [mm], its slope over the move)."""

END_MM = 1e-6
"""A step that is shorter ends the search for the end of a stretch [mm]."""
LEAST_ROOM_MM = 1e-3
"""Less than this between two stretches is no room."""

_MOST = 200


def too_near(gap: Gap, wanted: float, low: float, high: float) -> Stretch | None:
    """The part of low to high in which the gap is less than wanted; None where it is nowhere.

    gap : of two convex bodies of which one moves along a straight line without turning, negative where they overlap:
          a convex function of the move

    A convex function lies over each of its tangents, so steps of Newton's from the clear side come to the end of the
    stretch without ever passing it; where the slope turns before, there is none.
    """
    first = _end(gap, wanted, low, high)
    if first is None:
        return None
    last = _end(gap, wanted, high, low)
    return first, high if last is None else max(last, first)


def left_of(whole: Stretch, taken: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """What is left of a stretch without others, in order; all of it where nothing is taken, however short it is."""
    left: list[Stretch] = []
    start, end = whole
    gone = sorted(taken)
    if not gone:
        return (whole,)
    for first, last in gone:
        left.append((start, min(first, end)))
        start = max(start, last)
    left.append((start, end))
    return tuple((a, b) for a, b in left if b - a >= LEAST_ROOM_MM)


def _end(gap: Gap, wanted: float, start: float, stop: float) -> float | None:
    """From start on the way to stop: where the gap first falls below wanted, start where it is so there; else None."""
    way = 1.0 if stop >= start else -1.0
    at = start
    value, slope = gap(at)
    for _ in range(_MOST):
        if value < wanted:
            return at
        falls = -slope * way
        if falls <= 0.0:
            return None
        step = (value - wanted) / falls
        if step > abs(stop - at):
            return None
        if step < END_MM:
            return at
        at += way * step
        value, slope = gap(at)
    return at
