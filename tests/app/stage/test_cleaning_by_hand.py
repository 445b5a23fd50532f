"""Cleaning a scan from its card and by mouse: nothing of the file is lost."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.cards.hands import choose, settle
from app.stage.bench import Bench
from app.stage.conftest import Open
from app.stage.test_on_the_scan import ASKEW, bare
from core.small_case import level_floor, raw_scan
from floorpan.geometry.mesh import Mesh
from floorpan.scan import RawScan
from floorpan.scan.cleaning import DropSmallIslands
from floorpan_app.cards.scan_card import ScanCard


def with_a_stray_piece() -> RawScan:
    """A level floor, and a piece of 40 mm square that floats beside it."""
    floor, piece = level_floor(), level_floor(half_mm=20.0, cells=4, z_mm=150.0)
    points = np.vstack([floor.points, piece.points + np.array([300.0, 100.0, 0.0])])
    return raw_scan(Mesh(points, np.vstack([floor.faces, piece.faces + len(floor.points)])))


RAW = with_a_stray_piece()
FLOOR, PIECE = 3200, 32


@pytest.fixture
def scan_step(open_bench: Open, qtbot: QtBot) -> tuple[Bench, ScanCard]:
    layout = bare(ASKEW)
    layout = replace(layout, scans=(replace(layout.scans[0], sha256=RAW.sha256),))
    bench = open_bench(layout, {RAW.sha256: RAW})
    card = ScanCard(bench.desk)
    qtbot.addWidget(card)
    card.show()
    bench.desk.go_to("scan")
    bench.settle()
    return bench, card


def faces_shown(bench: Bench) -> int:
    return sum(len(piece.mesh.faces) for piece in bench.stage.ground.pieces if piece.kind == "mesh")


def test_an_island_is_clicked_away_and_comes_back(scan_step: tuple[Bench, ScanCard]) -> None:
    bench, card = scan_step
    assert faces_shown(bench) == FLOOR + PIECE
    card.cleaning.drop_one.click()
    at = ASKEW.apply(np.array([300.0, 100.0, 150.0]))
    where = (float(at[0]), float(at[1]), float(at[2]))
    bench.look(where, heading=90.0, rise=-60.0, distance=1500.0)
    bench.click(bench.at(where))
    (line,) = bench.layout.scans[0].cleaned
    assert line.kind == "named_islands"
    bench.settle()
    assert faces_shown(bench) == FLOOR
    (row,) = card.cleaning.rows.rows()
    assert row.second == f"1 islands left out, {PIECE} triangles left out"
    bench.key(Qt.Key.Key_Escape)
    card.cleaning.forget.click()
    bench.settle()
    assert faces_shown(bench) == FLOOR + PIECE
    assert bench.document.undo_words() == "take a line of the cleaning back"


def test_small_islands_go_by_size_which_is_typed(scan_step: tuple[Bench, ScanCard]) -> None:
    bench, card = scan_step
    choose(card.cleaning.kind, "small_islands")
    card.cleaning.do.click()
    assert bench.layout.scans[0].cleaned[0].deed == DropSmallIslands(smaller_mm=50.0)
    bench.settle()
    assert faces_shown(bench) == FLOOR
    settle(card.cleaning.forms["small_islands"].fields["smaller_mm"], "30")  # type: ignore[arg-type]
    assert bench.layout.scans[0].cleaned[0].deed == DropSmallIslands(smaller_mm=30.0)
    bench.settle()
    assert faces_shown(bench) == FLOOR + PIECE
    assert card.cleaning.rows.rows()[0].second == "found nothing"
