"""Gap lines measured on pixels: jaws where the gap ends, give or take beyond, halo round all of it."""

import math

import numpy as np
import pytest
from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QPainter, QPolygonF
from PySide6.QtWidgets import QApplication

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.record import THEME_NAMES, ThemeName, load_theme
from floorpan_app.widgets.dimension import paint_gap, paint_ghost, paint_plain, paint_tail, take_length
from look.pictures import Pixels, drawn, of_colour

SIZE = QSize(300, 120)
SCALE = 2.0


def gap(verdict: str, start: float, end: float, take: float, ground: str) -> Pixels:
    def paint(painter: QPainter) -> None:
        paint_gap(painter, QPointF(start, 60), QPointF(end, 60), verdict, take)

    return drawn(SIZE, paint, ground, SCALE)


@pytest.mark.parametrize(("take", "drawn_px"), [(2.0, 6.0), (10.0, 10.0), (80.0, 24.0)])
def test_the_give_or_take_is_true_to_scale_within_bounds(take: float, drawn_px: float) -> None:
    assert take_length(take) == drawn_px
    theme = load_theme("light")
    inked = (
        of_colour(gap("clear", 100, 200, take, theme.things.scan), theme.clear, 40).any(axis=0).nonzero()[0]
    )
    assert inked[0] / SCALE == pytest.approx(100 - drawn_px, abs=1)
    assert inked[-1] / SCALE == pytest.approx(200 + drawn_px, abs=1.5)


@pytest.mark.parametrize("verdict", ["clear", "close", "short"])
def test_jaws_of_16_px_stand_at_both_ends(verdict: str) -> None:
    theme = load_theme("light")
    sheet = of_colour(gap(verdict, 100, 200, 8, theme.things.scan), theme.verdict(verdict), 40)
    heights = sheet.sum(axis=0)
    tall = np.nonzero(heights >= 30)[0] / SCALE
    assert all(min(abs(x - 100), abs(x - 200)) <= 2 for x in tall)
    assert heights[round(100 * SCALE)] == pytest.approx(16 * SCALE, abs=3)


@pytest.mark.parametrize("name", THEME_NAMES)
@pytest.mark.parametrize("verdict", ["clear", "close", "short", "hits", "unseen"])
def test_a_line_on_the_scan_keeps_a_halo_of_2_px_each_side(
    app: QApplication, name: ThemeName, verdict: str
) -> None:
    theme = load_theme(name)
    apply_theme(app, theme)
    sheet = gap(verdict, 90, 210, 8, theme.things.scan)
    column = sheet[:, round(112 * SCALE) : round(112 * SCALE) + 4]
    halo = of_colour(column, theme.paper, 20).any(axis=1).nonzero()[0]
    line = of_colour(column, theme.verdict(verdict), 60).any(axis=1).nonzero()[0]
    above, below = line[0] - halo[0], halo[-1] - line[-1]
    assert min(above, below) >= 2 * SCALE - 1


def test_hits_cross_under_a_ring_with_their_overlap_filled() -> None:
    theme = load_theme("light")
    sheet = gap("hits", 155, 145, 4, theme.things.scan)
    inked = of_colour(sheet, theme.hits, 40)
    for angle in range(0, 360, 15):
        x, y = 150 + 30 * math.cos(math.radians(angle)), 60 + 30 * math.sin(math.radians(angle))
        at = inked[round(y * SCALE) - 2 : round(y * SCALE) + 3, round(x * SCALE) - 2 : round(x * SCALE) + 3]
        assert at.any(), angle
    assert not inked[:, : round(116 * SCALE)].any()


def test_unseen_is_dotted_and_ends_in_a_hatched_stub() -> None:
    theme = load_theme("light")
    sheet = of_colour(gap("unseen", 100, 200, 8, theme.things.scan), theme.unseen, 70)
    along = sheet[round(60 * SCALE), round(104 * SCALE) : round(190 * SCALE)]
    assert 8 <= np.count_nonzero(np.diff(along.astype(int)) == 1) <= 20
    stub = sheet[round(52 * SCALE) : round(68 * SCALE), round(195 * SCALE) : round(205 * SCALE)]
    assert 0.15 < stub.mean() < 0.75


def test_pending_draws_no_line() -> None:
    ground = load_theme("light").things.scan
    assert of_colour(gap("pending", 100, 200, 8, ground), ground, 2).all()


def test_a_plain_dimension_breaks_for_its_value_and_points_at_both_ends() -> None:
    theme = load_theme("light")

    def paint(painter: QPainter) -> None:
        paint_plain(painter, QPointF(40, 60), QPointF(260, 60), "218.5")

    sheet = of_colour(drawn(SIZE, paint, theme.bench, SCALE), theme.ink, 60)
    inked = sheet.any(axis=0).nonzero()[0] / SCALE
    assert (inked[0], inked[-1]) == (pytest.approx(40, abs=1.5), pytest.approx(260, abs=1.5))
    row = sheet[round(60 * SCALE)]
    assert not row[round(126 * SCALE) : round(129 * SCALE)].any()
    # Slim arrows: 11 long, 7 wide.
    assert sheet[:, round(50 * SCALE)].sum() == pytest.approx(7 * SCALE * 10 / 11, abs=3)


def test_the_ghost_is_dashed_and_the_tail_is_not() -> None:
    theme = load_theme("light")
    square = QPolygonF([QPointF(50, 20), QPointF(250, 20), QPointF(250, 100), QPointF(50, 100)])
    ghost = of_colour(drawn(SIZE, lambda p: paint_ghost(p, square), theme.bench, SCALE), theme.accent, 60)
    top = ghost[round(20 * SCALE) - 2 : round(20 * SCALE) + 3].any(axis=0)[
        round(60 * SCALE) : round(240 * SCALE)
    ]
    assert 0.35 < top.mean() < 0.75

    def paint(painter: QPainter) -> None:
        paint_tail(painter, QPointF(50, 60), QPointF(250, 60), theme.close)

    tail = of_colour(drawn(SIZE, paint, theme.bench, SCALE), theme.close, 60)
    assert tail.any(axis=0)[round(52 * SCALE) : round(248 * SCALE)].all()
