"""Rooms that nothing may enter, against console, cup holder and everything that is bolted down."""

from collections.abc import Iterator

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between
from floorpan.checks.pairs import between
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.items import Armrest, Buckle, CupHolder, Handbrake, KeepOut, Shifter
from floorpan.items.armrest import has_box
from floorpan.items.keep_out import NO_DRILL


def _reads(scene: Scene) -> Iterator[Item]:
    for kept in scene.layout.of(KeepOut):
        bolted = _bolted(scene)
        # Over what must not be drilled a shell may lie.
        lying = () if kept.what_for == NO_DRILL else _lying(scene)
        for other in (*bolted, *lying):
            yield from between(scene, kept.id, other, "keep-out", moving=False)


def _bolted(scene: Scene) -> Iterator[str]:
    """What is screwed to the car, by the part that is."""
    yield from (f"{shifter.id}.box" for shifter in scene.layout.of(Shifter))
    yield from (f"{brake.id}.foot" for brake in scene.layout.of(Handbrake))
    yield from (f"{buckle.id}.stalk" for buckle in scene.layout.of(Buckle) if buckle.bolted_to == "car")
    for holder in scene.layout.of(CupHolder):
        if holder.stands_on == "floor":
            yield holder.id


def _lying(scene: Scene) -> Iterator[str]:
    """What may lie over a place without a screw in it."""
    yield from (console.id for console in scene.layout.of(Envelope))
    yield from (holder.id for holder in scene.layout.of(CupHolder) if holder.stands_on != "floor")
    yield from (f"{rest.id}.box" for rest in scene.layout.of(Armrest) if has_box(rest))


CHECKS = (Check("keep-out", "live", _reads, Between("keep-out")),)
