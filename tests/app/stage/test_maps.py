"""Roughness and double walls seen in colours on the scan, with a legend in the shown unit."""

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from app.stage.bench import Bench
from app.stage.conftest import Open
from core.small_case import level_floor, raw_scan
from floorpan import edits
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout, ScanRef
from floorpan_app.cards.floor_card import FloorCard
from floorpan_app.cards.scan_card import ScanCard

pytestmark = pytest.mark.real_view


def rough_floor() -> Mesh:
    """A level floor with 0.1 mm of white noise, and a patch of it once more, 3 mm higher."""
    floor = level_floor(cells=80)
    points = floor.points.copy()
    points[:, 2] += 0.1 * np.random.default_rng(5).standard_normal(len(points))
    again = points + np.array([0.0, 0.0, 3.0])
    middles = floor.points[floor.faces].mean(axis=1)
    patch = floor.faces[(np.abs(middles[:, :2]) < 200.0).all(axis=1)]
    return Mesh(np.vstack([points, again]), np.vstack([floor.faces, patch + np.int32(len(points))]))


RAW = raw_scan(rough_floor())


@pytest.fixture
def shown(open_bench: Open, qtbot: QtBot) -> tuple[Bench, ScanCard]:
    ref = ScanRef(id="", name="floor", sha256=RAW.sha256, suffix=".ply", original_name="f.ply", unit="mm")
    layout = edits.set_axes(edits.add_scan(Layout(title="Rough"), ref), "scan-1", Pose())
    bench = open_bench(layout, {RAW.sha256: RAW})
    bench.desk.go_to("scan")
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    bench.settle()
    return bench, card


def test_roughness_gets_a_legend_and_goes_again(shown: tuple[Bench, ScanCard], qtbot: QtBot) -> None:
    bench, card = shown
    card.maps.rough.click()
    qtbot.waitUntil(lambda: bench.desk.scans.map is not None, timeout=30_000)
    bench.settle()
    legend = bench.marks.legend
    assert legend is not None
    assert legend.title == "Roughness, one sigma, mm"
    assert [words for _, words in legend.ticks] == ["0", "0.2", "0.4"]
    assert card.maps.rough.isChecked()
    bench.desk.use_system("in")
    bench.settle()
    legend = bench.marks.legend
    assert legend is not None
    assert legend.title == "Roughness, one sigma, in"
    assert [words for _, words in legend.ticks] == ["0", "0.008", "0.016"]
    bench.desk.go_to("floor")
    bench.settle()
    assert bench.marks.legend is None, "colours belong to the steps that look at the scan"
    bench.desk.go_to("scan")
    card.maps.rough.click()
    bench.settle()
    assert bench.marks.legend is None


def test_double_walls_are_told_and_carried(shown: tuple[Bench, ScanCard], qtbot: QtBot) -> None:
    bench, card = shown
    assert "Nobody looked" in card.maps.told()
    card.maps.walls.click()
    qtbot.waitUntil(lambda: bench.desk.scans.map is not None, timeout=60_000)
    bench.settle()
    # The patch is 0.16 m2 on 1.96 m2, and both of its sheets count: 0.32 of 2.12.
    share, _, rest = card.maps.told().partition(" % of it is double: ")
    assert float(share) == pytest.approx(15.1, abs=0.5)
    assert rest.startswith("3 mm apart in the middle")
    # Even over 3 mm: one standard uncertainty is 3 / sqrt 12, beside the 1 mm of a scan that nobody measured.
    assert "double walls 1.7 (" in card.trust.told()
    card.trust.carry.click()
    scan = bench.layout.scans[0]
    assert scan.good_to_mm == pytest.approx(2.0 * np.hypot(1.0, 3.0 / np.sqrt(12.0)), abs=0.05)
    assert "double walls" in scan.good_to_note


def test_the_carpet_is_laid_in_the_picture_and_follows_its_thickness(open_bench: Open, qtbot: QtBot) -> None:
    raw = raw_scan(level_floor(cells=28))
    ref = ScanRef(id="", name="floor", sha256=raw.sha256, suffix=".ply", original_name="f.ply", unit="mm")
    layout = edits.set_carpet(edits.set_axes(edits.add_scan(Layout(), ref), "scan-1", Pose()), 12.0)
    bench = open_bench(layout, {raw.sha256: raw})
    bench.desk.go_to("floor")
    card = FloorCard(bench.desk)
    qtbot.addWidget(card)

    def height() -> float:
        sheet = bench.desk.scans.sheet
        return float("nan") if sheet is None else float(np.median(sheet.points[:, 2]))

    card.laid.seen.show_key("loose")
    card.laid.seen.picked.emit("loose")
    qtbot.waitUntil(lambda: height() == pytest.approx(12.0), timeout=30_000)
    bench.settle()
    assert "carpet.laid" in bench.view.scene._things
    bench.desk.change("carpet", lambda before: edits.set_carpet(before, 9.0))
    qtbot.waitUntil(lambda: height() == pytest.approx(9.0), timeout=30_000)
    card.laid.seen.show_key("squeezed")
    card.laid.seen.picked.emit("squeezed")
    qtbot.waitUntil(lambda: height() == pytest.approx(3.0), timeout=30_000)
    bench.desk.go_to("scan")
    bench.settle()
    assert "carpet.laid" not in bench.view.scene._things
    bench.desk.go_to("floor")
    card.laid.seen.show_key("bare")
    card.laid.seen.picked.emit("bare")
    bench.settle()
    assert bench.desk.scans.sheet is None


def test_the_card_knows_a_scan_that_has_no_axes_yet(open_bench: Open, qtbot: QtBot) -> None:
    """Nothing is judged before there are axes: the picture makes the scan ready, and the card hears of it."""
    ref = ScanRef(id="", name="floor", sha256=RAW.sha256, suffix=".ply", original_name="f.ply", unit="mm")
    bench = open_bench(edits.add_scan(Layout(title="Fresh"), ref), {RAW.sha256: RAW})
    bench.desk.go_to("scan")
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    qtbot.waitUntil(card.maps.rough.isEnabled, timeout=30_000)
