"""The lever that a wanted knob needs, told for the papers and in the card's words."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from floorpan.advice.lever_for_knob import LeverAnswer
from floorpan.advice.lever_remarks import LeverRemark, lever_remarks
from floorpan.advice.lever_sums import LeverReadings
from floorpan.advice.lever_words import model_remarks, what_stops
from floorpan.frames import Vector
from floorpan.layout import Layout
from floorpan.report import lever_words as said
from floorpan.report.blocks import Block, Cell, Column, Heading, Prose, Table
from floorpan.report.naming import capital, place_text
from floorpan.units import System, show_length, show_number

# Less than this of a change is rounding and no change.
_LEAST_MM, _LEAST_DEG = 0.05, 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class NowThen:
    """One figure of the present lever and of the one that is needed."""

    what: str
    is_now: str
    will_be: str


def lever_blocks(
    layout: Layout, target_mm: Vector | None, answer: LeverAnswer | None, system: System
) -> tuple[Block, ...]:
    """The section on the lever; nothing while nobody decided where the knob shall be."""
    return tuple(_blocks(layout, target_mm, answer, system)) if target_mm and answer else ()


def answer_text(answer: LeverAnswer, system: System) -> str:
    """What to do in one sentence, or how far the knob stays off and what holds it there."""
    if _gets_there(answer, system):
        deeds = _deeds(answer, system)
        if not deeds:
            return said.NO_CHANGE
        told = capital(said.THEN.join(deeds))
        if len(deeds) > 1:
            return f"{told}."
        alone = said.COMMA_AND_NOTHING_ELSE if "," in told else said.AND_NOTHING_ELSE
        return alone.format(deed=told)
    short, stops = _length(answer.short_mm, system), what_stops(answer)
    if not stops:
        return said.SHORT_UNSAID.format(short=short)
    return said.SHORT.format(short=short, why=said.AND.join(stops[:2]))


def nearest_text(answer: LeverAnswer, system: System) -> str:
    """What brings the knob as near as it comes; "" where it gets there, or where nothing brings it nearer."""
    deeds = () if _gets_there(answer, system) else _deeds(answer, system)
    return said.AS_NEAR.format(deed=said.THEN.join(deeds)) if deeds else ""


def now_then_rows(answer: LeverAnswer, system: System) -> tuple[NowThen, ...]:
    """The figures of both levers, in the order they are read."""
    now, then = answer.present, answer.readings

    def row(what: str, one: float, other: float) -> NowThen:
        return NowThen(what=what, is_now=_length(one, system), will_be=_length(other, system))

    cut = _size(answer.shifter.opening_length_mm, answer.shifter.opening_width_mm, system)
    across = row(said.CROSS, now.travel.plain_cross_mm, then.travel.plain_cross_mm)
    return (
        row(said.LENGTH, now.rod_mm, then.rod_mm),
        row(said.THROW, now.travel.plain_mm, then.travel.plain_mm),
        *((across,) if answer.shifter.gate == "manual" else ()),
        row(said.OVER_FOOT, now.knob_over_foot_mm, then.knob_over_foot_mm),
        NowThen(what=said.NEEDED, is_now=_needed(now, system), will_be=_needed(then, system)),
        NowThen(what=said.CUT, is_now=cut, will_be=cut),
        row(said.SPARE, now.spare_mm, then.spare_mm),
        NowThen(
            what=said.EFFORT,
            is_now=said.TIMES.format(n=show_number(now.effort, 2)),
            will_be=said.TIMES.format(n=show_number(then.effort, 2)),
        ),
    )


def opening_text(answer: LeverAnswer, system: System) -> str:
    """What the opening that is cut lacks for the new lever; "" where it lacks nothing."""
    lacking = -answer.readings.spare_mm
    if lacking <= 0.0 or _length(lacking, system) == _length(0.0, system):
        return ""
    told = said.MEETS_EDGE if answer.readings.meets_opening else said.TOO_SMALL
    return told.format(n=_length(lacking, system))


def margin_text(answer: LeverAnswer, system: System) -> str:
    """What the opening has beyond the lever's sweep, and where that comes from."""
    need = answer.readings.opening
    return said.MARGIN.format(margin=_length(need.margin_mm, system), source=need.margin_source)


def remark_texts(answer: LeverAnswer, system: System, *, unusual_only: bool = False) -> tuple[str, ...]:
    """Sentences on the new lever beside what is usual, each with its source."""
    remarks = lever_remarks(answer.shifter, answer.readings)
    return tuple(_remark(one, system) for one in remarks if not (unusual_only and one.usual))


def _blocks(
    layout: Layout, target_mm: Vector | None, answer: LeverAnswer | None, system: System
) -> Iterator[Block]:
    assert target_mm is not None
    assert answer is not None
    yield Heading(text=said.LEVER, level=2)
    yield Prose(text=said.TARGET.format(place=place_text(target_mm, layout, system)), role="second")
    yield Prose(text=" ".join(filter(None, (answer_text(answer, system), nearest_text(answer, system)))))
    yield Table(
        columns=(
            Column(title=said.COL_WHAT, share=0.5),
            Column(title=said.COL_NOW, share=0.25, align="right"),
            Column(title=said.COL_THEN, share=0.25, align="right"),
        ),
        rows=tuple(
            (
                Cell(text=row.what),
                Cell(text=row.is_now),
                Cell(text=row.will_be, bold=row.is_now != row.will_be),
            )
            for row in now_then_rows(answer, system)
        ),
        width=0.7,
    )
    lacks = opening_text(answer, system)
    if lacks:
        yield Prose(text=lacks)
    for text in (margin_text(answer, system), *model_remarks(answer, system)):
        yield Prose(text=text, role="second")
    for number, text in enumerate(remark_texts(answer, system)):
        yield Prose(text=text, role="second", lead="" if number else said.REMARKS)
    yield Prose(text=said.CAUTION, role="caution", lead=said.CAUTION_LEAD)


def _gets_there(answer: LeverAnswer, system: System) -> bool:
    """Whether the knob comes on its target as far as lengths are told."""
    return answer.met or _length(answer.short_mm, system) == _length(0.0, system)


def _deeds(answer: LeverAnswer, system: System) -> tuple[str, ...]:
    """What is done to the lever and to the box, the least trouble first."""
    x, y, z = answer.box_move_mm
    told = [_lever(answer, system)]
    if z >= _LEAST_MM:
        told.append(said.RAISE.format(n=_length(z, system)))
    if abs(answer.tilt_deg) >= _LEAST_DEG:
        tilt = said.TILT_BACK if answer.tilt_deg > 0.0 else said.TILT_FORWARD
        told.append(tilt.format(deg=show_number(abs(answer.tilt_deg))))
    ways = [
        (forth if by > 0.0 else back).format(n=_length(abs(by), system))
        for by, forth, back in ((x, said.REARWARD, said.FORWARD), (y, said.RIGHT, said.LEFT))
        if abs(by) >= _LEAST_MM
    ]
    if ways:
        told.append(said.MOVE.format(ways=said.AND.join(ways)))
    return tuple(filter(None, told))


def _lever(answer: LeverAnswer, system: System) -> str:
    """What becomes of the lever; "" where it stays."""
    longer = answer.readings.rod_mm - answer.present.rod_mm
    length = ""
    if abs(longer) >= _LEAST_MM:
        length = (said.LONGER if longer > 0.0 else said.SHORTER).format(n=_length(abs(longer), system))
    if _same_bend(answer.present, answer.readings):
        return length
    if answer.bend is None:
        return ", ".join(filter(None, (length, said.MADE_STRAIGHT)))
    bent = bend_text(answer, system)
    return f"{length}, {bent}" if length else said.BENT_LEVER.format(bent=bent)


def bend_text(answer: LeverAnswer, system: System) -> str:
    """`bent 12\u00b0 rearward, 40 mm below the boot's edge`; "" for a straight lever."""
    bend = answer.bend
    if bend is None:
        return ""
    way = said.WAYS[round(bend.towards_deg / 45.0) % 8]
    below = answer.shifter.boot_mm - bend.at_mm
    told = said.BENT if below >= 0.0 else said.BENT_OVER
    return told.format(deg=show_number(bend.deg), way=way, n=_length(abs(below), system))


def _same_bend(one: LeverReadings, other: LeverReadings) -> bool:
    a, b = one.bend, other.bend
    if a is None or b is None:
        return a is b
    turned = math.remainder(a.towards_deg - b.towards_deg, 360.0)
    return (
        abs(a.deg - b.deg) < _LEAST_DEG and abs(a.at_mm - b.at_mm) < _LEAST_MM and abs(turned) * a.deg < 1.0
    )


def _needed(readings: LeverReadings, system: System) -> str:
    return _size(readings.opening.length_mm, readings.opening.width_mm, system)


def _size(length_mm: float, width_mm: float, system: System) -> str:
    """Whole millimetres or sixteenths, the unit once."""
    length, width = show_length(length_mm, system, digits=0), show_length(width_mm, system, digits=0)
    return said.SIZE.format(length=length, width=f"{width} {system}")


def _length(mm: float, system: System) -> str:
    return show_length(mm, system, digits=0, with_unit=True)


def _remark(remark: LeverRemark, system: System) -> str:
    def shown(value: float) -> str:
        return _length(value, system) if remark.unit == "mm" else f"{show_number(value)}\u00b0"

    told = said.USUAL_BETWEEN
    if remark.least is None or remark.most is None:
        told = said.USUAL_LEAST if remark.most is None else said.USUAL_MOST
    return told.format(
        about=remark.about,
        value=shown(remark.value),
        least="" if remark.least is None else shown(remark.least),
        most="" if remark.most is None else shown(remark.most),
        source=remark.source,
    )
