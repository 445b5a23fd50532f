"""Parts of the scan drawn by outline and brush, and those its shape gives away, by mouse in the real viewport."""

import math

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.stage.bench import Bench
from app.stage.conftest import RAW, Open
from app.stage.test_on_the_scan import ASKEW, bare
from core.sample_case import SampleCase
from floorpan.frames import Pose
from floorpan.scan.area_shapes import faces_in
from floorpan_app.cards.floor_card import FloorCard


@pytest.fixture
def floor_step(open_bench: Open, qtbot: QtBot) -> tuple[Bench, FloorCard]:
    bench = open_bench(bare(ASKEW), {RAW.sha256: RAW})
    card = FloorCard(bench.desk)
    qtbot.addWidget(card)
    bench.desk.go_to("floor")
    bench.settle()
    middle = ASKEW.apply(np.zeros(3))
    bench.look(
        (float(middle[0]), float(middle[1]), float(middle[2])), heading=90.0, rise=-89.0, distance=3000.0
    )
    return bench, card


def area_of(bench: Bench, number: int = 0) -> float:
    """The area of what a part covers, from the scan's own triangles (cells of 35 mm)."""
    part = bench.layout.scans[0].areas[number]
    covered = faces_in(RAW.mesh, part.drawn())
    corner = RAW.mesh.points[RAW.mesh.faces[covered]]
    across = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    return float(np.linalg.norm(across, axis=1).sum()) / 2.0


def own(bench: Bench, x: float, y: float) -> object:
    at = ASKEW.apply(np.array([x, y, 0.0]))
    return bench.at((float(at[0]), float(at[1]), float(at[2])))


def test_a_stroke_makes_a_part_and_the_next_one_takes_away(floor_step: tuple[Bench, FloorCard]) -> None:
    bench, card = floor_step
    bench.desk.brush_mm = 100.0
    card.kind.show_key("tunnel top")
    card.draw.brush.click()
    assert bench.desk.tool == "brush"
    eye = bench.view.camera.eye
    start, end = own(bench, -300.0, 0.0), own(bench, 300.0, 0.0)
    bench.drag(start, end)  # type: ignore[arg-type]
    assert bench.view.camera.eye == eye, "painting turns nothing"
    (part,) = bench.layout.scans[0].areas
    assert part.kind == "tunnel top"
    assert part.box is None
    # A stadium of 600 mm and radius 100: closed form, but for cells of 35 mm and a brush set down every 40 mm.
    stadium = 600.0 * 200.0 + math.pi * 100.0**2
    assert area_of(bench) == pytest.approx(stadium, rel=0.08)
    card.rows.press(part.id)
    card.draw.does._press("takes")
    bench.drag(own(bench, 0.0, -300.0), own(bench, 0.0, 300.0))  # type: ignore[arg-type]
    assert len(bench.layout.scans[0].areas) == 1
    assert area_of(bench) == pytest.approx(stadium - 200.0 * 200.0, rel=0.1)
    bench.document.undo()
    assert area_of(bench) == pytest.approx(stadium, rel=0.08)
    bench.desk.use_tool("")


def test_an_outline_makes_a_part(floor_step: tuple[Bench, FloorCard]) -> None:
    bench, card = floor_step
    card.kind.show_key("keep-out")
    card.draw.outline.click()
    QApplication.processEvents()
    for x, y in ((-200.0, -150.0), (200.0, -150.0), (200.0, 150.0), (-200.0, 150.0), (-200.0, -150.0)):
        bench.click(own(bench, x, y))  # type: ignore[arg-type]
    (part,) = bench.layout.scans[0].areas
    assert part.kind == "keep-out"
    assert area_of(bench) == pytest.approx(400.0 * 300.0, rel=0.1)
    assert bench.desk.tool == ""
    bench.settle()
    assert f"{part.id}" in {piece.name for piece in bench.stage.ground.pieces}


@pytest.mark.long
def test_parts_that_the_shape_gives_away_are_proposed_and_taken(
    open_bench: Open, sample: SampleCase, qtbot: QtBot
) -> None:
    bench = open_bench(sample.layout, sample.store)
    card = FloorCard(bench.desk)
    qtbot.addWidget(card)
    bench.desk.go_to("floor")
    bench.settle()
    before = len(bench.layout.scans[0].areas)
    card.draw.propose_parts()
    qtbot.waitUntil(lambda: bool(card.draw.notice.said()), timeout=60_000)
    assert "tunnel top" in card.draw.notice.said()
    card.draw.take.click()
    kinds = [area.kind for area in bench.layout.scans[0].areas[before:]]
    assert {"floor", "tunnel top", "tunnel flank"} <= set(kinds)
    assert bench.document.undo_words() == "name the parts found in the scan"
    bench.settle()
    bench.document.undo()
    bench.settle()


def test_where_nothing_can_be_told_it_says_so(open_bench: Open, qtbot: QtBot) -> None:
    bench = open_bench(bare(Pose()), {RAW.sha256: RAW})
    card = FloorCard(bench.desk)
    qtbot.addWidget(card)
    bench.desk.go_to("floor")
    bench.settle()
    card.draw.propose_parts()
    qtbot.waitUntil(lambda: bool(card.draw.notice.said()), timeout=60_000)
    assert card.draw.notice.said().startswith("No part can be told")
    assert card.draw.take.isHidden()
