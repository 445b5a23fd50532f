"""What is told of findings while something is dragged."""

from collections.abc import Iterable, Iterator
from itertools import product

from floorpan.checks.finding import Finding
from floorpan.items.states import State, is_leg
from floorpan.report.rows import pair_of


def freshest(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same findings in the same order, without what is stale of a way of which an end was judged anew.

    Ways between two stops are judged once the hand lets go. Until then their ends say more of them than how they
    were before the move.
    """
    found = tuple(findings)
    fresh = {(pair_of(one), one.state) for one in found if not one.stale}
    return tuple(
        one
        for one in found
        if not one.stale or not any((pair_of(one), end) in fresh for end in _ends(one.state))
    )


def _ends(state: State) -> Iterator[State]:
    """The states at the ends of a way; none of what stands."""
    if any(is_leg(stop) for _, stop in state):
        for stops in product(*(stop.split("-") if is_leg(stop) else (stop,) for _, stop in state)):
            yield tuple((axis, stop) for (axis, _), stop in zip(state, stops, strict=True))
