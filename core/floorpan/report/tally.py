"""How many there are of each verdict. The ledger, the Check card, the command line and the papers all count by this.

Two things are counted. A pair is a check and what it is held against; a state is one stop of everything that moves the
pair. A state counts once for each pair that was judged in it, and a pair counts under every verdict that it has in some
state, so that states add up to all that was judged and pairs need not.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from floorpan.checks.finding import WORST_FIRST, Finding, Verdict
from floorpan.report import tally_words as said
from floorpan.report import words
from floorpan.report.rows import FAILING, pair_of
from floorpan.units import show_number


@dataclass(frozen=True, slots=True)
class Count:
    """In so many states, of so many pairs."""

    states: int = 0
    pairs: int = 0


def count_of(findings: Iterable[Finding], *verdicts: Verdict) -> Count:
    """The states that have one of these verdicts, and the pairs they are of; every state where none is named."""
    held = [pair_of(finding) for finding in findings if not verdicts or finding.verdict in verdicts]
    return Count(states=len(held), pairs=len(set(held)))


def tally(findings: Iterable[Finding]) -> dict[Verdict, Count]:
    """The count of each verdict, worst first, zeros included."""
    told = tuple(findings)
    return {verdict: count_of(told, verdict) for verdict in WORST_FIRST}


def failing(findings: Iterable[Finding]) -> Count:
    """What hits or is short."""
    return count_of(findings, *FAILING)


def states_text(n: int) -> str:
    """`1 state`, `1 103 states`."""
    return said.STATES[n != 1].format(n=show_number(n, 0))


def count_text(count: Count) -> str:
    """`1 103 states of 48 pairs`."""
    pairs = said.PAIRS[count.pairs != 1].format(n=show_number(count.pairs, 0))
    return said.OF_PAIRS.format(states=states_text(count.states), pairs=pairs)


def tally_text(findings: Iterable[Finding]) -> str:
    """`Hits in 2 states of 1 pair, clear in 14 states of 3 pairs.`, worst first, without what does not occur."""
    counted = {verdict: count for verdict, count in tally(findings).items() if count.states}
    if not counted:
        return words.NOTHING_YET
    told = [
        said.COUNTED.format(verdict=words.VERDICTS[verdict], count=count_text(count))
        for verdict, count in counted.items()
    ]
    line = ", ".join(told)
    return line[0].upper() + line[1:] + "."


def tally_line(findings: Iterable[Finding]) -> str:
    """`5 states fail, 1 unseen, 2 close` for a narrow place; hits and short both fail, what is clear is left out."""
    told = tuple(findings)
    by = tally(told)
    kinds = {said.FAIL: failing(told).states}
    kinds |= {words.VERDICTS[one]: by[one].states for one in WORST_FIRST if one not in (*FAILING, "clear")}
    counted = [(kind, n) for kind, n in kinds.items() if n]
    if not counted:
        return said.ALL_CLEAR.format(states=states_text(by["clear"].states)) if told else ""
    (first, n), *others = counted
    lead = said.FAIL_ONE if first == said.FAIL and n == 1 else first
    return ", ".join((f"{states_text(n)} {lead}", *(f"{show_number(n, 0)} {kind}" for kind, n in others)))


def clear_text(findings: Iterable[Finding]) -> str:
    """`Clear in 1 103 states of 48 pairs.`, empty where nothing is."""
    clear = count_of(findings, "clear")
    return said.CLEAR_IN.format(count=count_text(clear)) if clear.states else ""
