"""Thighs up to the knee, of everybody who sits, against console, cup holders, shifter box, and the hand on the knob."""

from collections.abc import Iterator
from functools import partial

from floorpan.checks.check import Check, Item
from floorpan.checks.gaps import Between
from floorpan.checks.pairs import between
from floorpan.checks.shells import shells
from floorpan.checks.who import hand
from floorpan.derive import Scene
from floorpan.derive.beside import THIGHS
from floorpan.items import Shifter, Wheel


def thighs(scene: Scene) -> Iterator[str]:
    """Both thighs of everybody who sits."""
    for person in scene.layout.people:
        if scene.seat_of(person) is not None:
            yield from (f"{person.id}.{thigh}" for thigh in THIGHS)


def _to_console(scene: Scene) -> Iterator[Item]:
    for thigh in thighs(scene):
        for shell in shells(scene):
            yield from between(scene, thigh, shell, "thigh-console", moving=False)


def _to_box(scene: Scene) -> Iterator[Item]:
    for thigh in thighs(scene):
        for shifter in scene.layout.of(Shifter):
            yield from between(scene, thigh, f"{shifter.id}.box", "thigh-shifter", moving=False)


def _from_hand(scene: Scene) -> Iterator[Item]:
    for mover in hand(scene):
        for thigh in thighs(scene):
            yield from between(scene, mover, thigh, "hand-thigh", moving=False)


def _to_wheel(scene: Scene, *, moving: bool) -> Iterator[Item]:
    for mover in hand(scene):
        for wheel in scene.layout.of(Wheel):
            yield from between(scene, mover, wheel.id, "hand-wheel", moving=moving)


CHECKS = (
    Check("hand-wheel", "live", partial(_to_wheel, moving=False), Between("hand-wheel")),
    Check("hand-wheel-moving", "settled", partial(_to_wheel, moving=True), Between("hand-wheel")),
    Check("hand-thigh", "live", _from_hand, Between("hand-thigh")),
    Check("thigh-console", "live", _to_console, Between("thigh-console")),
    Check("thigh-shifter", "live", _to_box, Between("thigh-shifter")),
)
