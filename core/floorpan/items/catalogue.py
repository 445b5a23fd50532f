"""Every kind of placed item, in menu order. A new kind costs one new file and one line here."""

from typing import Any

from floorpan.items import buckle, control, cup_holder, handbrake, seat, shifter, vessels
from floorpan.items.placing import ItemKind

KINDS: tuple[ItemKind[Any], ...] = (
    seat.KIND,
    shifter.KIND,
    handbrake.KIND,
    buckle.KIND,
    control.KIND,
    cup_holder.KIND,
    vessels.KIND,
)
