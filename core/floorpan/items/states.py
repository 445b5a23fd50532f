"""States: which stop each moving thing is at.

A state is a sorted tuple of (axis, stop) pairs, an axis being `thing.axis`:
(("driver-1.belts", "tight"), ("shifter-1.gear", "R")).
A leg between two stops is a stop of its own, named "3-4".
"""

import itertools
from collections.abc import Iterable, Iterator, Mapping

State = tuple[tuple[str, str], ...]

NOTHING_MOVES: State = ()


def state_of(stops: Mapping[str, str]) -> State:
    """A state from a mapping of axis to stop."""
    return tuple(sorted(stops.items()))


def stops_of(state: State, thing: str) -> dict[str, str]:
    """The stops of one thing, by bare axis name."""
    head = f"{thing}."
    return {axis[len(head) :]: stop for axis, stop in state if axis.startswith(head)}


def is_leg(stop: str) -> bool:
    """Whether a stop is a motion between two stops."""
    return "-" in stop


def touches(stop: str, shown: str) -> bool:
    """Whether a stop is the shown one, or a way that begins, ends or passes there."""
    if not is_leg(stop):
        return stop == shown
    first, _, last = stop.partition("-")
    if shown in (first, last):
        return True
    # A seat's travel is one leg over all its notches.
    numbers = (first, shown, last)
    return all(number.isdigit() for number in numbers) and int(first) < int(shown) < int(last)


def products(axes: Iterable[tuple[str, tuple[str, ...]]]) -> Iterator[State]:
    """Every state over the given (axis, stops), in their order."""
    listed = list(axes)
    for combined in itertools.product(*(stops for _, stops in listed)):
        yield state_of({axis: stop for (axis, _), stop in zip(listed, combined, strict=True)})
