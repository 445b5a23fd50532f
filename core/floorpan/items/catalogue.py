"""Every kind of placed item, in menu order. A new kind costs one new file and one line here."""

from typing import Any

from floorpan.items import (
    armrest,
    buckle,
    control,
    cup_holder,
    dash_edge,
    door,
    flap,
    handbrake,
    keep_out,
    mesh_part,
    seat,
    shifter,
    vessels,
    wheel,
)
from floorpan.items.placing import ItemKind

KINDS: tuple[ItemKind[Any], ...] = (
    seat.KIND,
    shifter.KIND,
    handbrake.KIND,
    buckle.KIND,
    armrest.KIND,
    wheel.KIND,
    keep_out.KIND,
    flap.KIND,
    dash_edge.KIND,
    door.KIND,
    mesh_part.KIND,
    control.KIND,
    cup_holder.KIND,
    vessels.KIND,
)
