"""What opens, a door or a flap: at its stops and on its way past what stands, and at its stops past what moves."""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between
from floorpan.checks.pairs import between
from floorpan.checks.who import Ids
from floorpan.derive import Scene


def opening(limit: str, what: Ids, others: Ids) -> Iterator[Check]:
    """Standing at its stops, and on its way; whatever else there is stands."""
    reads = partial(_reads, movers=what, others=others, limit=limit)
    yield Check(limit, "live", partial(reads, moving=False), Between(limit))
    yield Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit))


def passing(limit: str, movers: Ids, what: Ids) -> Check:
    """What moves past it while it stands."""
    reads = partial(_reads, movers=movers, others=what, limit=limit, moving=True)
    return Check(f"{limit}-passing", "settled", reads, Between(limit))


def _reads(scene: Scene, *, movers: Ids, others: Ids, limit: str, moving: bool) -> Iterator[Item]:
    for other in others(scene):
        for mover in movers(scene):
            yield from between(scene, mover, other, limit, moving=moving)
