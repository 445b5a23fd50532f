"""The offer on an unseen ticket takes the probe in hand."""

import pytest

from app.stage.conftest import Open
from core.small_case import level_floor, raw_scan, small_layout
from made_up_sheets import without

pytestmark = pytest.mark.real_view

RAW = raw_scan(without(level_floor(cells=56), (150.0, 0.0), (250.0, 100.0)))


def test_probe_here_takes_the_probe_in_hand_on_the_scan(open_bench: Open) -> None:
    bench = open_bench(small_layout(RAW), {RAW.sha256: RAW})
    bench.desk.go_to("check")
    bench.settle()
    rooms = bench.view.overlay.ticket_rooms()
    line = next(one for one in bench.marks.gaps if one.verdict == "unseen" and one.id in rooms)
    words = rooms[line.id].center().toPoint()
    words.setX(round(rooms[line.id].left()) + 20)
    bench.click(words)
    assert (bench.desk.step, bench.desk.tool) == ("check", ""), "the ticket itself only lights up"
    words.setX(round(rooms[line.id].right()) - 20)
    bench.click(words)
    assert (bench.desk.step, bench.desk.tool, bench.desk.finding) == ("scan", "point probe", line.id)
    bench.settle()
    assert bench.hints[-1] == "Click the scan beside the place you measured by hand."
