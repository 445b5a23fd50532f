"""A door shut, half open, open and on its way: against seats, a handbrake at the sill, buckles, the console."""

from collections.abc import Callable, Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between
from floorpan.checks.pairs import between
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.items import Buckle, Door, Handbrake


def _seats(scene: Scene) -> Iterator[str]:
    yield from (seat.id for seat in scene.layout.seats)


def _handbrakes(scene: Scene) -> Iterator[str]:
    yield from (brake.id for brake in scene.layout.of(Handbrake))


def _buckles(scene: Scene) -> Iterator[str]:
    yield from (buckle.id for buckle in scene.layout.of(Buckle))


def _consoles(scene: Scene) -> Iterator[str]:
    yield from (console.id for console in scene.layout.of(Envelope))


def _reads(
    scene: Scene, *, others: Callable[[Scene], Iterator[str]], limit: str, moving: bool, other_moves: bool
) -> Iterator[Item]:
    for door in scene.layout.of(Door):
        for other in others(scene):
            pair = (other, door.id) if other_moves else (door.id, other)
            yield from between(scene, *pair, limit, moving=moving)


def _pair(limit: str, others: Callable[[Scene], Iterator[str]]) -> Iterator[Check]:
    """Standing at its stops, and the door on its way; whatever else there is stands."""
    reads = partial(_reads, others=others, limit=limit, other_moves=False)
    yield Check(limit, "live", partial(reads, moving=False), Between(limit))
    yield Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit))


def _passing(limit: str, others: Callable[[Scene], Iterator[str]]) -> Check:
    """What moves past a door that stands: a seat on its rails, a handbrake that is pulled."""
    reads = partial(_reads, others=others, limit=limit, other_moves=True, moving=True)
    return Check(f"{limit}-passing", "settled", reads, Between(limit))


CHECKS = (
    *_pair("door-seat", _seats),
    _passing("door-seat", _seats),
    *_pair("door-handbrake", _handbrakes),
    _passing("door-handbrake", _handbrakes),
    *_pair("door-buckle", _buckles),
    *_pair("door-console", _consoles),
)
