"""What the papers say of the old seat and of who else reaches."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.derive import PopulationReach
from floorpan.driver.moved_away import MovedAway, SeatLine, moved_away
from floorpan.driver.population import Shares, mixed
from floorpan.report import driver_told as told
from floorpan.report.blocks import Block, Heading, Prose, Table

BEFORE = SeatLine(h_point=(0.0, 0.0, 250.0), back_deg=-2.5)
AFTER = SeatLine(h_point=(30.0, 0.0, 200.0), back_deg=2.5)


def moved(before: SeatLine = BEFORE, after: SeatLine = AFTER) -> MovedAway:
    """The example worked by hand: 450 forward and 330 down from the shoulder of a 550 torso."""
    lean, (x, y, z) = math.radians(before.back_deg), before.h_point
    knob = (x + 550.0 * math.sin(lean) - 450.0, y + 200.0, z + 550.0 * math.cos(lean) - 330.0)
    return moved_away(before, after, knob, None, shoulder_mm=550.0, shoulder_out_mm=200.0, hand_side="right")


def group(share: float, drawn: int) -> Shares:
    error = math.sqrt(share * (1.0 - share) / drawn)
    return Shares(each=(share, 1.0), each_error=(error, 0.0), every=share, every_error=error)


MEN, WOMEN = group(0.926, 20_000), group(0.0, 20_000)
FOUND = PopulationReach(
    gears=("1", "R"), notches=(5, 6), drawn=20_000, men_percent=70.0, men=MEN, women=WOMEN,
    mix=mixed(MEN, WOMEN, 0.7),
)  # fmt: skip


def table(blocks: tuple[Block, ...]) -> list[list[str]]:
    [found] = [block for block in blocks if isinstance(block, Table)]
    assert sum(column.share for column in found.columns) == pytest.approx(1.0)
    return [[cell.text for cell in row] for row in found.rows]


def prose(blocks: tuple[Block, ...]) -> str:
    return " ".join(block.text for block in blocks if isinstance(block, Prose))


def test_the_example_worked_by_hand_as_a_table() -> None:
    """Published with it: 558, 556 and 598 mm."""
    blocks = told.moved_blocks(moved(), "mm")
    assert isinstance(blocks[0], Heading)
    assert table(blocks) == [
        ["Seat down 50 mm", "\u221228", "530"],
        ["Seat back 30 mm", "+26", "556"],
        ["Reclined 5\u00b0", "+42", "598"],
    ]
    assert "558 mm in the old seat, 598 mm now, 40 mm further." in prose(blocks)
    assert "stands 50 mm higher against the elbow" in prose(blocks)


def test_the_same_in_inches() -> None:
    """25.4 mm to the inch, sixteenths: 50 mm is nearest 1 15/16, 28 nearest 1 1/8, 40 nearest 1 9/16."""
    blocks = told.moved_blocks(moved(), "in")
    assert table(blocks)[0] == ["Seat down 1\u200915\u204416 in", "\u22121\u20091\u20448", "20\u20097\u20448"]
    assert "1\u20099\u204416 in further" in prose(blocks)


def test_the_other_way_round_has_words_of_its_own() -> None:
    after = replace(BEFORE, h_point=(-20.0, -15.0, 260.0), back_deg=-4.0, turn_deg=-3.0)
    assert [row[0] for row in table(told.moved_blocks(moved(after=after), "mm"))] == [
        "Seat up 10 mm",
        "Seat forward 20 mm",
        "Seat left 15 mm",
        "More upright 1.5\u00b0",
        "Turned right 3\u00b0",
    ]
    assert "stands 10 mm lower" in told.raised_text(moved(after=after), "mm")


def test_where_nothing_changed_that_is_said() -> None:
    blocks = told.moved_blocks(moved(after=BEFORE), "mm")
    assert prose(blocks) == "Seat and knob stand as the old ones did."
    assert told.raised_text(moved(after=BEFORE), "mm") == ""
    assert told.moved_blocks(None, "mm") == ()


@pytest.mark.parametrize(
    ("mm", "signed", "change"),
    [
        (41.6, "+42", "42 mm further"),
        (-13.7, "\u221214", "14 mm nearer"),
        (0.3, "0", "as far as before"),
        (-0.3, "0", "as far as before"),
    ],
)
def test_a_share_carries_its_sign(mm: float, signed: str, change: str) -> None:
    assert (told.signed_text(mm, "mm"), told.change_text(mm, "mm")) == (signed, change)


@pytest.mark.parametrize(
    ("share", "error", "drawn", "says"),
    [
        (0.926, 0.00185, 20_000, "92.6 \u00b1 0.2"),
        (0.92699, 0.00184, 20_000, "92.6 \u00b1 0.2"),
        (0.5, 0.0035355, 20_000, "50.0 \u00b1 0.4"),
        (0.9995, 0.000158, 20_000, "99.95 \u00b1 0.02"),
        (0.00005, 0.00005, 20_000, "0.00 \u00b1 0.01"),
        (0.7, 0.0, 20_000, "70.00 \u00b1 0.01"),
        # The rule of three: 3 of 20 000 is 0.015, of 200 it is 1.5.
        (0.0, 0.0, 20_000, "under 0.02"),
        (1.0, 0.0, 20_000, "over 99.98"),
        (1.0 - 1e-15, 0.0, 20_000, "over 99.98"),
        (0.0, 0.0, 200, "under 1.5"),
        (1.0, 0.0, 200, "over 98.5"),
    ],
)
def test_a_share_with_its_standard_error(share: float, error: float, drawn: int, says: str) -> None:
    assert told.share_text(share, error, drawn) == says


@given(st.integers(1, 19_999))
def test_no_share_is_told_higher_or_surer_than_it_is(hits: int) -> None:
    share = hits / 20_000
    error = math.sqrt(share * (1.0 - share) / 20_000)
    shown, give = (float(part) for part in told.share_text(share, error, 20_000).split(" \u00b1 "))
    assert 100.0 * share - 0.1 <= shown <= 100.0 * share + 1e-6
    assert give >= 100.0 * error - 1e-6
    assert give <= 100.0 * error + 0.1


def test_who_else_reaches_as_a_table() -> None:
    blocks = told.population_blocks(FOUND)
    assert table(blocks) == [
        ["1st", "92.6 \u00b1 0.2", "under 0.02", "64.8 \u00b1 0.2"],
        ["Reverse", "over 99.98", "over 99.98", "over 99.98"],
        ["Every gear", "92.6 \u00b1 0.2", "under 0.02", "64.8 \u00b1 0.2"],
    ]
    said = prose(blocks)
    assert "belts tight, each at the best of notches 5, 6." in said
    assert "70 men of a hundred" in said
    assert "2012 Anthropometric Survey" in said
    assert "fitter and younger than drivers at large" in said
    assert "20\u2009000 bodies" in said
    assert told.population_blocks(None) == ()


def test_one_notch_is_told_as_one() -> None:
    assert "belts tight, at notch 6." in told.who_text(replace(FOUND, notches=(6,)))
