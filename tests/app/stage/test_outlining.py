"""Drawing on the scan by mouse and keys: an outline cuts it, places pointed at lie on the desk."""

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot
from shapely.geometry import Polygon

from app.cards.hands import settle
from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from app.stage.test_on_the_scan import ASKEW, bare
from floorpan.frames import Pose
from floorpan.units import show_length
from floorpan_app.cards.axes_card import AxesCard
from floorpan_app.cards.scan_card import ScanCard

# A level floor of 1400 mm square at height nought; corners told as seen from above.
CORNERS = ((-300.0, -200.0, 0.0), (300.0, -200.0, 0.0), (300.0, 250.0, 0.0), (-300.0, 250.0, 0.0))
SHARE_PX = 3.0


def drawing(open_bench: Open, pose: Pose | None = Pose()) -> Bench:
    bench = open_bench(bare(pose), {RAW.sha256: RAW})
    bench.desk.go_to("scan")
    bench.desk.use_tool("outline")
    bench.settle()
    bench.look((0.0, 0.0, 0.0), heading=90.0, rise=-90.0, distance=3400.0)
    bench.view.camera.see_parallel()
    QApplication.processEvents()
    return bench


def area_shown(bench: Bench) -> float:
    """The area of what is drawn of the scan, from its triangles."""
    total = 0.0
    for piece in bench.stage.ground.pieces:
        if piece.kind == "mesh":
            corner = piece.mesh.points[piece.mesh.faces]
            across = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
            total += float(np.linalg.norm(across, axis=1).sum()) / 2.0
    return total


def test_corner_by_corner_and_the_inside_goes(open_bench: Open, qtbot: QtBot) -> None:
    bench = drawing(open_bench)
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    assert bench.hints[-1].startswith("Click corner by corner")
    before = area_shown(bench)
    assert before == pytest.approx(1400.0**2, rel=1e-9)
    eye = bench.view.camera.eye
    for corner in CORNERS:
        bench.click(bench.at(corner))
    assert bench.desk.outline is None
    bench.key(Qt.Key.Key_Return)
    outline = bench.desk.outline
    assert outline is not None
    assert bench.view.camera.eye == eye, "drawing turns nothing"
    assert len(outline.corners_mm) == 4
    drawn = Polygon(outline.corners_mm).area
    # A pixel at each corner is what the hand can be off.
    per_pixel = bench.view.sight(0.0, 0.0).pixel_mm
    assert drawn == pytest.approx(600.0 * 450.0, abs=2 * (600.0 + 450.0) * per_pixel)
    assert not card.outlines.notice.isHidden()
    card.outlines.drop.click()
    bench.settle()
    assert bench.layout.scans[0].outlines[0].keep is False
    assert bench.desk.tool == ""
    assert bench.desk.outline is None
    assert area_shown(bench) == pytest.approx(1400.0**2 - drawn, rel=1e-9)
    bench.document.undo()
    bench.settle()
    assert area_shown(bench) == pytest.approx(before, rel=1e-9)


def test_one_stroke_keeps_the_inside_wherever_the_scan_stands(open_bench: Open, qtbot: QtBot) -> None:
    bench = drawing(open_bench, ASKEW)
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    middle = bench.at(tuple(ASKEW.apply(np.zeros(3))))  # type: ignore[arg-type]
    ring = [
        middle + QPoint(round(90 * np.cos(a)), round(90 * np.sin(a))) for a in np.linspace(0, 2 * np.pi, 60)
    ]
    bench.press(ring[0])
    for place in ring[1:]:
        bench.glide(place, place, steps=1)
    bench.release(ring[-1])
    outline = bench.desk.outline
    assert outline is not None
    card.outlines.keep.click()
    bench.settle()
    # The floor lies askew to the sight: along it the prism cuts out more than the outline's own area.
    up = ASKEW.matrix()[:3, 2]
    slanted = Polygon(outline.corners_mm).area / abs(float(up @ [0.0, 0.0, 1.0]))
    assert area_shown(bench) == pytest.approx(slanted, rel=1e-6)


def test_an_outline_that_crosses_itself_is_drawn_again(open_bench: Open) -> None:
    bench = drawing(open_bench)
    for corner in (CORNERS[0], CORNERS[2], CORNERS[1], CORNERS[3]):
        bench.click(bench.at(corner))
    bench.key(Qt.Key.Key_Return)
    assert bench.desk.outline is None
    assert "crosses itself" in bench.hints[-1]
    assert bench.layout.scans[0].outlines == ()


def test_escape_goes_back_corner_by_corner_and_then_leaves_the_tool(open_bench: Open) -> None:
    bench = drawing(open_bench)
    for corner in CORNERS[:2]:
        bench.click(bench.at(corner))
    bench.key(Qt.Key.Key_Escape)
    bench.key(Qt.Key.Key_Escape)
    assert bench.desk.tool == "outline"
    bench.key(Qt.Key.Key_Escape)
    assert bench.desk.tool == ""
    assert bench.entries() == 0


def test_a_centre_line_is_picked_along_and_kept_with_how_far_it_is_off(
    open_bench: Open, qtbot: QtBot
) -> None:
    bench = open_bench(bare(Pose()), {RAW.sha256: RAW})
    card = AxesCard(bench.desk)
    qtbot.addWidget(card)
    bench.desk.go_to("axes")
    card.lines.tools["tunnel"].click()
    assert bench.desk.tool == "point tunnel line"
    bench.settle()
    bench.look((0.0, 0.0, 0.0), heading=90.0, rise=-80.0, distance=3000.0)
    for x in (-400.0, 0.0, 400.0):
        bench.click(bench.at((x, -30.0, 0.0)))
    bench.key(Qt.Key.Key_Return)
    (line,) = bench.layout.scans[0].centre_lines
    assert line.kind == "tunnel"
    assert np.array(line.points_mm)[:, 1] == pytest.approx(np.full(3, -30.0), abs=SHARE_PX)
    assert bench.desk.tool == ""
    assert bench.document.undo_words() == "pick the tunnel line"
    told = " ".join(label.text() for label in card.lines.facts.findChildren(QLabel))
    assert "driver side" in told
    assert "off the middle" in told
    bench.settle()
    assert any(word.text == "tunnel line" for word in bench.marks.words)
    card.lines.forget["tunnel"].click()
    assert bench.layout.scans[0].centre_lines == ()


def test_a_probe_is_picked_and_what_the_gauge_told_is_typed(open_bench: Open, qtbot: QtBot) -> None:
    bench = open_bench(bare(ASKEW), {RAW.sha256: RAW})
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    bench.desk.go_to("scan")
    card.probes.pick.click()
    bench.settle()
    bench.look(tuple(ASKEW.apply(np.zeros(3))), heading=100.0, rise=-70.0, distance=3000.0)  # type: ignore[arg-type]
    place = np.array([150.0, -60.0, 0.0])
    bench.click(bench.at(tuple(ASKEW.apply(place))))  # type: ignore[arg-type]
    (probe,) = bench.layout.scans[0].probes
    assert probe.at_mm == pytest.approx(place, abs=SHARE_PX)
    assert bench.desk.tool == ""
    card.show()
    settle(card.probes.offset.fields["z"], "-7")
    (probe,) = bench.layout.scans[0].probes
    # Typed along the car's axes, kept along the scan's own.
    down = ASKEW.inverse().apply(ASKEW.apply(np.zeros(3)) + np.array([0.0, 0.0, -7.0]))
    assert probe.offset_mm == pytest.approx(down, abs=1e-9)
    bench.settle()
    assert [mark.letter for mark in bench.marks.picks] == ["P1"]
    card.probes.forget.click()
    assert bench.layout.scans[0].probes == ()
    assert bench.document.undo_words() == "forget a probe point"


def test_two_ends_of_a_length_lie_on_the_desk_in_the_scans_own_coordinates(open_bench: Open) -> None:
    bench = open_bench(bare(ASKEW), {RAW.sha256: RAW})
    bench.desk.go_to("scan")
    bench.desk.use_tool("point length")
    bench.settle()
    ends = np.array([(-300.0, 100.0, 0.0), (200.0, 100.0, 0.0)])
    seen = ASKEW.apply(ends)
    target = tuple(ASKEW.apply(np.zeros(3)))
    bench.look(target, heading=100.0, rise=-60.0, distance=3000.0)  # type: ignore[arg-type]
    for end in seen:
        bench.click(bench.at(tuple(end)))
    laid = bench.desk.points
    assert laid is not None
    assert (laid.kind, laid.scan_id) == ("length", "scan-1")
    assert np.array(laid.points_mm) == pytest.approx(ends, abs=SHARE_PX)
    (dimension,) = bench.marks.dimensions
    far = float(np.linalg.norm(np.subtract(laid.points_mm[0], laid.points_mm[1])))
    assert dimension.text == show_length(far, "mm")
    bench.key(Qt.Key.Key_Escape)
    assert bench.desk.points is None
    bench.desk.use_tool("")


def test_a_length_is_pointed_at_and_taped_and_the_scan_multiplied(open_bench: Open, qtbot: QtBot) -> None:
    bench = open_bench(bare(ASKEW), {RAW.sha256: RAW})
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    card.show()
    bench.desk.go_to("scan")
    card.trust.length.click()
    bench.settle()
    seen = ASKEW.apply(np.array([(-500.0, 100.0, 0.0), (500.0, 100.0, 0.0)]))
    bench.look(tuple(ASKEW.apply(np.zeros(3))), heading=100.0, rise=-60.0, distance=3400.0)  # type: ignore[arg-type]
    for end in seen:
        bench.click(bench.at(tuple(end)))
    assert not card.trust.asks.isHidden()
    settle(card.trust.taped, "1010")
    (known,) = bench.layout.scans[0].lengths
    assert known.taped_mm == 1010.0
    assert known.scan_mm == pytest.approx(1000.0, abs=2 * SHARE_PX)
    assert bench.desk.tool == ""
    (row,) = card.trust.rows.rows()
    assert row.mark == "short"
    assert row.value.startswith("\u2212")
    assert not card.trust.scale.isHidden()
    card.trust.scale.click()
    scan = bench.layout.scans[0]
    assert scan.factor == pytest.approx(1010.0 / known.scan_mm)
    assert scan.lengths[0].scan_mm == pytest.approx(1010.0)
    assert card.trust.rows.rows()[0].mark == "clear"
    card.trust.carry.click()
    assert 0.3 < bench.layout.scans[0].good_to_mm < 3.0
    assert "one known length" in bench.layout.scans[0].good_to_note
    assert bench.document.undo_words() == "carry what was measured into every gap"


def test_a_straight_edge_is_picked_along(open_bench: Open, qtbot: QtBot) -> None:
    bench = open_bench(bare(ASKEW), {RAW.sha256: RAW})
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    bench.desk.go_to("scan")
    card.trust.edge.click()
    bench.settle()
    bench.look(tuple(ASKEW.apply(np.zeros(3))), heading=100.0, rise=-75.0, distance=3400.0)  # type: ignore[arg-type]
    for x in (-400.0, 0.0, 400.0):
        bench.click(bench.at(tuple(ASKEW.apply(np.array([x, -50.0, 0.0])))))  # type: ignore[arg-type]
    bench.key(Qt.Key.Key_Return)
    (edge,) = bench.layout.scans[0].edges
    assert len(edge.points_mm) == 3
    (row,) = card.trust.rows.rows()
    assert row.tail.startswith("over 80")
    card.trust.rows.press(edge.id)
    card.trust.forget.click()
    assert bench.layout.scans[0].edges == ()
