"""Twist by levels and racking by diagonals, as rows beside the measures that they follow from."""

from collections.abc import Iterator

from floorpan.layout import ScanRef
from floorpan.scan.twist import APART_MM, check_rackings, check_twists, up_in_scan
from floorpan.units import System, show_length
from floorpan_app.cards import scan_words
from floorpan_app.cards.rows import Row
from floorpan_app.cards.spelling import show_small
from floorpan_app.theme.record import Verdict

_MARKS: dict[str, Verdict] = {"clear": "clear", "close": "close", "short": "short"}


def twist_rows(scan: ScanRef, system: System) -> Iterator[Row]:
    """A row for every pair of levels and every pair of diagonals; nothing for a row to be chosen for."""
    names = {one.id: one.name or length_name(one.id) for one in scan.lengths}
    names |= {one.id: one.name or edge_name(one.id) for one in scan.edges}
    for wound in check_twists(scan.edges, up=up_in_scan(scan.pose)):
        one, other = (names[id] for id in wound.ids)
        over, apart = (_whole(mm, system) for mm in (wound.span_mm, wound.apart_mm))
        yield Row(
            id=f"twist {' '.join(wound.ids)}",
            mark=_MARKS[wound.verdict],
            title=scan_words.TWIST,
            tail=scan_words.EDGE_OVER.format(over=over),
            second=scan_words.TWIST_OF.format(one=one, other=other, apart=apart),
            value=show_small(wound.off_mm, system),
            trust=f"\u00b1 {show_small(wound.u_mm, system)}",
        )
    for racked in check_rackings(scan.lengths):
        one, other = (names[id] for id in racked.ids)
        sign = "+" if racked.off_mm >= 0.0 else "\u2212"
        yield Row(
            id=f"racking {' '.join(racked.ids)}",
            mark=_MARKS[racked.verdict],
            title=scan_words.RACKING,
            second=scan_words.RACKING_OF.format(one=one, other=other),
            value=f"{sign}{show_small(abs(racked.off_mm), system)}",
            trust=f"\u00b1 {show_small(racked.u_mm, system)}",
        )


def lone_level(scan: ScanRef, system: System) -> str:
    """What is missing where an edge lay true and no other makes a pair with it; nothing otherwise."""
    if not any(edge.levelled for edge in scan.edges) or check_twists(scan.edges):
        return ""
    return scan_words.LONE_LEVEL.format(apart=_whole(APART_MM, system))


def length_name(id: str) -> str:
    """What a known length without a name is called."""
    return scan_words.LENGTH_NAME.format(n=id.rpartition("-")[2])


def edge_name(id: str) -> str:
    """What a straight edge without a name is called."""
    return scan_words.EDGE_NAME.format(n=id.rpartition("-")[2])


def _whole(mm: float, system: System) -> str:
    return show_length(mm, system, digits=0, with_unit=True)
