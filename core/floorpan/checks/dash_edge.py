"""The dash's taped lower edge: against the hand in every gear and between, lever, vessels, thighs and knees."""

from collections.abc import Callable, Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between
from floorpan.checks.limbs import thighs
from floorpan.checks.pairs import between
from floorpan.derive import Scene
from floorpan.items import DashEdge, Shifter, Vessel


def _hand(scene: Scene) -> Iterator[str]:
    hand = scene.largest_hand()
    if hand is not None:
        yield hand


def _levers(scene: Scene) -> Iterator[str]:
    yield from (f"{shifter.id}.lever" for shifter in scene.layout.of(Shifter))


def _vessels(scene: Scene) -> Iterator[str]:
    yield from (vessel.id for vessel in scene.layout.of(Vessel))


def _reads(
    scene: Scene, *, movers: Callable[[Scene], Iterator[str]], limit: str, moving: bool
) -> Iterator[Item]:
    for edge in scene.layout.of(DashEdge):
        for mover in movers(scene):
            yield from between(scene, mover, edge.id, limit, moving=moving)


def _pair(limit: str, movers: Callable[[Scene], Iterator[str]]) -> Iterator[Check]:
    reads = partial(_reads, movers=movers, limit=limit)
    yield Check(limit, "live", partial(reads, moving=False), Between(limit))
    yield Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit))


def _standing(limit: str, movers: Callable[[Scene], Iterator[str]]) -> Check:
    return Check(limit, "live", partial(_reads, movers=movers, limit=limit, moving=False), Between(limit))


CHECKS = (
    *_pair("hand-dash", _hand),
    *_pair("lever-dash", _levers),
    _standing("vessel-dash", _vessels),
    _standing("thigh-dash", thighs),
)
