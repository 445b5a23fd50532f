"""Words on the floor, and colours that can be read on it."""

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from floorpan_app.theme.record import THEME_NAMES, Theme, load_theme
from floorpan_app.viewport.colours import colours_of, contrast, legible_on
from floorpan_app.viewport.lettering import FloorWord, Lettering, draped, stencilled

WORD = FloorWord(text="FRONT", at_mm=(100.0, 0.0, 0.0), along=(0.0, 1.0, 0.0), height_mm=60.0)


def slope(x: float, y: float) -> float | None:
    return 0.2 * x


def test_a_word_lies_on_the_floor() -> None:
    points, cells, places = draped(WORD, 4.0, slope)
    assert points[:, 2] == pytest.approx(0.2 * points[:, 0])
    assert (points[:, 0].min(), points[:, 0].max()) == pytest.approx((70.0, 130.0))
    assert (points[:, 1].min(), points[:, 1].max()) == pytest.approx((-120.0, 120.0))
    corners = points[cells]
    flat = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    # The triangles cover the word, seen from above once, and face up.
    assert flat[:, 2].sum() / 2 == pytest.approx(60.0 * 240.0)
    assert (flat[:, 2] > 0.0).all()
    # Reading goes along, the top of the letters lies to the left of it.
    first = points[(places == 0.0).all(axis=1)][0]
    assert first[:2] == pytest.approx((130.0, -120.0))


def test_a_word_is_broken_where_nothing_was_seen() -> None:
    whole = draped(WORD, 4.0, slope)[1]
    points, cells, _ = draped(WORD, 4.0, lambda x, y: None if 20.0 < y < 60.0 else 0.0)
    assert 0 < len(cells) < len(whole)
    assert not ((points[cells][..., 1] > 20.0) & (points[cells][..., 1] < 60.0)).any()
    assert np.isfinite(points).all()


def test_a_word_turns_so_that_it_can_be_read(theme: Theme) -> None:
    word = Lettering(WORD, slope, "scan")

    def first_place() -> list[float]:
        places = word.parts[0].form.shape.point_data.active_texture_coordinates
        return np.asarray(places)[0].tolist()

    word.face(np.array([0.0, 1.0, 0.0]))
    upright = first_place()
    word.face(np.array([0.1, -1.0, 0.0]))
    assert first_place() == [1.0 - part for part in upright]
    assert word.parts[0].actor.GetVisibility()
    word.face(None)
    assert not word.parts[0].actor.GetVisibility()


def test_letters_are_cut_by_two_bridges(theme: Theme) -> None:
    picture = stencilled("I")
    inked = (picture[..., 3] > 128).any(axis=1)
    changes = np.flatnonzero(np.diff(inked.astype(int)))
    # In and out of three pieces of one stroke.
    assert len(changes) == 6


@pytest.mark.parametrize("name", THEME_NAMES)
def test_what_is_written_on_the_scan_stands_out_three_to_one(qapp: QApplication, name: str) -> None:
    colours = colours_of(load_theme(name))  # type: ignore[arg-type]
    assert contrast(legible_on(colours, "scan"), colours["scan"]) >= 3.0


def test_contrast_of_black_and_white_is_21() -> None:
    """Source: WCAG 2.2, definition of contrast ratio."""
    white, black = "#" + "F" * 6, "#" + "0" * 6
    assert contrast(white, black) == pytest.approx(21.0)
    assert contrast(black, white) == pytest.approx(21.0)
    assert contrast(white, white) == pytest.approx(1.0)
