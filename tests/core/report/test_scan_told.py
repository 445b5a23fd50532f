"""What the papers say of measures, probes, cleaning, carpet and centre lines on a scan."""

from dataclasses import replace

import pytest

from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import Bench
from floorpan.frames import Pose
from floorpan.layout import Layout
from floorpan.progress import finish
from floorpan.report.gathering import gathering
from floorpan.report.scan_told import carpet_words, scan_told
from floorpan.scan.carpet import BARE, Carpet, Layer
from floorpan.scan.centre_lines import CentreLine
from floorpan.scan.cleaning import DropSmallIslands
from floorpan.scan.cleaning_list import CleaningDeed
from floorpan.units import System

RAW = raw_scan(level_floor())


def measured() -> Layout:
    layout = small_layout(RAW, Pose(shift_mm=(0.0, 0.0, 10.0)))
    ends = ((0.0, 0.0, 0.0), (500.2, 0.0, 0.0))
    layout = edits.add_length(layout, "scan-1", ends, 500.0, name="Ground bar")
    edge = ((0.0, 0.0, 0.0), (400.0, 0.0, 0.9), (900.0, 0.0, 0.0))
    layout = edits.add_edge(layout, "scan-1", edge, "Level")
    layout = edits.add_probe(
        layout, "scan-1", at_mm=(100.0, -50.0, 0.0), offset_mm=(0.0, 0.0, -4.0), note="plug"
    )
    layout = edits.clean(layout, "scan-1", CleaningDeed(small_islands=DropSmallIslands(smaller_mm=5.0)))
    line = CentreLine(kind="tunnel", points_mm=((0.0, -12.0, 0.0), (600.0, -12.0, 0.0)))
    return edits.set_centre_line(layout, "scan-1", line)


def told(layout: Layout, system: System = "mm") -> dict[str, str]:
    return dict(scan_told(layout, layout.scans[0], ("3 islands left out",), system))


def test_every_measure_is_told_with_its_give_or_take() -> None:
    lines = told(measured())
    assert lines["known length"].startswith(
        "Ground bar: taped 500, scan less tape +0.2 mm (give or take 1.5 mm)"
    )
    assert lines["known length"].endswith("held")
    assert lines["straight edge"].startswith("Level: bows 0.9 mm over 900")
    assert "plug" in lines["measured by hand"]
    assert "15 mm" in lines["measured by hand"]
    assert lines["cleaned away"] == "3 islands left out"
    assert lines["tunnel line"].startswith("off the middle 12 to the driver side")


def test_in_inches_too() -> None:
    assert "19\u200911\u204416" in told(measured(), "in")["known length"]


def test_nothing_measured_tells_nothing() -> None:
    layout = small_layout(RAW)
    assert list(scan_told(layout, layout.scans[0], (), "mm")) == []


def test_a_scan_that_was_multiplied_says_so() -> None:
    layout = edits.scale_scan(small_layout(RAW), "scan-1", 1.002)
    assert told(layout)["multiplied by"].startswith("1.002")


def test_twist_and_racking_are_told_from_levels_and_diagonals() -> None:
    layout = small_layout(RAW)
    assert "twist" not in told(layout)
    for name, x, lift in (("Front level", 0.0, 0.0), ("Rear level", 900.0, 4.0)):
        places = ((x, -400.0, 0.0), (x, 0.0, lift / 2.0), (x, 400.0, lift))
        layout = edits.add_edge(layout, "scan-1", places, name)
    for edge in layout.scans[0].edges:
        layout = edits.set_edge(layout, "scan-1", edge.id, replace(edge, levelled=True))
    assert told(layout)["twist"] == (
        "Front level against Rear level, 900 apart: wound by 4 mm over 800 (give or take 2 mm); "
        "off by more than is allowed (common practice)"
    )
    # The diagonals of 1200 by 900 are 1500; racked, one is seen 2 longer and the other 1 shorter.
    for name, mm, side in (("First", 1502.0, 0.6), ("Second", 1499.0, -0.6)):
        x, y = 0.4 * mm, side * mm / 2.0
        ends = ((600.0 - x, 450.0 - y, 0.0), (600.0 + x, 450.0 + y, 0.0))
        layout = edits.add_length(layout, "scan-1", ends, 1500.0, name=name)
    assert told(layout)["racking"] == (
        "First against Second, as diagonals: +3 mm (give or take 2.1 mm); cannot be told"
    )


def test_carpet_by_layers() -> None:
    carpet = Carpet(
        layers=(Layer(kind="insulator", loose_mm=10.0, squeezed_mm=4.0), Layer(loose_mm=8.0, squeezed_mm=2.5))
    )
    assert carpet_words(carpet, "mm") == (
        "insulator 10 loose, 4 squeezed, carpet 8 loose, 2.5 squeezed; 18 mm loose in all, 6.5 squeezed"
    )
    assert carpet_words(BARE, "mm") == "none, bare metal"


@pytest.mark.parametrize("system", ["mm", "in"])
def test_the_facts_of_a_report_carry_what_cleaning_came_to(system: System) -> None:
    layout = edits.clean(
        small_layout(RAW), "scan-1", CleaningDeed(small_islands=DropSmallIslands(smaller_mm=5.0))
    )
    facts = finish(gathering(layout, Bench({RAW.sha256: RAW}), date="2026-01-01", version="0"))
    assert facts.scans[0].cleaning == ()
