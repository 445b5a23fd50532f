"""The papers' section on the driver: sizes, how they sit, the reach of every gear, and what follows from it."""

from collections.abc import Iterator, Sequence

from floorpan.checks.finding import Finding, rank
from floorpan.derive import knob_in_neutral
from floorpan.driver import LINKS, Person
from floorpan.driver.body_figures import measures, source
from floorpan.driver.filling import link_u_mm
from floorpan.driver.hand_reach_plane import HandReachPlane
from floorpan.fields import rules
from floorpan.items import Seat, Shifter
from floorpan.items.shifter_gate import gate_table
from floorpan.items.states import stops_of
from floorpan.layout import Layout
from floorpan.report import driver_page_words as said
from floorpan.report import words
from floorpan.report.amounts import give_or_take_text, value_text
from floorpan.report.armrest_told import armrest_blocks
from floorpan.report.blocks import Block, Cell, Column, Heading, Prose, Table
from floorpan.report.driver_facts import DriverFacts
from floorpan.report.driver_told import moved_blocks, population_blocks
from floorpan.report.knob_told import knob_blocks
from floorpan.report.lever_told import lever_blocks
from floorpan.report.naming import called, capital, gear_name, place_text
from floorpan.report.sentences import sentence
from floorpan.units import System, show_length, show_number

_MOST_NOTCHES = 4


def driver_pages(
    layout: Layout, findings: Sequence[Finding], facts: DriverFacts | None, system: System
) -> Iterator[Block]:
    """Everything about the people; nothing where nobody sits."""
    if not layout.people:
        return
    yield Heading(text=said.DRIVER, room=0.4)
    yield Prose(text=said.NOTE.format(unit=system), role="second")
    for person in layout.people:
        yield from _person(person, layout, system)
        if person.role == "driver":
            yield from _reach(person, layout, findings, system)
    if any(person.not_taped for person in layout.people):
        yield Prose(text=said.SURVEY.format(source=source()), role="second")
    if facts is None:
        return
    yield from _elbow(facts, layout, system)
    yield from armrest_blocks(facts.armrests, layout, system)
    yield from moved_blocks(facts.moved, system)
    yield from population_blocks(facts.population)
    yield from knob_blocks(facts.knob, layout, system, facts.worse)
    yield from lever_blocks(layout, layout.knob_target_mm, facts.lever, system)
    if facts.no_lever:
        yield Prose(text=facts.no_lever)
    yield from _plane(facts, layout, system)


def _person(person: Person, layout: Layout, system: System) -> Iterator[Block]:
    seat = called(person.seat_id, layout).bare
    yield Heading(text=said.SIZES_OF.format(name=person.name, seat=seat), level=2)
    yield Table(
        columns=(
            Column(title=said.COL_SIZE, share=0.4),
            Column(title=said.COL_LENGTH.format(unit=system), share=0.25, align="right"),
            Column(title=said.COL_FROM, share=0.35),
        ),
        rows=(
            *(_link_row(person, link, system) for link in LINKS),
            *(_size_row(one.measure, one.size, one.percent, system) for one in person.sizes),
        ),
        width=0.75,
        tight=True,
    )
    yield Prose(text=" ".join(_sits(person, layout, system)), role="second")


def _link_row(person: Person, link: str, system: System) -> tuple[Cell, ...]:
    u = show_length(float(round(link_u_mm(person, link))), system, parts=32)
    length = show_length(getattr(person, link), system)
    return (
        Cell(text=rules(Person)[link].label),
        Cell(text=f"{length} {words.GIVE_OR_TAKE.format(u=u)}", bold=True),
        Cell(text=said.FOLLOWS if link in person.not_taped else said.TAPED),
    )


def _size_row(measure: str, size: float, percent: float | None, system: System) -> tuple[Cell, ...]:
    one = next(held for held in measures() if held.key == measure)
    shown = show_length(size, system) if one.unit == "mm" else f"{show_number(size, 1)} {one.unit}"
    told = said.TAPED if percent is None else said.BY_PERCENTILE.format(n=show_number(percent, 1))
    return Cell(text=one.label), Cell(text=shown, bold=True), Cell(text=told)


def _sits(person: Person, layout: Layout, system: System) -> Iterator[str]:
    def told(mm: float) -> str:
        return show_length(mm, system, with_unit=True)

    own = (person.hip_back_mm, person.hip_right_mm, person.hip_up_mm)
    if any(own) or person.lean_off_deg:
        back, right, up = (told(mm) for mm in own)
        yield said.SITS.format(
            back=back, right=right, up=up, lean=f"{show_number(person.lean_off_deg)}\u00b0 further"
        )
    seat = next((one for one in layout.of(Seat) if one.id == person.seat_id), None)
    if seat is not None and seat.foam_mm:
        yield said.FOAM.format(foam=told(seat.foam_mm))
    yield said.WEARS.format(
        glove=told(person.glove_mm),
        jacket=told(person.jacket_mm),
        sole=told(person.shoe_mm),
        helmet=told(person.helmet_mm),
    )
    yield said.LOOSE.format(
        forward=told(person.loose_forward_mm), turn=f"{show_number(person.loose_turn_deg)}\u00b0"
    )


def _reach(person: Person, layout: Layout, findings: Sequence[Finding], system: System) -> Iterator[Block]:
    """A row a gear, a column for each used notch and belts."""
    own = [one for one in findings if one.subjects[0] == f"{person.id}.hand"]
    tight, loose = (
        [one for one in own if one.check == "reach" and _belts(one) == belts] for belts in ("tight", "loose")
    )
    if not tight:
        return
    yield Heading(text=said.REACH, level=2)
    worst = min(tight, key=rank)
    yield Prose(text=said.WORST.format(sentence=sentence(worst, layout, system)))
    shifter = next(iter(layout.of(Shifter)))
    for group in _grouped(person.notches_used):
        columns = [(said.COL_TIGHT, n, tight) for n in group] + [(said.COL_LOOSE, n, loose) for n in group]
        gears = list(
            dict.fromkeys(stops_of(one.state, shifter.id)["gear"] for one in _in_gate_order(tight, shifter))
        )
        yield Table(
            columns=(
                Column(title=said.COL_GEAR, share=0.16),
                *(
                    Column(title=title.format(n=n), share=0.84 / len(columns), align="right")
                    for title, n, _ in columns
                ),
            ),
            rows=tuple(
                (
                    Cell(text=capital(gear_name(gear)), bold=True),
                    *(_cell(_of(held, person, shifter, gear, n), system) for _, n, held in columns),
                )
                for gear in gears
            ),
            tight=True,
        )
    limited = {
        gear_name(stops_of(one.state, shifter.id)["gear"]): words.NOTES.get(one.note, one.note)
        for one in sorted(tight, key=rank, reverse=True)
        if words.NOTES.get(one.note, one.note)
    }
    if limited:
        told = (said.LIMITS.format(gear=capital(gear), note=note) for gear, note in limited.items())
        yield Prose(text=" ".join(told), role="second")


def _grouped(notches: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    ordered = tuple(sorted(notches))
    for first in range(0, len(ordered), _MOST_NOTCHES):
        yield ordered[first : first + _MOST_NOTCHES]


def _in_gate_order(findings: Sequence[Finding], shifter: Shifter) -> list[Finding]:
    order = {place.gear: number for number, place in enumerate(gate_table(shifter))}
    return sorted(findings, key=lambda one: order.get(stops_of(one.state, shifter.id)["gear"], len(order)))


def _belts(finding: Finding) -> str:
    return next((stop for axis, stop in finding.state if axis.endswith(".belts")), "")


def _of(
    findings: Sequence[Finding], person: Person, shifter: Shifter, gear: str, notch: int
) -> Finding | None:
    wanted = {f"{shifter.id}.gear": gear, f"{person.seat_id}.notch": str(notch)}
    return next((one for one in findings if wanted.items() <= dict(one.state).items()), None)


def _cell(finding: Finding | None, system: System) -> Cell:
    if finding is None:
        return Cell(text=words.NOT_JUDGED, muted=True)
    text = f"{value_text(finding, system)} {give_or_take_text(finding, system)}".strip()
    return Cell(text=text, verdict=finding.verdict)


def _elbow(facts: DriverFacts, layout: Layout, system: System) -> Iterator[Block]:
    if not facts.elbow:
        return
    yield Heading(text=said.ELBOW, level=2)
    yield Prose(text=said.ELBOW_NOTE.format(notch=facts.notch), role="second")
    yield Table(
        columns=(
            Column(title=said.COL_GEAR, share=0.14),
            Column(title=said.COL_AT, share=0.4),
            Column(title=said.COL_ANGLE, share=0.12, align="right"),
            Column(title=said.COL_ROOM.format(unit=system), share=0.14, align="right"),
            Column(title=said.COL_HELD, share=0.2),
        ),
        rows=tuple(
            (
                Cell(text=capital(gear_name(one.gear)), bold=True),
                Cell(text=place_text(one.posed.elbow_mm, layout, system)),
                Cell(text=f"{show_number(one.posed.elbow_deg, 0)}\u00b0"),
                Cell(
                    text=show_length(one.gap_mm, system, digits=0) if one.gap_mm < 1e6 else words.NOT_JUDGED
                ),
                Cell(text=said.FREE if one.stopped_by == "nothing" else one.stopped_by),
            )
            for one in facts.elbow
        ),
        tight=True,
    )


def _plane(facts: DriverFacts, layout: Layout, system: System) -> Iterator[Block]:
    if facts.plane is None and not facts.no_plane:
        return
    yield Heading(text=said.PLANE, level=2)
    if facts.plane is None:
        yield Prose(text=facts.no_plane)
        return
    yield Prose(text=f"{plane_text(facts.plane, layout, system)} {facts.plane.source}")


def plane_text(plane: HandReachPlane, layout: Layout, system: System) -> str:
    """Where the published plane stands, and whether its tables speak of the knob in neutral."""
    at = said.PLANE_AT.format(x=show_length(plane.x_mm, system, with_unit=True))
    shifter = next(iter(layout.of(Shifter)), None)
    if shifter is None:
        return at
    cover = plane.covers(knob_in_neutral(shifter))
    why = ", ".join(said.WHYS[one] for one in cover.why if one in said.WHYS)
    return f"{at} {said.PLANE_COVERS if cover.covered else said.PLANE_NOT.format(why=why)}"
