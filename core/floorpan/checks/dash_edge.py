"""The dash's taped lower edge: against the hand in every gear and between, lever, vessels, thighs and knees."""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between
from floorpan.checks.limbs import thighs
from floorpan.checks.pairs import between
from floorpan.checks.who import Ids, every, hand
from floorpan.derive import Scene
from floorpan.items import DashEdge, Shifter, Vessel


def _reads(scene: Scene, *, movers: Ids, limit: str, moving: bool) -> Iterator[Item]:
    for edge in scene.layout.of(DashEdge):
        for mover in movers(scene):
            yield from between(scene, mover, edge.id, limit, moving=moving)


def _pair(limit: str, movers: Ids) -> Iterator[Check]:
    reads = partial(_reads, movers=movers, limit=limit)
    yield Check(limit, "live", partial(reads, moving=False), Between(limit))
    yield Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit))


def _standing(limit: str, movers: Ids) -> Check:
    return Check(limit, "live", partial(_reads, movers=movers, limit=limit, moving=False), Between(limit))


CHECKS = (
    *_pair("hand-dash", hand),
    *_pair("lever-dash", every(Shifter, ".lever")),
    _standing("vessel-dash", every(Vessel)),
    _standing("thigh-dash", thighs),
)
