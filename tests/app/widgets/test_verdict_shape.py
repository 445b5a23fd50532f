"""The shapes of the verdicts tell them apart without colour, at the smallest size they are drawn."""

import json
from importlib.resources import files
from itertools import combinations

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, QSize
from pytestqt.qtbot import QtBot

from floorpan_app.theme.icons import icon_pixmap
from floorpan_app.theme.record import VERDICTS, Verdict, load_theme
from floorpan_app.widgets.verdict_shape import VerdictMark, paint_stale, paint_verdict
from look.pictures import drawn, of_colour, picture, pixels

LEAST_PX = 12


def coverage(verdict: Verdict, side: int, scale: float = 1.0) -> NDArray[np.float64]:
    """How much of each pixel is inked, 0 to 1."""
    sheet = drawn(
        QSize(side, side), lambda p: paint_verdict(p, QRectF(0, 0, side, side), verdict), scale=scale
    )
    return sheet[:, :, 3] / 255.0


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize(("one", "two"), list(combinations(VERDICTS, 2)))
def test_two_shapes_share_less_than_half_of_their_joint_ink(one: Verdict, two: Verdict, scale: float) -> None:
    first, second = coverage(one, LEAST_PX, scale), coverage(two, LEAST_PX, scale)
    assert np.abs(first - second).sum() / np.maximum(first, second).sum() >= 0.5


@pytest.mark.parametrize("verdict", VERDICTS)
def test_a_shape_inks_its_square_and_nothing_beyond(verdict: Verdict) -> None:
    rect = QRectF(20, 20, LEAST_PX, LEAST_PX)
    alpha = drawn(QSize(52, 52), lambda p: paint_verdict(p, rect, verdict))[:, :, 3]
    inside = alpha[20:32, 20:32]
    assert inside.sum() == alpha.sum()
    assert inside.sum() / 255 >= 8


@pytest.mark.parametrize("name", [*VERDICTS, "stale"])
def test_the_shape_is_the_drawing_of_the_icon(name: str) -> None:
    colour = load_theme("light").ink
    icon = pixels(icon_pixmap(f"verdict-{name}", colour, QSize(96, 96)).toImage())[:, :, 3] / 255.0
    rect = QRectF(0, 0, 96, 96)
    if name == "stale":
        sheet = drawn(QSize(96, 96), lambda p: paint_stale(p, rect, colour))
    else:
        sheet = drawn(QSize(96, 96), lambda p: paint_verdict(p, rect, name, colour))
    shape = sheet[:, :, 3] / 255.0
    assert np.abs(icon - shape).sum() / np.maximum(icon, shape).sum() <= 0.08


def test_the_table_can_be_drawn_by_anybody() -> None:
    table = json.loads(files("floorpan_assets").joinpath("verdict_shapes.json").read_text("utf-8"))
    assert set(table["shapes"]) == {*VERDICTS, "stale"}
    numbers_of = {"M": 2, "L": 2, "C": 6, "Z": 0}
    for parts in table["shapes"].values():
        for part in parts:
            assert set(part) == {"path", "fill", "stroke_width", "dash", "cap"}
            assert part["fill"] or part["stroke_width"] > 0
            assert part["path"][0][0] == "M"
            for step in part["path"]:
                assert len(step) == 1 + numbers_of[step[0]]
                assert all(0 <= number <= table["grid"] for number in step[1:])


@pytest.mark.parametrize("verdict", VERDICTS)
def test_a_mark_shows_shape_and_word_and_says_its_word(qtbot: QtBot, verdict: Verdict) -> None:
    mark, bare = VerdictMark(verdict), VerdictMark(verdict, with_word=False)
    for widget in (mark, bare):
        qtbot.addWidget(widget)
        widget.resize(widget.sizeHint())
        assert widget.accessibleName() == verdict
    assert mark.width() > bare.width() + 15
    colour = load_theme("light").verdict(verdict)
    assert of_colour(picture(mark, 2.0)[:, 40:], colour, 40).sum() > 20
    bare.set_verdict("clear")
    assert bare.verdict() == bare.accessibleName() == "clear"
