"""The fit report as blocks: the first page."""

from collections.abc import Iterable, Sequence

from floorpan.checks.finding import Finding
from floorpan.items import Shifter, Vessel
from floorpan.layout import Layout
from floorpan.report import paper_words as said
from floorpan.report import words
from floorpan.report.amounts import give_or_take_text, value_text
from floorpan.report.blocks import (
    Beside,
    Block,
    Cell,
    Column,
    Heading,
    Paper,
    Prose,
    Signature,
    Spot,
    Table,
    Title,
)
from floorpan.report.cautions import first_line, scan_doubt_text
from floorpan.report.facts import ReportFacts
from floorpan.report.gate_card import GearLine, gate_card, gear_lines
from floorpan.report.naming import axis_name, called
from floorpan.report.pages import later_pages
from floorpan.report.rows import PairRow, pair_rows, row_of, tight_spot
from floorpan.report.sentences import short_title
from floorpan.report.tally import count_text, tally, tally_text
from floorpan.units import System

MOST_ON_FIRST = 14


def fit_report(
    layout: Layout,
    findings: Sequence[Finding],
    facts: ReportFacts,
    system: System = "mm",
    *,
    width_mm: float = 174.0,
    most_rows: int = MOST_ON_FIRST,
) -> Paper:
    """The whole paper. `most_rows` pairs at most stand on the first page, width_mm is what a drawing may take."""
    project = facts.project or layout.title
    return Paper(
        title=said.TITLE.format(report=said.REPORT, project=project),
        subject=said.REPORT,
        first_page=first_page(layout, findings, facts, system, most_rows=most_rows),
        pages=later_pages(layout, findings, facts, system, width_mm),
        owner=project,
        foot=_foot(layout, facts, system),
    )


def _foot(layout: Layout, facts: ReportFacts, system: System) -> str:
    doubt = scan_doubt_text(layout, system)
    return said.FOOT.format(
        layout=said.FOOT_LAYOUT.format(name=facts.layout_version) if facts.layout_version else "",
        version=facts.version,
        scan=said.FOOT_SCAN.format(u=doubt) if doubt else said.FOOT_NO_SCAN,
        unit=system,
    )


def first_page(
    layout: Layout, findings: Sequence[Finding], facts: ReportFacts, system: System, *, most_rows: int
) -> tuple[Block, ...]:
    """Caution first, then the tight spot, what fails and what was not seen, gears, what was not checked."""
    return (
        Title(
            name=said.REPORT,
            project=facts.project or layout.title,
            edition=said.EDITIONS[facts.edition],
            date=facts.date,
        ),
        Prose(text=first_line(layout, system), role="caution"),
        _spot(layout, findings, system),
        *_failing(layout, findings, system, most_rows),
        *_gears(layout, findings, system),
        Heading(text=said.NOT_CHECKED, level=2),
        Prose(text=" ".join(not_checked(layout, findings, facts)), role="second"),
        Signature(under=said.SIGN),
    )


def _spot(layout: Layout, findings: Sequence[Finding], system: System) -> Spot:
    worst = tight_spot(findings)
    if worst is None:
        return Spot(verdict=None, sentence=said.NOTHING_YET)
    row = row_of(worst, layout, system)
    return Spot(verdict=worst.verdict, sentence=row.sentence, second=tally_text(findings), cure=row.cure)


def _failing(layout: Layout, findings: Sequence[Finding], system: System, most_rows: int) -> list[Block]:
    pairs = pair_rows(findings, layout, system, only=("hits", "short", "unseen"))
    heading = Heading(text=said.FAILS, level=2)
    if not pairs:
        return [heading, Prose(text=said.NOTHING_FAILS, role="second")] if findings else []
    shown, left = pairs[:most_rows], len(pairs) - most_rows
    table = Table(
        columns=(
            Column(title=said.COL_WHAT, share=0.64),
            Column(title=said.COL_VALUE.format(unit=system), share=0.2, align="right"),
            Column(title=said.COL_WANTED, share=0.16, align="right"),
        ),
        rows=tuple(_failing_row(pair, layout) for pair in shown),
    )
    blocks: list[Block] = [heading, table]
    if left > 0:
        told = words.ONE_MORE_PAIR if left == 1 else words.MORE_PAIRS.format(n=left)
        blocks.append(Prose(text=told, role="second"))
    return blocks


def _failing_row(pair: PairRow, layout: Layout) -> tuple[Cell, ...]:
    row = pair.row
    others = words.ONE_MORE_STATE if pair.others == 1 else words.MORE_STATES.format(n=pair.others)
    return (
        Cell(
            text=short_title(row.finding, layout),
            second=others if pair.others else "",
            verdict=row.finding.verdict,
        ),
        Cell(text=f"{row.value} {row.give_or_take}".strip(), bold=True),
        Cell(text=row.wanted),
    )


def _gears(layout: Layout, findings: Sequence[Finding], system: System) -> list[Block]:
    blocks: list[Block] = []
    shifters = layout.of(Shifter)
    for shifter in shifters:
        lines = gear_lines(findings, shifter)
        if all(line.worst is None for line in lines):
            continue
        told = said.GEARS if len(shifters) == 1 else said.GEARS_OF.format(name=shifter.name)
        blocks += [
            Heading(text=told, level=2),
            Beside(drawing=gate_card(lines, shifter), table=_gear_table(lines, layout, system)),
            Prose(text=said.GEARS_NOTE, role="second"),
        ]
    return blocks


def _gear_table(lines: Iterable[GearLine], layout: Layout, system: System) -> Table:
    return Table(
        columns=(
            Column(title=said.COL_GEAR, share=0.2),
            Column(title=said.COL_REACH.format(unit=system), share=0.3, align="right"),
            Column(title=said.COL_ELBOW, share=0.23, align="right"),
            Column(title=said.COL_LEAST.format(unit=system), share=0.27, align="right"),
        ),
        rows=tuple(
            (
                Cell(text=line.title, bold=True),
                _told(line.reach, system, _whose(line.reach, layout)),
                _told(line.elbow, system),
                _told(line.gap, system),
            )
            for line in lines
            if line.worst is not None
        ),
        tight=True,
    )


def _whose(reach: Finding | None, layout: Layout) -> str:
    """`Alex, notch 5`, where several drive."""
    drivers = [person for person in layout.people if person.role == "driver"]
    if reach is None or len(drivers) < 2:
        return ""
    owner = reach.subjects[0].partition(".")[0]
    name = next((person.name for person in drivers if person.id == owner), owner)
    notch = next((stop for axis, stop in reach.state if axis_name(axis) == "notch"), "")
    return said.REACH_AT.format(name=name, notch=notch) if notch else name


def _told(finding: Finding | None, system: System, whose: str = "") -> Cell:
    if finding is None:
        return Cell(text=words.NOT_JUDGED, muted=True)
    return Cell(
        text=f"{value_text(finding, system)} {give_or_take_text(finding, system)}".strip(),
        second=whose,
        verdict=finding.verdict,
    )


def not_checked(layout: Layout, findings: Iterable[Finding], facts: ReportFacts) -> tuple[str, ...]:
    """What this report does not cover, sentence by sentence."""
    counted = tally(findings)
    told = [said.NC_STRENGTH]
    if counted["unseen"].states:
        told.append(said.NC_UNSEEN.format(count=count_text(counted["unseen"])))
    if counted["pending"].states:
        told.append(said.NC_PENDING.format(count=count_text(counted["pending"])))
    told += [sentence for missing, sentence in _missing(layout) if missing]
    if layout.absent:
        told.append(
            said.NC_ABSENT.format(names=", ".join(_absent_name(name, layout) for name in layout.absent))
        )
    if layout.unknown:
        told.append(said.NC_UNKNOWN.format(names=", ".join(thing.name for thing in layout.unknown)))
    return (*told, said.NC_SECOND, *facts.not_checked)


def _absent_name(name: str, layout: Layout) -> str:
    return called(name, layout).bare if "." in name else name


def _missing(layout: Layout) -> tuple[tuple[bool, str], ...]:
    shifters, vessels = layout.of(Shifter), layout.of(Vessel)
    return (
        (all(scan.pose is None for scan in layout.scans), said.NC_NO_SCAN),
        (layout.driver() is None, said.NC_NO_DRIVER),
        (not shifters, said.NC_NO_SHIFTER),
        (not layout.consoles, said.NC_NO_CONSOLE),
        (not vessels, said.NC_NO_VESSEL),
        (any(shifter.family != "cables" for shifter in shifters), said.NC_ROCK),
        (any(not vessel.stands_in for vessel in vessels), said.NC_LIFT),
    )
