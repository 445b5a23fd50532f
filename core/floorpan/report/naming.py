"""What things, states and places are called."""

import re
from dataclasses import dataclass

from floorpan.checks.finding import Finding, Point
from floorpan.items import Buckle, Seat, Shifter
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.report import words
from floorpan.units import System, show_length

_NAMED_WITH_THEIR_PART = ("handbrake-", "buckle-", "armrest-", "wheel-", "vessel-")
_AXIS_ORDER = ("gear", "belts", "notch", "recline", "lever", "lid", "flap", "door", "travel", "place")


_AS_IT_BELONGS = (("place", "in"), ("recline", "driven"), ("travel", "home"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Called:
    """What a subject is called: inside a sentence ("the bottle") and on its own ("bottle")."""

    inside: str
    bare: str
    plural: bool = False

    @property
    def first(self) -> str:
        """At the head of a sentence or a row: "Knuckles", "Bottle"."""
        return capital(self.bare)

    @property
    def head(self) -> str:
        """At the head of a sentence, with its article where it has one: "Knuckles", "The bottle"."""
        return self.first if self.plural else capital(self.inside)


def capital(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]


def small(text: str) -> str:
    """The text with its first letter small, unless its first word is an abbreviation, a number or one letter."""
    head = re.match(r"[^\W\d_]+", text)
    word = head.group(0) if head else ""
    return text[:1].lower() + text[1:] if len(word) > 1 and word[1:] == word[1:].lower() else text


def _thing_name(id: str, layout: Layout) -> str:
    named = {thing.id: thing.name for thing in layout.things()}
    named |= {person.id: person.name for person in layout.people}
    named |= {scan.id: scan.name for scan in layout.scans} if len(layout.scans) > 1 else {}
    return named.get(id, "")


def called(id: str, layout: Layout) -> Called:
    """What a subject's id is called; an id that nothing in the layout carries is taken word for word."""
    owner, _, part = id.partition(".")
    if owner.startswith("scan-"):
        return _scan(id, owner, part, layout)
    name = _thing_name(owner, layout)
    if part:
        return _part(owner, part, name, layout)
    bare = small(_short(name, layout)) if name else id
    return Called(inside=words.THE.format(name=bare) if name else id, bare=bare)


def _short(name: str, layout: Layout) -> str:
    """A name up to its first comma ("Bottle, 500 ml"), as long as nothing else is called that."""
    head = name.partition(",")[0].strip()
    heads = [thing.name.partition(",")[0].strip() for thing in layout.things()]
    return head if head and heads.count(head) < 2 else name


def _scan(id: str, owner: str, part: str, layout: Layout) -> Called:
    if not part:
        bare = small(_thing_name(owner, layout)) or words.SCAN
        return Called(inside=words.THE.format(name=bare), bare=bare)
    areas = {area.id: area.kind for scan in layout.scans for area in scan.areas}
    bare = areas.get(id, re.sub(r"-\d+$", "", part).replace("-", " "))
    bare = _told_scanned(bare, layout)
    return Called(inside=words.THE.format(name=bare), bare=bare)


def _told_scanned(bare: str, layout: Layout) -> str:
    """The name of a part of the scan; where a thing of that name was set down, this is the one that was scanned."""
    namesake = any(small(_short(thing.name, layout)) == bare for thing in layout.things())
    return words.SCANNED.format(name=bare) if namesake else bare


def _part(owner: str, part: str, name: str, layout: Layout) -> Called:
    bare, plural = words.PARTS.get(part, (part, False))
    if owner.startswith(_NAMED_WITH_THEIR_PART):
        form = words.HAND_ON if part == "hand" else words.OWN_PART
        bare = form.format(name=small(_short(name, layout)), part=bare)
        return Called(inside=words.THE.format(name=bare), bare=bare, plural=plural)
    if owner.startswith("passenger-") and name:
        whose = words.WHOSE.format(name=name, part=bare)
        return Called(inside=whose, bare=whose, plural=plural)
    if owner.startswith("driver-") and sum(person.role == "driver" for person in layout.people) > 1 and name:
        whose = words.WHOSE.format(name=name, part=bare)
        return Called(inside=whose, bare=whose, plural=plural)
    several = owner.startswith("shifter-") and len(layout.of(Shifter)) > 1
    if name and (several or owner.startswith("seat-")):
        bare = words.PART_OF.format(part=bare, name=small(_short(name, layout)))
    return Called(inside=words.THE.format(name=bare), bare=bare, plural=plural)


def first_of(finding: Finding, layout: Layout) -> Called:
    """What a finding is about."""
    id = finding.subjects[0] if finding.subjects else ""
    return called(id, layout) if id else Called(inside=words.NOTHING_NAMED, bare=words.NOTHING_NAMED)


def second_of(finding: Finding, layout: Layout) -> Called:
    """What it meets: `met` in words where the check said so, else the second subject."""
    if finding.met:
        met = finding.met.removeprefix("the ").removeprefix("The ")
        named = any(thing.name == met for thing in layout.things())
        bare = small(_short(met, layout) if named else met)
        if len(finding.subjects) > 1 and finding.subjects[1].startswith("scan-"):
            bare = _told_scanned(bare, layout)
        return Called(inside=words.THE.format(name=bare), bare=bare)
    if len(finding.subjects) > 1:
        return called(finding.subjects[1], layout)
    if finding.check == "lever-opening":
        return Called(inside=words.OPENING, bare=words.OPENING)
    return Called(inside=words.NOTHING_NAMED, bare=words.NOTHING_NAMED)


# --- states -----------------------------------------------------------------------------------------------------


def gear_name(stop: str) -> str:
    """`reverse`, `neutral`, `3rd`."""
    return words.GEARS.get(stop) or (words.GEAR_NTH.format(n=stop) if stop.isdigit() else stop)


def _leg(stop: str) -> tuple[str, str] | None:
    a, dash, b = stop.partition("-")
    return (a, b) if dash and a and b else None


def axis_name(axis: str) -> str:
    """The bare name of `thing.axis`."""
    return axis.rpartition(".")[2]


def axis_rank(axis: str) -> tuple[int, str]:
    """Sort key: gear, belts, seat, handbrake, vessels, then the rest by name."""
    name = axis_name(axis)
    return (_AXIS_ORDER.index(name) if name in _AXIS_ORDER else len(_AXIS_ORDER), axis)


def stop_words(axis: str, stop: str, layout: Layout, about: str = "", *, plain_seat: bool = False) -> str:
    """One stop in words: `in reverse`, `belts tight`, `seat full back`; what it is `about` is not named again.

    plain_seat : a seat is called the seat, whatever its name
    """
    owner, name = axis.rpartition(".")[0], axis_name(axis)
    leg = _leg(stop)
    if name == "gear":
        if leg:
            return words.BETWEEN_GEARS.format(a=gear_name(leg[0]), b=gear_name(leg[1]))
        return words.IN_GEAR.format(gear=gear_name(stop))
    if name == "belts":
        return words.BELTS.format(stop=stop)
    if name == "notch":
        return _notch(owner, stop, leg, layout, _seat_name(owner, layout, about, plain=plain_seat))
    if name == "recline":
        return _recline(stop, leg, _seat_name(owner, layout, about, plain=plain_seat))
    if name in words.OPENED:
        bare = f"{called(owner, layout).bare} " if owner != about else ""
        form = words.OPENED[name].get(stop, words.OTHER_STATE.format(axis=name, stop=stop))
        return form.format(name=bare)
    if name == "lever":
        if leg:
            return words.HANDBRAKE_BETWEEN.format(a=leg[0], b=leg[1])
        return words.HANDBRAKE.get(stop, words.OTHER_STATE.format(axis=name, stop=stop))
    if name == "lid":
        return words.LID.get(stop, words.OTHER_STATE.format(axis=name, stop=stop))
    if name == "place" and owner == about and stop in words.ITS_PLACE:
        return words.ITS_PLACE[stop]
    if name == "place" and stop in words.VESSEL_PLACE:
        return words.VESSEL_PLACE[stop].format(
            name=called(owner, layout).bare, inside=called(owner, layout).inside
        )
    return words.OTHER_STATE.format(axis=name, stop=stop)


def _seat_name(seat_id: str, layout: Layout, about: str, *, plain: bool) -> str:
    if seat_id == about:
        return ""
    return f"{called(seat_id, layout).bare if len(layout.seats) > 1 and not plain else words.SEAT} "


def _notch(seat_id: str, stop: str, leg: tuple[str, str] | None, layout: Layout, name: str) -> str:
    seat = next((one for one in layout.of(Seat) if one.id == seat_id), None)
    if leg:
        whole = seat is not None and leg == ("1", str(int(seat.notches)))
        return (words.SEAT_TRAVEL if whole else words.SEAT_BETWEEN).format(name=name, a=leg[0], b=leg[1])
    if seat is not None and seat.notches > 1:
        if stop == "1":
            return words.SEAT_BACK.format(name=name)
        if stop == str(int(seat.notches)):
            return words.SEAT_FORWARD.format(name=name)
    return words.SEAT_NOTCH.format(name=name, stop=stop)


def _recline(stop: str, leg: tuple[str, str] | None, name: str) -> str:
    if leg:
        return words.RECLINE_BETWEEN.format(name=name, a=words.RECLINE[leg[0]], b=words.RECLINE[leg[1]])
    return f"{name}{words.RECLINE.get(stop, stop)}"


def state_words(state: State, layout: Layout, about: str = "", met: str = "") -> str:
    """A state in words: `in reverse, belts tight, seat full back`; empty where nothing moves.

    What stands where it belongs, a vessel or a backrest, is not worth a word, nor is the name of the thing it is
    `about`, whose own stops come first behind the gear. A seat that is `met`, or that whoever it is about sits in,
    is the seat, as long as no other seat is named.
    """
    ordered = sorted(state, key=lambda pair: _telling_rank(pair[0], about))
    told = [pair for pair in ordered if (axis_name(pair[0]), pair[1]) not in _AS_IT_BELONGS]
    seats = {axis.rpartition(".")[0] for axis, _ in told if axis_name(axis) in ("notch", "recline")}
    plain = seats if len(seats) == 1 and seats <= {met, _seat_of(about, layout)} else set()
    return ", ".join(
        stop_words(axis, stop, layout, about, plain_seat=axis.rpartition(".")[0] in plain)
        for axis, stop in told
    )


def _telling_rank(axis: str, about: str) -> tuple[bool, bool, tuple[int, str]]:
    return axis_name(axis) != "gear", axis.rpartition(".")[0] != about, axis_rank(axis)


def _seat_of(id: str, layout: Layout) -> str:
    """The seat that somebody sits in or a buckle belongs to."""
    of_people = {person.id: person.seat_id for person in layout.people}
    return (of_people | {buckle.id: buckle.seat_id for buckle in layout.of(Buckle)}).get(id, "")


def state_title(state: State, layout: Layout, about: str = "", met: str = "") -> str:
    """A state for a row: as state_words, the gear without its preposition (`reverse, belts tight`)."""
    return state_words(state, layout, about, met).removeprefix(words.IN_GEAR.format(gear=""))


# --- places -----------------------------------------------------------------------------------------------------


def place_text(point: Point, layout: Layout, system: System = "mm") -> str:
    """A point in car axes [mm] as a builder says it: `640 rear, 30 passenger side, 212 up`."""
    x, y, z = point

    def shown(value: float) -> str:
        return show_length(abs(value), system, digits=0)

    right = words.PASSENGER_SIDE if layout.driver_side == "left" else words.DRIVER_SIDE
    left = words.DRIVER_SIDE if layout.driver_side == "left" else words.PASSENGER_SIDE
    across = words.ON_CENTRE if shown(y) == "0" else (right if y > 0 else left).format(n=shown(y))
    along = (words.FRONT if x < 0 and shown(x) != "0" else words.REAR).format(n=shown(x))
    height = (words.DOWN if z < 0 and shown(z) != "0" else words.UP).format(n=shown(z))
    return f"{along}, {across}, {height}"
