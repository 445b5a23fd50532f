"""Where the knob should be, told for the papers and in the card's words."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from floorpan.advice.knob_costs import Worse
from floorpan.advice.knob_for_driver import LOOKED_AT_MM, NOT_LOOKED, KnobAdvice
from floorpan.advice.knob_question import NEUTRAL, Cause
from floorpan.advice.knob_region import KnobRegion, KnobSide
from floorpan.advice.scan_limit import MOST_LOST_MM
from floorpan.checks import Finding
from floorpan.frames import Floats, Vector
from floorpan.layout import Layout
from floorpan.report import knob_words as said
from floorpan.report.amounts import value_text
from floorpan.report.blocks import Block, Cell, Column, Heading, Prose, Table
from floorpan.report.naming import capital, gear_name, small
from floorpan.report.sentences import short_title
from floorpan.units import System, show_length, show_number

# A side that is less than this share of the surface is no side to speak of.
_LEAST_SHARE = 0.01
_MOST_NAMED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class SideRow:
    """One side of the region in words.

    side  : `front`, or `rear, above` where nobody looked further
    what  : `elbow too straight`; detail in which gear and for whom it is most of the side
    share : of the whole surface, in percent
    limits : whether it keeps a driver off; False where only nobody looked further
    """

    side: str
    what: str
    detail: str
    share: str
    limits: bool


def knob_blocks(
    advice: KnobAdvice | None, layout: Layout, system: System, worse: tuple[Worse, ...] | None = None
) -> tuple[Block, ...]:
    """The section on the knob's place; nothing where nobody drives or nothing is shifted.

    worse : what gets worse there; None where nobody looked
    """
    return tuple(_blocks(advice, worse, layout, system)) if advice is not None else ()


def answer_text(advice: KnobAdvice, layout: Layout, system: System) -> str:
    """What to do in one sentence, or why no place will do."""
    ways = ways_text(advice.by_mm, layout, system)
    if advice.move is None:
        return _no_place(advice.region, ways or said.WHERE_IT_IS, system)
    if advice.move.inside:
        room = _length(advice.move.margin_mm, system)
        return said.WELL.format(room=room, cause=cause_text(advice.move.cause))
    return said.MOVE.format(ways=ways or said.WHERE_IT_IS)


def now_text(advice: KnobAdvice, system: System) -> str:
    """What is wrong with the present place; "" where nothing is."""
    now = advice.region.margin_at(advice.region.question.present_mm)
    if now.margin_mm >= 0.0:
        return ""
    return said.NOW.format(
        gear=_gear_text(now.cause), short=_length(-now.margin_mm, system), why=_why_text(now.cause)
    )


def worse_text(advice: KnobAdvice, worse: tuple[Worse, ...] | None, layout: Layout, system: System) -> str:
    """What gets worse where the knob should be, the worst by name; "" where it stays or nobody looked (None)."""
    if worse is None or advice.by_mm == (0.0, 0.0, 0.0):
        return ""
    lost = [one for one in worse if one.there.verdict != "unseen"]
    unseen = len(worse) - len(lost)
    more = said.UNSEEN[unseen > 1].format(n=unseen) if unseen else ""
    if not lost:
        return said.NONE_WORSE.format(more=more)
    first = lost[0]
    return said.WORSE.format(
        title=small(short_title(first.there, layout)),
        there=_shown(first.there, system),
        now=_shown(first.here, system),
        more=f"{said.MORE.format(n=len(lost) - 1) if len(lost) > 1 else ''}{more}",
    )


def ways_text(by_mm: Vector, layout: Layout, system: System) -> str:
    """A move in car axes [mm] as `9 rearward, 4 to the driver side, 4 up`; "" for none that can be told."""
    right = (said.TO_PASSENGER, said.TO_DRIVER)
    left, right_word = reversed(right) if layout.driver_side == "left" else right
    ways = ((said.FORWARD, said.REARWARD), (left, right_word), (said.DOWN, said.UP))
    told = []
    for value, (less, more) in zip(by_mm, ways, strict=True):
        shown = show_length(abs(value), system, digits=0)
        if shown != "0":
            shown = show_length(abs(value), system, digits=0, with_unit=system == "in")
            told.append((more if value > 0.0 else less).format(n=shown))
    return said.THEN.join(told)


def cause_text(cause: Cause) -> str:
    """`elbow too straight in 5th`, `thigh in 1st`."""
    name = said.NAMES.get(cause.name, cause.name)
    return name if cause.gear == NEUTRAL else said.IN_GEAR.format(name=name, gear=gear_name(cause.gear))


def side_rows(advice: KnobAdvice, layout: Layout, system: System) -> tuple[SideRow, ...]:
    """What limits on which side, the largest first."""
    return tuple(_row(advice.region, side, layout, system) for side in told_sides(advice))


def told_sides(advice: KnobAdvice) -> tuple[KnobSide, ...]:
    """The sides worth a word, the largest first; last where only nobody looked further."""
    worth = (side for side in advice.sides if side.share >= _LEAST_SHARE)
    return tuple(sorted(worth, key=lambda side: side.name == NOT_LOOKED))


def note_text(advice: KnobAdvice, system: System) -> str:
    """For whom that holds, and where it was looked for."""
    return said.NOTE.format(
        clear=_length(advice.clear_mm, system),
        lost=_length(MOST_LOST_MM, system),
        looked=_length(LOOKED_AT_MM, system),
    )


def _blocks(
    advice: KnobAdvice, worse: tuple[Worse, ...] | None, layout: Layout, system: System
) -> Iterator[Block]:
    yield Heading(text=said.KNOB, level=2)
    told = (
        answer_text(advice, layout, system),
        now_text(advice, system),
        worse_text(advice, worse, layout, system),
    )
    yield Prose(text=" ".join(filter(None, told)))
    rows = side_rows(advice, layout, system)
    if rows:
        yield Table(
            columns=(
                Column(title=said.COL_SIDE, share=0.22),
                Column(title=said.COL_LIMIT, share=0.28),
                Column(title=said.COL_WHERE, share=0.34),
                Column(title=said.COL_SHARE, share=0.16, align="right"),
            ),
            rows=tuple(
                (
                    Cell(text=capital(row.side)),
                    Cell(text=capital(row.what), bold=row.limits),
                    Cell(text=row.detail),
                    Cell(text=row.share),
                )
                for row in rows
            ),
        )
    yield Prose(text=note_text(advice, system), role="second")


def _no_place(region: KnobRegion, ways: str, system: System) -> str:
    roomiest = region.roomiest
    if roomiest.at_most_mm >= 0.0:
        return said.NOT_FOUND.format(room=_length(roomiest.at_most_mm, system), ways=ways)
    short = _length(-roomiest.margin_mm, system)
    first: dict[str, Cause] = {}
    for cause in roomiest.causes:
        first.setdefault(cause.name, cause)
    bounded = first.pop(NOT_LOOKED, None) is not None
    named = [cause_text(cause) for cause in first.values()][:_MOST_NAMED]
    clash = said.AND.join(filter(None, (said.THEN.join(named[:-1]), *named[-1:])))
    if bounded and named:
        return said.NONE_NEAR.format(
            looked=_length(LOOKED_AT_MM, system), clash=clash, short=short, ways=ways
        )
    if len(named) > 1:
        return said.CLASH.format(clash=clash, short=short, ways=ways)
    cause = next(iter(roomiest.causes))
    return said.LACKS.format(gear=_gear_text(cause), short=short, why=_why_text(cause), ways=ways)


def _gear_text(cause: Cause) -> str:
    return said.ANY_GEAR if cause.gear == NEUTRAL else gear_name(cause.gear)


def _why_text(cause: Cause) -> str:
    """`elbow too straight`, `too near the thigh`."""
    what = said.NAMES.get(cause.name, cause.name)
    return said.ARM.get(cause.name) or said.TOO_NEAR.format(
        what=what if what.startswith(said.THE) else f"{said.THE}{what}"
    )


def _row(region: KnobRegion, side: KnobSide, layout: Layout, system: System) -> SideRow:
    limits = side.name != NOT_LOOKED
    if limits:
        where = _side_of(_way_out(region, side), layout)
        gear = said.IN_GEAR.format(name="", gear=gear_name(side.cause.gear)).strip()
        detail = said.THEN.join(filter(None, (gear, _whose(side.cause.arm, layout))))
    else:
        where = _together(tuple(_sides_not_looked(region, layout)))
        detail = said.LOOKED.format(looked=_length(LOOKED_AT_MM, system))
    return SideRow(
        side=where,
        what=said.NAMES.get(side.name, side.name) if limits else said.NOT_LOOKED,
        detail=detail,
        share=show_number(100.0 * side.share, 0),
        limits=limits,
    )


def _whose(arm: str, layout: Layout) -> str:
    """Whose arm at which notch; no name where one drives alone."""
    alone = sum(person.role == "driver" for person in layout.people) < 2
    return arm.rpartition(said.THEN)[2] if alone else arm


def _way_out(region: KnobRegion, side: KnobSide) -> Floats:
    """The way (3,) in which the room to what limits a side falls."""
    term = region.question.terms[region.causes.index(side.cause)]
    steps = region.field.spacing_mm * np.eye(3)
    at = np.array(side.at_mm)
    way: Floats = term.margin(at - steps) - term.margin(at + steps)
    return way


def _sides_not_looked(region: KnobRegion, layout: Layout) -> Iterator[str]:
    """The sides on which the region goes on to the end of what was looked at."""
    inside = region.field.places(np.argwhere(region.field.margin >= 0.0))
    off = inside - np.array(region.question.present_mm)
    end = LOOKED_AT_MM - region.field.spacing_mm
    for axis in range(3):
        for way, reaches in ((-1.0, off[:, axis].min() <= -end), (1.0, off[:, axis].max() >= end)):
            if reaches:
                yield _side_of(way * np.eye(3)[axis], layout)


def _together(sides: tuple[str, ...]) -> str:
    """Sides in words; driver side and passenger side together are both sides."""
    across = (said.DRIVER_SIDE, said.PASSENGER_SIDE)
    if not set(across) <= set(sides):
        return said.THEN.join(sides)
    first = min(sides.index(side) for side in across)
    others = [side for side in sides if side not in across]
    return said.THEN.join((*others[:first], said.BOTH_SIDES, *others[first:]))


def _side_of(way: Floats, layout: Layout) -> str:
    """The side of the region that lies most along a way in car axes."""
    axis = int(np.abs(way).argmax())
    sign = 1 if way[axis] > 0.0 else -1
    if axis == 1:
        on_right = (layout.driver_side == "right") == (sign > 0)
        return said.DRIVER_SIDE if on_right else said.PASSENGER_SIDE
    return said.SIDES[axis, sign]


def _shown(finding: Finding, system: System) -> str:
    """A value as a table shows it; in inches with its unit, like every length here."""
    in_inches = system == "in" and finding.limit.unit == "mm" and finding.value is not None
    return f"{value_text(finding, system)} in" if in_inches else value_text(finding, system)


def _length(mm: float, system: System) -> str:
    return show_length(mm, system, digits=0, with_unit=True)
