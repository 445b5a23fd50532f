"""What a check is: data and one pure function."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from floorpan.checks.finding import Finding
from floorpan.derive import Scene
from floorpan.items.states import State

_BY_VALUE = (float, int, str)

Tier = Literal["live", "settled"]


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """All that a judge may see of one subject in one state.

    inputs : compared by identity (plain numbers and words by value), so that an unchanged subject is known
    """

    subjects: tuple[str, ...]
    state: State
    inputs: tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """One judge.

    tier : live checks are judged while something is dragged, settled ones after it is let go
    """

    name: str
    tier: Tier
    reads: Callable[[Scene], Iterator[Reading]]
    judge: Callable[[Reading], Finding]


def same_inputs(a: tuple[object, ...], b: tuple[object, ...]) -> bool:
    """Whether two readings saw the very same things."""
    if a is b or len(a) != len(b):
        return a is b
    return all(x is y or (isinstance(x, _BY_VALUE) and x == y) for x, y in zip(a, b, strict=True))
