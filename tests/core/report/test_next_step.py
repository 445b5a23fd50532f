"""What to do about a finding, in one line."""

from dataclasses import replace

import pytest

from core.report.made_up import ends, finding, layout
from floorpan.checks.finding import Cure, Doubt, combined
from floorpan.report.cure_told import cure_text
from floorpan.report.next_step import next_step

HAND = ("driver-1.hand", "vessel-1")


def test_a_cure_is_told_and_a_gap_without_one_says_so() -> None:
    cure = Cure(subject="vessel-1", move_mm=(38.0, 0.0, 0.0))
    hits = finding("hand-vessel", HAND, -5.6, cure=cure)
    assert next_step(hits, layout()) == cure_text(hits, layout()) == "Bottle 38 mm rearward would clear it."
    assert next_step(replace(hits, cure=None), layout()) == "No single move was found that clears it."


def test_what_was_not_seen_is_to_be_probed_or_named() -> None:
    at = finding("vessel-scan", ("vessel-1", "scan-1"), None, at_mm=ends(1.0, 2.0, 3.0, 9.0))
    assert next_step(at, layout()) == "Probe there, or scan again."
    note = "No part of the scan is named dash. Name it on the Floor card, or say this car has none."
    assert next_step(replace(at, at_mm=None, note=note), layout()) == note


@pytest.mark.parametrize(("system", "told"), [("mm", "3.2 mm"), ("in", "1\u20448 in")])
def test_of_what_is_close_the_largest_part_of_the_doubt_is_named(system: str, told: str) -> None:
    """A standard uncertainty counts twice, a bound once, as in the give or take."""
    doubts = (Doubt("taped place", standard=1.6), Doubt("motion step", bound=3.0))
    close = replace(
        finding("hand-vessel", HAND, 30.0), doubts=doubts, uncertainty=combined(doubts), verdict="close"
    )
    assert next_step(close, layout(), system) == f"Most of the give or take: Taped place, \u00b1 {told}."  # type: ignore[arg-type]
    assert next_step(replace(close, doubts=()), layout()) == ""


@pytest.mark.parametrize("verdict", ["clear", "pending"])
def test_what_is_clear_or_waits_asks_for_nothing(verdict: str) -> None:
    assert next_step(finding("hand-vessel", HAND, 60.0, verdict=verdict), layout()) == ""
    assert next_step(finding("hand-vessel", HAND, -5.0, stale=True), layout()) == ""


def test_a_reach_that_is_short_says_why() -> None:
    short = finding("reach", ("driver-1.hand", "shifter-1.knob"), -40.0, note="arm length")
    assert next_step(short, layout()) == "The arm is straight."
