"""How many there are of each verdict: states and pairs, told alike wherever they are told."""

import pytest

from core.report.made_up import finding, findings
from floorpan.checks.finding import WORST_FIRST, Finding
from floorpan.items.states import state_of
from floorpan.report import words
from floorpan.report.tally import Count, clear_text, count_of, failing, tally, tally_line, tally_text

HAND = ("driver-1.hand", "vessel-1")
LEVER = ("shifter-1.lever", "scan-1")


def held(*told: tuple[tuple[str, ...], str]) -> list[Finding]:
    """Findings of these pairs with these verdicts, each in a state of its own."""
    return [
        finding("hand-vessel", pair, 1.0, verdict=verdict, state=state_of({"shifter-1.gear": str(number)}))
        for number, (pair, verdict) in enumerate(told)
    ]


def test_states_add_up_and_a_pair_counts_under_each_of_its_verdicts() -> None:
    told = tally(held((HAND, "hits"), (HAND, "hits"), (HAND, "clear"), (LEVER, "clear"), (LEVER, "clear")))
    assert tuple(told) == WORST_FIRST
    assert told["hits"] == Count(states=2, pairs=1)
    assert told["clear"] == Count(states=3, pairs=2)
    assert told["unseen"] == Count()
    assert sum(count.states for count in told.values()) == 5
    assert sum(count.states for count in tally(findings()).values()) == len(findings())


def test_hits_and_short_fail_and_a_pair_that_does_both_is_one() -> None:
    told = held((HAND, "hits"), (HAND, "short"), (LEVER, "short"), (LEVER, "close"))
    assert failing(told) == Count(states=3, pairs=2)
    assert count_of(told) == Count(states=4, pairs=2)


@pytest.mark.parametrize(
    ("verdicts", "text"),
    [
        ((), words.NOTHING_YET),
        (("clear",), "Clear in 1 state of 1 pair."),
        (
            ("clear", "hits", "hits", "unseen"),
            "Hits in 2 states of 1 pair, unseen in 1 state of 1 pair, clear in 1 state of 1 pair.",
        ),
    ],
)
def test_counts_in_words(verdicts: tuple[str, ...], text: str) -> None:
    assert tally_text(held(*((HAND, verdict) for verdict in verdicts))) == text


@pytest.mark.parametrize(
    ("verdicts", "line"),
    [
        (("hits", "short", "unseen", "close", "close", "clear"), "2 states fail, 1 unseen, 2 close"),
        (("short",), "1 state fails"),
        (("unseen", "clear"), "1 state unseen"),
        (("clear", "clear"), "all clear, 2 states"),
        (("close", "pending", "pending"), "1 state close, 2 pending"),
        ((), ""),
    ],
)
def test_a_narrow_place_has_one_line(verdicts: tuple[str, ...], line: str) -> None:
    assert tally_line(held(*((HAND, verdict) for verdict in verdicts))) == line


def test_what_is_clear_is_told_with_what_is_counted() -> None:
    many = held(*((HAND, "clear") for _ in range(1103)), (LEVER, "clear"), (LEVER, "hits"))
    assert clear_text(many) == "Clear in 1\u2009104 states of 2 pairs."
    assert clear_text(held((HAND, "hits"))) == ""
