"""The hand on the knob, in every gear and on the way there, against car, seats, console, cup holders and vessels."""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.needed import needed_area
from floorpan.checks.pairs import between, to_area
from floorpan.checks.reclining import as_driven
from floorpan.checks.shells import SHELLS
from floorpan.checks.who import hand
from floorpan.derive import Scene
from floorpan.items import Seat, Vessel
from floorpan.layout import Thing


def _to_scan(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for mover in hand(scene):
        for area in scene.areas():
            yield from to_area(scene, mover, area, "hand-scan", moving=moving)


def _to_things(scene: Scene, *, kinds: tuple[type[Thing], ...], limit: str, moving: bool) -> Iterator[Item]:
    for mover in hand(scene):
        for thing in (one for kind in kinds for one in scene.layout.of(kind)):
            yield from as_driven(scene, between(scene, mover, thing.id, limit, moving=moving))


def _pair(limit: str, *kinds: type[Thing]) -> tuple[Check, Check]:
    return (
        Check(limit, "live", partial(_to_things, kinds=kinds, limit=limit, moving=False), Between(limit)),
        Check(
            f"{limit}-moving",
            "settled",
            partial(_to_things, kinds=kinds, limit=limit, moving=True),
            Between(limit),
        ),
    )


CHECKS = (
    Check("hand-scan", "live", partial(_to_scan, moving=False), ToArea("hand-scan")),
    Check("hand-scan-moving", "settled", partial(_to_scan, moving=True), ToArea("hand-scan")),
    needed_area("hand-scan", "dash", lambda scene: next(hand(scene), None)),
    *_pair("hand-vessel", Vessel),
    *_pair("hand-seat", Seat),
    *_pair("hand-console", *SHELLS),
)
