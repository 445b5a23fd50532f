"""Every change a builder can make, as (layout, numbers) -> layout.

Ranges are checked where values are made; rules between fields live here. A refused edit raises and changes nothing.
"""

from floorpan.edits.ids import new_id
from floorpan.edits.project import (
    keep_before,
    mark_absent,
    rename_project,
    set_carpet,
    set_driver_side,
    set_limit,
)
from floorpan.edits.scans import (
    add_area,
    add_probe,
    add_scan,
    change_scan,
    crop,
    crop_along,
    forget_centre_line,
    forget_outline,
    forget_probe,
    remove_area,
    set_axes,
    set_centre_line,
    set_picks,
    set_probe,
    uncrop,
)
from floorpan.edits.steps import accept, open_again, step_key, step_mark
from floorpan.edits.things import (
    add,
    add_person,
    change,
    change_person,
    lock,
    mirror,
    move,
    remove,
    shift,
    turn,
)

__all__ = [
    "accept",
    "add",
    "add_area",
    "add_person",
    "add_probe",
    "add_scan",
    "change",
    "change_person",
    "change_scan",
    "crop",
    "crop_along",
    "forget_centre_line",
    "forget_outline",
    "forget_probe",
    "keep_before",
    "lock",
    "mark_absent",
    "mirror",
    "move",
    "new_id",
    "open_again",
    "remove",
    "remove_area",
    "rename_project",
    "set_axes",
    "set_carpet",
    "set_centre_line",
    "set_driver_side",
    "set_limit",
    "set_picks",
    "set_probe",
    "shift",
    "step_key",
    "step_mark",
    "turn",
    "uncrop",
]
