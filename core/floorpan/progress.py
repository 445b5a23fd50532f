"""Long work as a generator: it yields steps and returns its result; to cancel is to close it."""

from collections.abc import Callable, Generator
from dataclasses import dataclass
from typing import TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Step:
    """How far a piece of work has come.

    done  : share finished, 0 to 1, never falling
    doing : what it is doing, for people
    """

    done: float
    doing: str


Work = Generator[Step, None, T]


def finish(work: Work[T], tell: Callable[[Step], None] | None = None) -> T:
    """Run work to its end and return its result; `tell` hears every step."""
    while True:
        try:
            step = next(work)
        except StopIteration as end:
            result: T = end.value
            return result
        if tell is not None:
            tell(step)


def part(work: Work[T], begin: float, end: float) -> Work[T]:
    """The same work as a part of a larger one: its own 0 to 1 is told as `begin` to `end`."""
    try:
        while True:
            step = next(work)
            yield Step(begin + (end - begin) * step.done, step.doing)
    except StopIteration as ended:
        result: T = ended.value
        return result
    finally:
        work.close()
