"""Who is judged: ids of placed things, of their parts, and of the hand on the knob."""

from collections.abc import Callable, Iterator

from floorpan.derive import Scene
from floorpan.layout import Thing

Ids = Callable[[Scene], Iterator[str]]


def every(kind: type[Thing], part: str = "") -> Ids:
    """Every placed thing of a class, or a part of each (`.lever`)."""

    def ids(scene: Scene) -> Iterator[str]:
        yield from (f"{one.id}{part}" for one in scene.layout.of(kind))

    return ids


def hand(scene: Scene) -> Iterator[str]:
    """The hand on the knob that gaps are judged for, where anybody drives."""
    largest = scene.largest_hand()
    if largest is not None:
        yield largest
