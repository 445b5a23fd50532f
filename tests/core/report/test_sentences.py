"""Findings as sentences: the thing, the number, what it means."""

import dataclasses
import re
from pathlib import Path
from typing import get_args

import pytest

from core.report.made_up import WANTED, finding, findings, layout
from floorpan.checks.finding import Cure, Finding
from floorpan.driver import Person, Side
from floorpan.driver.reach import LimitedBy
from floorpan.items.states import state_of
from floorpan.limits import Limit
from floorpan.report.amounts import value_text
from floorpan.report.cure_told import cure_text
from floorpan.report.rows import rows
from floorpan.report.sentences import pair_title, remark, second_line, sentence, short_title
from floorpan.units import System, parse_length

GOLDEN = Path(__file__).parents[2] / "data" / "reports"
FORBIDDEN = re.compile(r"\b(safe|approved|ok|error|invalid|object|entity|please|sorry)\b|!", re.IGNORECASE)

HAND = ("driver-1.hand", "vessel-1")
KNOB = ("driver-1.hand", "shifter-1.knob")
REVERSE = state_of({"shifter-1.gear": "R"})
TIGHT = state_of({"shifter-1.gear": "R", "driver-1.belts": "tight"})


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (
            finding("hand-vessel", HAND, -5.6, state=REVERSE),
            "Knuckles hit the bottle in reverse by 6 mm (give or take 2).",
        ),
        (
            finding("hand-vessel", HAND, 0.0, state=REVERSE),
            "Knuckles touch the bottle in reverse (give or take 2).",
        ),
        (finding("hand-vessel", HAND, 42.3), "Knuckles clear the bottle by 42 mm (give or take 2)."),
        (
            finding("hand-vessel", HAND, 26.4, state=REVERSE),
            "Knuckles come within 26 mm of the bottle in reverse: 4 mm short of 30, give or take 2.",
        ),
        (
            finding("hand-vessel", HAND, 31.0, state=REVERSE),
            "Knuckles to the bottle in reverse: 31 mm, 30 wanted, give or take 2, too close to call.",
        ),
        (
            finding("hand-vessel", HAND, 0.4, state=REVERSE),
            "Knuckles to the bottle in reverse: 0 mm, give or take 2: they may touch.",
        ),
        (
            finding("console-scan", ("console-1", "scan-1"), 1.4, 2.0, met="tunnel top"),
            "The console comes within 1 mm of the tunnel top, give or take 2: they may touch.",
        ),
        (finding("hand-vessel", HAND, None, state=REVERSE), "Knuckles to the bottle in reverse: not seen."),
        (finding("hand-vessel", HAND, None, verdict="pending"), "Knuckles to the bottle: being worked out."),
        (
            finding("lever-seat", ("shifter-1.lever", "seat-1"), 44.0),
            "The lever clears the driver seat by 44 mm (give or take 2).",
        ),
        (
            finding("reach", KNOB, 42.9, 14.0, state=TIGHT),
            "Reverse is reached with 42 mm to spare (give or take 14), belts tight.",
        ),
        (
            finding("reach", KNOB, 4.0, 14.0, state=TIGHT),
            "Reverse is at the end of the reach: 4 mm to spare, give or take 14, too close to call, belts tight.",
        ),
        (
            finding("reach", KNOB, -3.0, 14.0, state=TIGHT),
            "Reverse is at the end of the reach: 3 mm past it, give or take 14, too close to call, belts tight.",
        ),
        (
            finding("reach", KNOB, -31.0, 14.0, state=TIGHT),
            "Reverse is 31 mm too far (give or take 14), belts tight.",
        ),
        (finding("reach", KNOB, None, state=TIGHT), "Reverse: the reach is not known, belts tight."),
        (
            finding("elbow", KNOB, 171.0, 4.0, state=REVERSE),
            "Reverse: the elbow is at 171 deg: 11 deg over 160 (give or take 4).",
        ),
        (
            finding("elbow", KNOB, 60.0, 4.0, state=REVERSE),
            "Reverse: the elbow is at 60 deg: 15 deg short of 75 (give or take 4).",
        ),
        (
            finding("elbow", KNOB, 96.0, 4.0, state=REVERSE),
            "Reverse: the elbow is at 96 deg, 75 to 160 deg wanted (give or take 4).",
        ),
        (
            finding("well-side", ("vessel-1", "cup_holder-1"), -1.2, 0.3, met="well"),
            "The bottle does not go into the well: it is 1.2 mm too wide (give or take 0.3).",
        ),
        (
            finding("well-side", ("vessel-1", "cup_holder-1"), 6.0, 0.3, met="well"),
            "The bottle has 6 mm to spare across the well: 2 mm over 4 (give or take 0.3).",
        ),
        (
            finding("well-depth", ("vessel-1", "cup_holder-1"), 61.5, 0.3, met="well"),
            "The bottle sits 61.5 mm deep in the well: 8.5 mm short of 70 (give or take 0.3).",
        ),
        (
            finding("console-seen", ("console-1", "scan-1"), 91.0, 0.0, met="floor under the console"),
            "91 percent of the floor under the console was scanned: 7 percent short of 98.",
        ),
        (
            finding("stands", ("shifter-1",), 4.2, 1.0),
            "The shifter stands 4.5 mm off what it was set down on: 1.5 mm over 3 (give or take 1).",
        ),
        (
            finding("lever-opening", ("shifter-1.lever", "opening"), 20.0, 1.4, met="opening", state=REVERSE),
            "The lever clears the opening by 20 mm in reverse (give or take 1.5).",
        ),
    ],
)
def test_each_kind_and_verdict(told: Finding, words: str) -> None:
    assert sentence(told, layout()) == words


def test_inches_and_fractions() -> None:
    told = finding("hand-vessel", HAND, -5.6, state=REVERSE)
    assert (
        sentence(told, layout(), "in")
        == "Knuckles hit the bottle in reverse by 1\u20444 in (give or take 1\u20448)."
    )


def test_a_check_nobody_has_heard_of_still_speaks() -> None:
    wanted = Limit(id="spill-height", value=20.0, sense="at_least", unit="mm", source="made up")
    lone = finding("spill-height", ("vessel-1",), 12.0, limit=wanted, is_gap=False)
    assert sentence(lone, layout()) == "The bottle: spill height 12 mm: 8 mm short of 20 (give or take 2)."
    assert short_title(lone, layout()) == "Bottle, spill height"
    gap = finding("armrest-seat", ("armrest-1", "seat-1"), 12.0, limit=wanted)
    assert sentence(gap, layout()).startswith("Armrest-1 comes within 12 mm of the driver seat")


def test_a_stale_number_says_so() -> None:
    held = layout()
    for told in findings():
        stale = dataclasses.replace(told, stale=True)
        assert "before the last change" in sentence(stale, held) or told.value is None


def test_what_is_proven_only_is_told_as_that() -> None:
    """Of a stretch the end that lies nearer tells which way the value may still go."""
    clear = finding("hand-vessel", ("driver-1.hand", "vessel-1"), 145.0)
    proven = dataclasses.replace(clear, at_least=True)
    assert value_text(proven) == "\u2265\u2009145"
    assert "by no less than 145 mm" in sentence(proven, layout())
    assert "no less" not in sentence(clear, layout())
    stretch = Limit(id="elbow", value=75.0, upper=160.0, sense="between", unit="deg", source="made up")
    for value, told in ((80.0, "\u2265\u200980\u00b0"), (150.0, "\u2264\u2009150\u00b0")):
        assert value_text(dataclasses.replace(proven, value=value, limit=stretch)) == told


def test_with_two_drivers_the_reach_names_whose() -> None:
    people = (*layout().people, Person(id="driver-2", name="Second driver"))
    held = layout(people=people)
    told = finding("reach", ("driver-2.hand", "shifter-1.knob"), 42.0, 14.0, state=TIGHT)
    assert sentence(told, held).endswith(", for Second driver, belts tight.")
    assert pair_title(told, held) == "Reach for Second driver"


def test_every_sentence_is_one_of_a_kind() -> None:
    told = [sentence(one, layout()) for one in findings()]
    assert len(set(told)) == len(told)


def test_every_sentence_is_plain_and_ends() -> None:
    for one in findings():
        for text in (sentence(one, layout()), second_line(one, layout()), short_title(one, layout())):
            assert not FORBIDDEN.search(text), text
            assert "{" not in text
            assert "  " not in text
        assert sentence(one, layout()).endswith(".")


def test_the_second_line_says_what_is_wanted_by_whom() -> None:
    told = finding("hand-vessel", HAND, 42.0, note="Over 12 mm of carpet.")
    assert (
        second_line(told, layout()) == f"wanted 30 mm, {WANTED['hand-vessel'].source}. Over 12 mm of carpet."
    )


def test_the_words_as_they_were_read_over() -> None:
    """Pinned from our own output, after reading every line of it."""
    held = layout()
    told = "".join(
        f"{row.verdict_word:<8}{row.title}\n        {row.sentence}\n        {row.second}\n"
        for system in ("mm", "in")
        for row in rows(findings(), held, system)  # type: ignore[arg-type]
    )
    assert told == (GOLDEN / "sentences.txt").read_text(encoding="utf-8")


def test_what_limits_a_reach_is_told_in_a_sentence() -> None:
    for limited_by in get_args(LimitedBy):
        told = remark(finding("reach", KNOB, 4.0, state=TIGHT, note=limited_by))
        assert told == "" if limited_by == "nothing" else told.endswith(".")


class TestCures:
    """What a cure says, from its parts."""

    def told(self, move: tuple[float, float, float], system: System = "mm", side: Side = "left") -> str:
        cure = Cure(subject="cup_holder-1", move_mm=move)
        held = dataclasses.replace(findings()[0], cure=cure)
        return cure_text(held, layout(driver_side=side), system)

    def test_along_one_axis(self) -> None:
        assert self.told((38.0, 0.0, 0.0)) == "Cup holder 38 mm rearward would clear it."
        assert self.told((-7.0, 0.0, 0.0)) == "Cup holder 7 mm forward would clear it."
        assert self.told((0.0, 0.0, 12.0)) == "Cup holder 12 mm up would clear it."

    def test_along_two_and_three(self) -> None:
        assert self.told((38.0, 0.0, -12.0)) == "Cup holder 38 mm rearward and 12 mm down would clear it."
        assert (
            self.told((38.0, 5.0, -12.0))
            == "Cup holder 38 mm rearward, 5 mm to the passenger side and 12 mm down would clear it."
        )

    def test_the_passenger_sits_on_the_other_side(self) -> None:
        assert self.told((0.0, 5.0, 0.0)) == "Cup holder 5 mm to the passenger side would clear it."
        mirrored = self.told((0.0, -5.0, 0.0), side="right")
        assert mirrored == "Cup holder 5 mm to the passenger side would clear it."
        assert (
            self.told((0.0, 5.0, 0.0), side="right") == "Cup holder 5 mm to the driver side would clear it."
        )

    def test_inches_are_rounded_up_to_what_still_clears(self) -> None:
        """53 mm are 2.087 in, 10 mm 0.394 in, by hand: 2 1/8 and 7/16 are the next sixteenths up."""
        told = self.told((53.0, 0.0, -10.0), "in")
        assert "mm" not in told
        first, second = told.removeprefix("Cup holder ").split(" and ")
        assert parse_length(first.removesuffix(" rearward"), "in") == pytest.approx(2.125 * 25.4)
        assert parse_length(second.removesuffix(" down would clear it."), "in") == pytest.approx(
            7 / 16 * 25.4
        )

    def test_of_what_is_gone_nothing_is_said(self) -> None:
        cure = Cure(subject="cup_holder-9", move_mm=(1.0, 0.0, 0.0))
        assert cure_text(dataclasses.replace(findings()[0], cure=cure), layout()) == ""
        assert cure_text(findings()[1], layout()) == ""
