"""Flaps closed, half open, open and on their way: against the hand in every gear, lever, vessels, thighs, console."""

from collections.abc import Callable, Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between
from floorpan.checks.limbs import thighs
from floorpan.checks.pairs import between
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.items import Flap, Shifter, Vessel


def _hand(scene: Scene) -> Iterator[str]:
    hand = scene.largest_hand()
    if hand is not None:
        yield hand


def _levers(scene: Scene) -> Iterator[str]:
    yield from (f"{shifter.id}.lever" for shifter in scene.layout.of(Shifter))


def _vessels(scene: Scene) -> Iterator[str]:
    yield from (vessel.id for vessel in scene.layout.of(Vessel))


def _consoles(scene: Scene) -> Iterator[str]:
    yield from (console.id for console in scene.layout.of(Envelope))


def _reads(
    scene: Scene, *, others: Callable[[Scene], Iterator[str]], limit: str, moving: bool, other_moves: bool
) -> Iterator[Item]:
    for flap in scene.layout.of(Flap):
        # A flap that stands on the console lies on it.
        if limit == "flap-console" and flap.stands_on == "console":
            continue
        for other in others(scene):
            pair = (other, flap.id) if other_moves else (flap.id, other)
            yield from between(scene, *pair, limit, moving=moving)


def _pair(limit: str, others: Callable[[Scene], Iterator[str]]) -> Iterator[Check]:
    """Standing at its stops, and the flap on its way; whatever else there is stands."""
    reads = partial(_reads, others=others, limit=limit, other_moves=False)
    yield Check(limit, "live", partial(reads, moving=False), Between(limit))
    yield Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit))


def _passing(limit: str, others: Callable[[Scene], Iterator[str]]) -> Check:
    """What goes from gear to gear past a flap that stands."""
    reads = partial(_reads, others=others, limit=limit, other_moves=True, moving=True)
    return Check(f"{limit}-passing", "settled", reads, Between(limit))


CHECKS = (
    *_pair("flap-hand", _hand),
    _passing("flap-hand", _hand),
    *_pair("flap-lever", _levers),
    _passing("flap-lever", _levers),
    *_pair("flap-vessel", _vessels),
    *_pair("flap-thigh", thighs),
    *_pair("flap-console", _consoles),
)
