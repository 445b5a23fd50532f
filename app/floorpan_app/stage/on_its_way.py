"""A vessel on its way out, and the hand on it, drawn at the place on the way where the chosen finding is nearest."""

from functools import partial

from floorpan.checks import Finding
from floorpan.derive import Scene
from floorpan.derive.lifting import HAND, Lifting
from floorpan.geometry.solids import Body
from floorpan.items.lift_out import gone_mm
from floorpan.items.states import State, stops_of
from floorpan.items.vessels import HANDED_OVER, LIFTING, PLACE
from floorpan.layout import Layout


def on_its_way(scene: Scene, state: State, finding: Finding | None) -> dict[str, Body]:
    """Bodies by id, `vessel-1`, and `vessel-1.hand` for the hand's gap; nothing where the car stands otherwise.

    The place is the first on the way at which what moves takes the finding's own nearest point.
    """
    if finding is None or finding.at_mm is None:
        return {}
    mover = finding.subjects[0]
    id, _, part = mover.partition(".")
    stop = stops_of(finding.state, id).get(PLACE)
    if stop not in (LIFTING, HANDED_OVER) or stops_of(state, id).get(PLACE) != stop:
        return {}
    if part not in ("", HAND) or not _stands_there(scene.layout, id):
        return {}
    lifting = Lifting(scene.layout, scene.memory)
    going = lifting.on_its_way(mover, stop)
    if going is None or going.way.length_mm <= 0.0:
        return {}
    share = sum(gone_mm(going.way, finding.at_mm[0], going.profile)) / going.way.length_mm
    found: dict[str, Body] = {}
    for moved in dict.fromkeys((id, mover)):
        one = lifting.on_its_way(moved, stop)
        if one is not None:
            found[moved] = scene.memory.get(
                ("drawn on its way", share), (one,), partial(one.motion.at, share)
            )
    return found


def _stands_there(layout: Layout, id: str) -> bool:
    """Whether the finding's vessel is still in the layout."""
    return any(thing.id == id for thing in layout.things())
