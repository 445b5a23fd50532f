"""What a hand, an arm, a leg or a seat meets as it meets a console: its shell, and the body of a cup holder."""

from collections.abc import Iterator

from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.items import CupHolder
from floorpan.layout import Thing

SHELLS: tuple[type[Thing], ...] = (Envelope, CupHolder)


def shells(scene: Scene) -> Iterator[str]:
    """Ids of the consoles, then of the cup holders, whose wall, bottom and ring are as hard."""
    for kind in SHELLS:
        yield from (one.id for one in scene.layout.of(kind))
