"""Flaps closed, half open, open and on their way: against the hand in every gear, lever, vessels, thighs, console,
cup holders.

The hand and the lever go from gear to gear past a flap that stands.
"""

from collections.abc import Iterator

from floorpan.checks.limbs import thighs
from floorpan.checks.opens import opening, passing
from floorpan.checks.shells import shells
from floorpan.checks.who import every, hand
from floorpan.derive import Scene
from floorpan.items import Flap, Shifter, Vessel

_FLAPS, _LEVERS = every(Flap), every(Shifter, ".lever")


def free_flaps(scene: Scene) -> Iterator[str]:
    """Flaps that do not stand on the console: one that does lies on it, and over the wells in it."""
    yield from (flap.id for flap in scene.layout.of(Flap) if flap.stands_on != "console")


CHECKS = (
    *opening("flap-hand", _FLAPS, hand),
    passing("flap-hand", hand, _FLAPS),
    *opening("flap-lever", _FLAPS, _LEVERS),
    passing("flap-lever", _LEVERS, _FLAPS),
    *opening("flap-vessel", _FLAPS, every(Vessel)),
    *opening("flap-thigh", _FLAPS, thighs),
    *opening("flap-console", free_flaps, shells),
)
