"""Parts from mesh files, each judged as what it stands for: against whatever its kind is judged against.

A row of the table names a limit and the two roles that it is about; a pair is judged here where one of the two is
such a part, and by the other checks where neither is. Where a part's file is gone or holds no mesh every gap to it
is unseen.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Literal

from floorpan.checks.check import Check, Item, Reading
from floorpan.checks.finding import Finding
from floorpan.checks.flap import free_flaps
from floorpan.checks.gaps import Between, ToArea
from floorpan.checks.limbs import thighs
from floorpan.checks.needed import never_seen
from floorpan.checks.pairs import between, limit_for, to_area
from floorpan.checks.who import Ids, every, hand
from floorpan.console import Envelope
from floorpan.derive import Scene
from floorpan.items import (
    Armrest,
    Buckle,
    CupHolder,
    Door,
    Flap,
    Handbrake,
    KeepOut,
    MeshPart,
    Seat,
    Shifter,
    Vessel,
)
from floorpan.items.keep_out import NO_DRILL
from floorpan.items.mesh_part import COUNTS_AS, CountsAs
from floorpan.items.states import NOTHING_MOVES
from floorpan.limits import Limit

STUFF: tuple[CountsAs, ...] = tuple(word for word in COUNTS_AS if word != "keep-out")
"""What parts stand for that are stuff, and not only room to be kept."""


def _arms(scene: Scene) -> Iterator[str]:
    yield from (f"{person.id}.forearm" for person, _ in scene.hands())


def _straps(scene: Scene) -> Iterator[str]:
    seats = {seat.id for seat in scene.layout.seats}
    yield from (f"{one.id}.strap" for one in scene.layout.of(Buckle) if one.seat_id in seats)


def _rooms(scene: Scene) -> Iterator[str]:
    """Keep-outs that nothing may lie in either."""
    yield from (kept.id for kept in scene.layout.of(KeepOut) if kept.what_for != NO_DRILL)


@dataclass(frozen=True, slots=True)
class Role:
    """Who plays a part in a gap: placed things and limbs by their ids, parts from mesh files by what they stand for.

    travels : whether the placed things are judged on their way as well
    moves   : whether only parts that move play it
    """

    ids: Ids = lambda scene: iter(())
    counts_as: tuple[str, ...] = ()
    travels: bool = True
    moves: bool = False

    def parts(self, scene: Scene) -> tuple[MeshPart, ...]:
        """The parts from mesh files that play it."""
        named = (one for one in scene.layout.of(MeshPart) if one.counts_as in self.counts_as)
        return tuple(one for one in named if not self.moves or one.motion != "stays")


HARD = Role(counts_as=("dash or trim", "other"))
SHELL = Role(every(Envelope), ("console shell",))
SEAT = Role(every(Seat), ("seat",))
VESSEL = Role(every(Vessel), ("vessel",))
BOX = Role(every(Shifter, ".box"), ("shifter box",))
WHEEL = Role(counts_as=("steering wheel",))
BRAKE = Role(every(Handbrake), ("handbrake",))
HAND, LEVER, THIGH = Role(hand), Role(every(Shifter, ".lever")), Role(thighs, travels=False)
GRIP, ON_BRAKE = Role(every(Handbrake, ".grip")), Role(every(Handbrake, ".hand"))
PRESS, BUCKLE = Role(every(Buckle, ".hand"), travels=False), Role(every(Buckle), travels=False)
STRAP = Role(_straps, travels=False)
PAD = Role(every(Armrest, ".pad"))
ARM = Role(_arms)
KEPT, ROOM = Role(every(KeepOut), ("keep-out",)), Role(_rooms, ("keep-out",))
FIXED = Role(every(Handbrake, ".foot"), ("handbrake",))
DOOR, FLAP, FREE_FLAP = Role(every(Door)), Role(every(Flap)), Role(free_flaps)
DASH = Role(counts_as=("dash or trim",))
HOLDER = Role(every(CupHolder))
SOLID = Role(counts_as=STUFF)
ON_VESSEL = Role(every(Vessel, ".hand"))
MOVER = Role(counts_as=("console shell", "dash or trim", "handbrake", "other"), moves=True)

PAIRS: tuple[tuple[str, Role, Role], ...] = (
    ("hand-scan", HAND, HARD),
    ("hand-seat", HAND, SEAT),
    ("hand-console", HAND, SHELL),
    ("hand-vessel", HAND, VESSEL),
    ("hand-wheel", HAND, WHEEL),
    ("hand-handbrake", HAND, BRAKE),
    ("lever-scan", LEVER, HARD),
    ("lever-seat", LEVER, SEAT),
    ("lever-vessel", LEVER, VESSEL),
    ("handbrake-scan", GRIP, HARD),
    ("handbrake-console", GRIP, SHELL),
    ("handbrake-vessel", ON_BRAKE, VESSEL),
    ("handbrake-seat", ON_BRAKE, SEAT),
    ("press-scan", PRESS, HARD),
    ("press-console", PRESS, SHELL),
    ("press-vessel", PRESS, VESSEL),
    ("buckle-console", BUCKLE, SHELL),
    ("strap-console", STRAP, SHELL),
    ("armrest-seat", PAD, SEAT),
    ("armrest-vessel", PAD, VESSEL),
    ("keep-out", KEPT, BOX),
    ("keep-out", KEPT, FIXED),
    ("keep-out", ROOM, SHELL),
    ("keep-out", ROOM, HOLDER),
    ("thigh-console", THIGH, SHELL),
    ("thigh-shifter", THIGH, BOX),
    ("thigh-dash", THIGH, DASH),
    ("flap-vessel", FLAP, VESSEL),
    ("flap-console", FREE_FLAP, SHELL),
    ("door-seat", DOOR, SEAT),
    ("door-handbrake", DOOR, BRAKE),
    ("door-console", DOOR, SHELL),
    ("seat-console", SEAT, SHELL),
    ("seat-lever", SEAT, BOX),
    ("seat-vessel", SEAT, VESSEL),
    ("seat-seat", SEAT, SEAT),
    ("seat-handbrake", SEAT, BRAKE),
    ("vessel-scan", VESSEL, HARD),
    ("part-moves", MOVER, SEAT),
    ("part-moves", MOVER, VESSEL),
    ("part-moves", MOVER, LEVER),
)
# What is judged elsewhere, an arm in `forearm` and a vessel on its way in `lift_out`: here is told what has no mesh.
ELSEWHERE: tuple[tuple[str, Role, Role], ...] = (
    ("forearm-vessel", ARM, VESSEL),
    ("forearm-seat", ARM, SEAT),
    ("forearm-console", ARM, SHELL),
    ("forearm-scan", ARM, HARD),
    ("lift-out", VESSEL, SOLID),
    ("lift-out-hand", ON_VESSEL, SOLID),
)
TO_CAR: tuple[tuple[str, Role], ...] = (("seat-scan", SEAT), ("vessel-scan", VESSEL), ("console-scan", SHELL))

_ROWS = {
    limit: tuple((first, second) for row, first, second in (*PAIRS, *ELSEWHERE) if row == limit)
    for limit, _, _ in (*PAIRS, *ELSEWHERE)
}

Which = Literal["here", "gone"]


def standing_for(scene: Scene, *words: str) -> Iterator[str]:
    """Ids of the parts from mesh files that stand for these and have a mesh."""
    for one in Role(counts_as=words).parts(scene):
        if not scene.meshes.missing(one):
            yield one.id


def _members(scene: Scene, role: Role) -> Iterator[tuple[str, MeshPart | None]]:
    yield from ((id, None) for id in (() if role.moves else role.ids(scene)))
    yield from ((one.id, one) for one in role.parts(scene))


def _pairs(scene: Scene, limit: str, which: Which) -> Iterator[tuple[str, str, bool]]:
    """Who is judged against whom by a limit, one at least a part from a mesh file, and whether the first travels.

    Of two alike each pair comes once.
    """
    if not any(isinstance(item, MeshPart) for item in scene.layout.items):
        # Most cars have none, and this is asked for every limit at every step of the mouse.
        return
    for first, second in _ROWS.get(limit, ()):
        if not (first.parts(scene) or second.parts(scene)):
            continue
        for one, own in _members(scene, first):
            for other, theirs in _members(scene, second):
                meshes = [part for part in (own, theirs) if part is not None]
                twice = one == other or (first is second and other < one)
                if meshes and not twice and _here(scene, meshes) == (which == "here"):
                    yield one, other, own is not None or first.travels


def _here(scene: Scene, parts: list[MeshPart]) -> bool:
    return not any(scene.meshes.missing(part) for part in parts)


def _reads(scene: Scene, *, limit: str, moving: bool) -> Iterator[Item]:
    for one, other, travels in _pairs(scene, limit, "here"):
        if travels or not moving:
            yield from between(scene, one, other, limit, moving=moving)
        if moving and _part(scene, other) is not None:
            # The one that is met may swing or slide as well.
            yield from between(scene, other, one, limit, moving=True)


def _to_car(scene: Scene, *, limit: str, role: Role, moving: bool) -> Iterator[Item]:
    for one in role.parts(scene):
        for area in scene.areas() if not scene.meshes.missing(one) else ():
            if limit != "console-scan" or not area.level:
                yield from to_area(scene, one.id, area, limit, moving=moving)


def _gone(scene: Scene, *, limit: str) -> Iterator[Reading]:
    wanted = limit_for(scene, limit)
    for one, other, _ in _pairs(scene, limit, "gone"):
        told = [part for id in (one, other) if (part := _part(scene, id)) is not None]
        why = next(why for part in told if (why := scene.meshes.missing(part)))
        yield Reading((one, other), NOTHING_MOVES, (wanted, why))
    for row, role in TO_CAR:
        for part in role.parts(scene) if row == limit else ():
            if why := scene.meshes.missing(part):
                yield Reading((part.id, "scan"), NOTHING_MOVES, (wanted, why))


def _part(scene: Scene, id: str) -> MeshPart | None:
    return next((one for one in scene.layout.of(MeshPart) if one.id == id), None)


def _judge_gone(reading: Reading, *, limit: str) -> Finding:
    wanted, why = reading.inputs
    assert isinstance(wanted, Limit)
    return never_seen(limit, reading, wanted, met="", note=str(why))


def _checks(limit: str) -> Iterator[Check]:
    yield Check(f"{limit}-part", "live", partial(_reads, limit=limit, moving=False), Between(limit))
    yield Check(f"{limit}-part-moving", "settled", partial(_reads, limit=limit, moving=True), Between(limit))


def _gone_check(limit: str) -> Check:
    return Check(f"{limit}-part-gone", "live", partial(_gone, limit=limit), partial(_judge_gone, limit=limit))


def _car_checks(limit: str, role: Role) -> Iterator[Check]:
    reads = partial(_to_car, limit=limit, role=role)
    yield Check(f"{limit}-part-car", "live", partial(reads, moving=False), ToArea(limit))
    yield Check(f"{limit}-part-car-moving", "settled", partial(reads, moving=True), ToArea(limit))


_BETWEEN = dict.fromkeys(limit for limit, _, _ in PAIRS)
_EVERY = dict.fromkeys((*_BETWEEN, *(limit for limit, _, _ in ELSEWHERE), *(limit for limit, _ in TO_CAR)))

CHECKS = (
    *(check for limit in _BETWEEN for check in _checks(limit)),
    *(check for limit, role in TO_CAR for check in _car_checks(limit, role)),
    *(_gone_check(limit) for limit in _EVERY),
)
