"""Holes are named by their size on the scan step, and one is bridged by a click at its rim."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from app.stage.conftest import Open
from core.small_case import level_floor, raw_scan
from floorpan import edits
from floorpan.frames import Pose
from floorpan.layout import Layout, ScanRef
from floorpan_app.cards.scan_card import ScanCard
from made_up_sheets import without

pytestmark = pytest.mark.real_view

RAW = raw_scan(
    without(without(level_floor(cells=56), (175.0, 25.0), (225.0, 75.0)), (-400.0, -400.0), (-100.0, -200.0))
)


def test_a_hole_is_named_bridged_and_opened_again(open_bench: Open, qtbot: QtBot) -> None:
    ref = ScanRef(id="", name="floor", sha256=RAW.sha256, suffix=".ply", original_name="f.ply", unit="mm")
    bench = open_bench(edits.set_axes(edits.add_scan(Layout(), ref), "scan-1", Pose()), {RAW.sha256: RAW})
    bench.desk.go_to("scan")
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    card.resize(344, 2400)
    card.show()
    bench.settle()
    # 300 by 200 and 50 by 50 mm: diagonals 360.6 and 70.7.
    assert [word.text for word in bench.marks.words] == [
        "hole 361 mm, 600 cm\u00b2",
        "hole 71 mm, 25 cm\u00b2",
    ]
    card.bridges.pick.click()
    bench.settle()
    bench.look((200.0, 50.0, 0.0), heading=100.0, rise=-80.0, distance=900.0)
    bench.click(bench.at((170.0, 50.0, 0.0)))
    (bridge,) = bench.layout.scans[0].bridges
    assert bridge.at_mm == pytest.approx((170.0, 50.0, 0.0), abs=3.0)
    assert "only up to 30 mm is bridged" in card.bridges.notice.said()
    bench.desk.change(
        "wider",
        lambda layout: edits.set_bridge(layout, "scan-1", bridge.id, replace(bridge, longest_mm=90.0)),
    )
    bench.settle()
    assert card.bridges.notice.said() == ""
    assert [word.text for word in bench.marks.words] == ["hole 361 mm, 600 cm\u00b2", "bridged"]
    bench.desk.use_system("in")
    bench.settle()
    # 360.6 mm are 14.2 in, 600 cm2 are 93 in2.
    assert bench.marks.words[0].text == "hole 14\u20093\u204416 in, 93 in\u00b2"
    card.bridges.forget.click()
    assert bench.layout.scans[0].bridges == ()
    bench.settle()
    assert len(bench.stage.ground.names("bridged")) == 0
