"""Where the file of a scan that is set into car axes is gone, every gap to it is unseen: nothing may pass as clear."""

from collections.abc import Callable, Iterator
from functools import partial

from floorpan.checks.check import Check, Reading
from floorpan.checks.finding import Finding
from floorpan.checks.needed import never_seen
from floorpan.checks.pairs import limit_for
from floorpan.derive import Scene
from floorpan.items import Buckle, Handbrake, Shifter, Vessel
from floorpan.items.states import NOTHING_MOVES
from floorpan.limits import Limit

GONE = "The scan's file is not in the project. Put it back, or start from the scan again."


def _hands(scene: Scene) -> Iterator[str]:
    hand = scene.largest_hand()
    return iter(() if hand is None else (hand,))


def _levers(scene: Scene) -> Iterator[str]:
    return (f"{shifter.id}.lever" for shifter in scene.layout.of(Shifter))


def _grips(scene: Scene) -> Iterator[str]:
    return (f"{brake.id}.grip" for brake in scene.layout.of(Handbrake))


def _pressed(scene: Scene) -> Iterator[str]:
    return (f"{buckle.id}.hand" for buckle in scene.layout.of(Buckle))


def _vessels(scene: Scene) -> Iterator[str]:
    return (vessel.id for vessel in scene.layout.of(Vessel))


def _seats(scene: Scene) -> Iterator[str]:
    return (seat.id for seat in scene.layout.seats)


def _consoles(scene: Scene) -> Iterator[str]:
    return (console.id for console in scene.layout.consoles)


def _reads(scene: Scene, *, limit: str, movers: Callable[[Scene], Iterator[str]]) -> Iterator[Reading]:
    read = {floor.scan.id for floor in scene.floors}
    posed = [scan for scan in scene.layout.scans if scan.pose is not None and scan.id not in read]
    # A scan of other things is only looked at, unless it is all there is.
    for scan in posed:
        if scan.role != "other" or not read:
            for mover in movers(scene):
                yield Reading((mover, scan.id), NOTHING_MOVES, (limit_for(scene, limit),))


def _judge(reading: Reading, *, limit: str) -> Finding:
    (wanted,) = reading.inputs
    assert isinstance(wanted, Limit)
    return never_seen(limit, reading, wanted, met="scan", note=GONE)


CHECKS = tuple(
    Check(
        f"{limit}-unread", "live", partial(_reads, limit=limit, movers=movers), partial(_judge, limit=limit)
    )
    for limit, movers in (
        ("hand-scan", _hands),
        ("lever-scan", _levers),
        ("handbrake-scan", _grips),
        ("press-scan", _pressed),
        ("vessel-scan", _vessels),
        ("seat-scan", _seats),
        ("console-scan", _consoles),
    )
)
