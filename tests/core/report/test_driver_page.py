"""The papers' section on the driver: what is taped and what follows, every gear at every notch, what else follows."""

from dataclasses import replace

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.checks import Evaluator, Finding
from floorpan.checks.reach import CHECKS
from floorpan.derive import Bench
from floorpan.driver import LINKS, filled
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report import driver_page_words as said
from floorpan.report.blocks import Block, Heading, Prose, Table
from floorpan.report.driver_facts import DriverFacts, gathering_driver
from floorpan.report.driver_page import driver_pages

RAW = raw_scan(level_floor(cells=4))
BASE = edits.change_person(
    edits.shift(small_layout(RAW), "seat-1", (-200.0, 0.0, 0.0)), "driver-1", notches_used=(5, 6)
)


def told(
    layout: Layout, system: str = "mm", *, facts: bool = True
) -> tuple[list[Block], tuple[Finding, ...]]:
    bench = Bench({RAW.sha256: RAW})
    findings = finish(Evaluator(bench, CHECKS).settle(layout))
    held: DriverFacts | None = finish(gathering_driver(bench.scene(layout))) if facts else None
    return list(driver_pages(layout, findings, held, system)), findings  # type: ignore[arg-type]


def tables(blocks: list[Block]) -> list[Table]:
    return [block for block in blocks if isinstance(block, Table)]


def headings(blocks: list[Block]) -> list[str]:
    return [block.text for block in blocks if isinstance(block, Heading)]


def prose(blocks: list[Block]) -> str:
    return " ".join(block.text for block in blocks if isinstance(block, Prose))


def test_sizes_say_whether_they_were_taped_and_how_sure_they_are() -> None:
    blocks, _ = told(BASE)
    rows = {row[0].text: (row[1].text, row[2].text) for row in tables(blocks)[0].rows}
    assert rows["Shoulder to grip"] == ("665 \u00b1 10", said.TAPED)
    loose = replace(BASE, people=(filled(replace(BASE.people[0], not_taped=LINKS)),))
    loose = edits.set_size(loose, "driver-1", "stature_mm", 1800.0)
    blocks, _ = told(loose)
    rows = {row[0].text: (row[1].text, row[2].text) for row in tables(blocks)[0].rows}
    assert rows["Shoulder to grip"][1] == said.FOLLOWS
    assert rows["Height"] == ("1\u2009800", said.TAPED)
    assert "2012 Anthropometric Survey" in prose(blocks)


def test_every_gear_at_every_used_notch_is_told_tight_and_loose() -> None:
    blocks, findings = told(BASE)
    [reach] = [one for one in tables(blocks) if "tight" in one.columns[1].title]
    assert [column.title for column in reach.columns] == [
        "Gear", "tight, notch 5", "tight, notch 6", "loose, notch 5", "loose, notch 6",
    ]  # fmt: skip
    assert [row[0].text for row in reach.rows] == ["Neutral", "1st", "2nd", "3rd", "4th", "5th", "Reverse"]
    verdicts = {
        (
            dict(one.state)["shifter-1.gear"],
            dict(one.state)["seat-1.notch"],
            dict(one.state)["driver-1.belts"],
        ): one
        for one in findings
        if one.check == "reach"
    }
    for row, gear in zip(reach.rows, ("N", "1", "2", "3", "4", "5", "R"), strict=True):
        for cell, (belts, notch) in zip(
            row[1:], (("tight", "5"), ("tight", "6"), ("loose", "5"), ("loose", "6")), strict=True
        ):
            assert cell.verdict == verdicts[gear, notch, belts].verdict
    assert "Worst: " in prose(blocks)


def test_what_follows_is_told_once_it_is_gathered() -> None:
    blocks, _ = told(BASE, facts=False)
    assert said.ELBOW not in headings(blocks)
    blocks, _ = told(BASE)
    assert said.ELBOW in headings(blocks)
    [elbow] = [one for one in tables(blocks) if one.columns[1].title == said.COL_AT]
    assert len(elbow.rows) == 7
    assert "rear" in elbow.rows[0][1].text


@pytest.mark.parametrize(
    ("heel", "says"), [((-700.0, -350.0, 20.0), "hand-reach plane"), ((-700.0, -350.0, 900.0), "as high as")]
)
def test_the_published_plane_says_what_it_covers_or_why_there_is_none(
    heel: tuple[float, float, float], says: str
) -> None:
    layout = edits.set_driving_position(BASE, heel_mm=heel, wheel_mm=(-250.0, -400.0, 650.0))
    blocks, _ = told(layout)
    assert said.PLANE in headings(blocks)
    assert says in " ".join([*headings(blocks), prose(blocks)])


def test_a_knob_target_brings_the_lever_it_needs() -> None:
    target = (20.0, 0.0, 320.0)
    blocks, _ = told(edits.set_knob_target(BASE, target))
    without, _ = told(BASE)
    assert len(headings(blocks)) == len(headings(without)) + 1
    assert any("lever" in text.lower() for text in headings(blocks))


def test_lengths_follow_the_system() -> None:
    blocks, _ = told(BASE, "in")
    assert tables(blocks)[0].rows[0][1].text.startswith("26")


def test_nobody_in_the_car_leaves_no_section() -> None:
    assert told(replace(BASE, people=()))[0] == []
