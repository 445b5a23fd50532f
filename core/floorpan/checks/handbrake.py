"""The handbrake down, half way, up and in between: room round its grip, the hand on it, and the knob's hand to it."""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.pairs import between, to_area
from floorpan.checks.reclining import as_driven
from floorpan.checks.shells import SHELLS
from floorpan.checks.who import hand
from floorpan.derive import Scene
from floorpan.items import Handbrake, Seat, Shifter, Vessel
from floorpan.layout import Thing


def _to_scan(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for brake in scene.layout.of(Handbrake):
        for area in scene.areas():
            yield from to_area(scene, f"{brake.id}.grip", area, "handbrake-scan", moving=moving)


def _to_things(
    scene: Scene, *, part: str, kinds: tuple[type[Thing], ...], limit: str, moving: bool
) -> Iterator[Item]:
    for brake in scene.layout.of(Handbrake):
        for thing in (one for kind in kinds for one in scene.layout.of(kind)):
            found = between(scene, f"{brake.id}.{part}", thing.id, limit, moving=moving)
            yield from as_driven(scene, found)


def _to_shifter(scene: Scene, *, moving: bool, parts: tuple[str, ...]) -> Iterator[Item]:
    for brake in scene.layout.of(Handbrake):
        for shifter in scene.layout.of(Shifter):
            for part in parts:
                yield from between(
                    scene, f"{brake.id}.hand", f"{shifter.id}.{part}", "handbrake-shifter", moving=moving
                )


def _from_knob(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for mover in hand(scene):
        for brake in scene.layout.of(Handbrake):
            yield from between(scene, mover, brake.id, "hand-handbrake", moving=moving)


def _things(limit: str, part: str, *kinds: type[Thing]) -> tuple[Check, Check]:
    reads = partial(_to_things, part=part, kinds=kinds, limit=limit)
    return (
        Check(limit, "live", partial(reads, moving=False), Between(limit)),
        Check(f"{limit}-moving", "settled", partial(reads, moving=True), Between(limit)),
    )


_SHIFTER = Between("handbrake-shifter")

CHECKS = (
    Check("handbrake-scan", "live", partial(_to_scan, moving=False), ToArea("handbrake-scan")),
    Check("handbrake-scan-moving", "settled", partial(_to_scan, moving=True), ToArea("handbrake-scan")),
    *_things("handbrake-console", "grip", *SHELLS),
    *_things("handbrake-vessel", "hand", Vessel),
    *_things("handbrake-seat", "hand", Seat),
    Check("handbrake-shifter", "live", partial(_to_shifter, moving=False, parts=("knob", "lever")), _SHIFTER),
    Check(
        "handbrake-shifter-moving",
        "settled",
        partial(_to_shifter, moving=True, parts=("knob", "lever")),
        _SHIFTER,
    ),
    Check("hand-handbrake", "live", partial(_from_knob, moving=False), Between("hand-handbrake")),
    Check("hand-handbrake-moving", "settled", partial(_from_knob, moving=True), Between("hand-handbrake")),
)
