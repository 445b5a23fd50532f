"""What a check is: data and one pure function."""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Literal, Protocol, get_args

from floorpan.checks.finding import Finding
from floorpan.derive import Footing, Scene
from floorpan.derive.arm_footing import ArmsFooting
from floorpan.items.states import State

_BY_VALUE = (float, int, str)

Tier = Literal["live", "late", "settled"]
TIERS: tuple[Tier, ...] = get_args(Tier)
LIVE: tuple[Tier, ...] = ("live", "late")


class Stands(Protocol):
    """What tells how far a body went since it stood elsewhere."""

    def gone_mm(self, before: Any) -> float:
        """No point of it went farther since one of its own kind [mm]; infinite where that cannot be told."""


@dataclass(frozen=True, slots=True, eq=False)
class Pair:
    """What the two of a gap follow from, for telling how far they went since they were judged.

    met  : what the other one follows from
    rest : what else the gap is judged by, compared by identity (plain numbers and words by value)
    """

    mover: Stands
    met: Stands
    rest: tuple[object, ...]

    def gone_mm(self, before: "Pair") -> float:
        """The gap is no more than this narrower or wider than it was [mm]; infinite where that cannot be told."""
        alike = type(self.mover) is type(before.mover) and type(self.met) is type(before.met)
        if not alike or not same_inputs(before.rest, self.rest):
            return math.inf
        return self.mover.gone_mm(before.mover) + self.met.gone_mm(before.met)


class Reading:
    """All that a judge may see of one subject in one state; made once, never changed.

    inputs : compared by identity (plain numbers and words by value), so that an unchanged subject is known. They
             may be handed over as what makes them: a body that nobody judges is never built
    pair   : where given, tells as much without them
    """

    __slots__ = ("_inputs", "pair", "state", "subjects")

    def __init__(
        self,
        subjects: tuple[str, ...],
        state: State,
        inputs: tuple[object, ...] | Callable[[], tuple[object, ...]],
        pair: Pair | None = None,
    ) -> None:
        self.subjects = subjects
        self.state = state
        self.pair = pair
        self._inputs = inputs

    @property
    def inputs(self) -> tuple[object, ...]:
        """What is judged on."""
        if not isinstance(self._inputs, tuple):
            self._inputs = self._inputs()
        return self._inputs


class Group:
    """One pair in every state that moves either, made into readings only where somebody looks at them.

    mover, met, rest : as of a Pair; the mover may be an arm in many states, each of which goes its own way
    one   : makes the reading of one of its states; without it all of them are made where one is asked for
    """

    __slots__ = ("_by_state", "_made", "_make", "_one", "met", "mover", "pair", "rest", "subjects")

    def __init__(
        self,
        subjects: tuple[str, ...],
        mover: Footing | ArmsFooting,
        met: Footing,
        rest: tuple[object, ...],
        make: Callable[["Group"], Iterable[Reading]],
        one: "Callable[[Group, State], Reading] | None" = None,
    ) -> None:
        self.subjects = subjects
        self.mover, self.met, self.rest = mover, met, rest
        self.pair = Pair(mover, met, rest)
        self._make, self._one = make, one
        self._made: tuple[Reading, ...] | None = None
        self._by_state: dict[State, Reading] | None = None

    @property
    def readings(self) -> tuple[Reading, ...]:
        """One for each state, in the same order whenever the axes and stops are the same."""
        if self._made is None:
            self._made = tuple(self._make(self))
        return self._made

    def reading_in(self, state: State) -> Reading:
        """The one of a state that it has."""
        if self._one is not None:
            return self._one(self, state)
        if self._by_state is None:
            self._by_state = {reading.state: reading for reading in self.readings}
        return self._by_state[state]


Item = Reading | Group


class Bounded:
    """A judge whose value changes by no more than what is judged goes: so far it needs no judging again."""

    __slots__ = ()

    def spare_mm(self, reading: Reading, told: Finding) -> float:
        """How far the two of a pair may go, against each other, while the finding stays clear [mm]."""
        raise NotImplementedError

    def at_worst(self, reading: Reading, told: Finding, gone_mm: float) -> float:
        """The value is no worse than this once they went so far."""
        assert told.value is not None
        return told.value - gone_mm


@dataclass(frozen=True, slots=True)
class Check:
    """One judge.

    tier  : live checks are judged while something is dragged, late ones of them after all others since they take
            longer, settled ones after it is let go
    reads : what to judge, readings one by one or a pair's together
    by_place : whether it comes and goes with where things stand what is judged. Of a check that gives pairs or nothing
            it is taken that it gives the same pairs wherever things are shifted to, and it is not asked again
    """

    name: str
    tier: Tier
    reads: Callable[[Scene], Iterator[Item]]
    judge: Callable[[Reading], Finding]
    by_place: bool = False

    def readings(self, scene: Scene) -> Iterator[Reading]:
        """Everything to judge, one by one."""
        for one in self.reads(scene):
            if isinstance(one, Group):
                yield from one.readings
            else:
                yield one


def same_inputs(a: tuple[object, ...], b: tuple[object, ...]) -> bool:
    """Whether two readings saw the very same things."""
    if a is b or len(a) != len(b):
        return a is b
    return all(x is y or (isinstance(x, _BY_VALUE) and x == y) for x, y in zip(a, b, strict=True))
