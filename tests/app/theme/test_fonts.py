"""The typeface: there, unaltered, with figures of one width; sizes as ratios of the system's."""

import hashlib
from importlib.resources import files

import pytest
from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF, QRawFont
from PySide6.QtWidgets import QApplication

from floorpan_app.theme import fonts
from floorpan_app.theme.fonts import FACES, FAMILY, LEAST, scaled, text_font, text_scale, use_fonts

FOLDER = files("floorpan_assets").joinpath("fonts")
# SHA-256 of the faces as their makers publish them, package font-source-sans-pro 0.0.1: the name is reserved to
# the unaltered files.
PUBLISHED = {
    "Regular": "b77f3a700edd0fc0dec73258f882d5c3926c77f5caf6800a201d2166568d2309",
    "It": "36133e9f508b0b4c639e84b2a09855350be0b13700ad729ab519aa78e5c48d20",
    "Semibold": "b440fd42fd5a54e1b252731deca9cc86604bee6ffa99281f5874c3476eb17eae",
    "Bold": "2efc3a95d076f2d04c5928c0ad698b7c61cc302d6f6e79e9643cd3722f7becc2",
}
NEEDED = "0123456789+−±–·…“”’×°\u2044éäöüß"


@pytest.mark.parametrize("face", FACES)
def test_a_face_is_the_published_file(face: str) -> None:
    data = FOLDER.joinpath(f"SourceSansPro-{face}.ttf").read_bytes()
    assert hashlib.sha256(data).hexdigest() == PUBLISHED[face]


def test_the_licence_goes_with_the_faces() -> None:
    text = FOLDER.joinpath("LICENSE.txt").read_text("utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert "Reserved Font Name" in text


@pytest.mark.parametrize("face", FACES)
def test_a_face_has_every_sign_that_is_written(app: QApplication, face: str) -> None:
    font = QRawFont(FOLDER.joinpath(f"SourceSansPro-{face}.ttf").read_bytes(), 14.0)
    assert font.familyName().startswith(FAMILY)
    missing = [sign for sign in NEEDED if not font.supportsCharacter(ord(sign))]
    assert missing == []


def test_a_thin_space_is_thin_although_the_faces_have_none(app: QApplication) -> None:
    # An em over five, as Unicode describes U+2009; the shaper makes it, the faces carry no such glyph.
    font = text_font(20)
    width = QFontMetricsF(font).horizontalAdvance("\u2009") / QFontMetricsF(font).height()
    assert 0.1 <= width <= 0.25


@pytest.mark.parametrize("weight", [QFont.Weight.Normal, QFont.Weight.DemiBold, QFont.Weight.Bold])
def test_figures_and_signs_have_one_width(app: QApplication, weight: QFont.Weight) -> None:
    metrics = QFontMetricsF(text_font(17, weight))
    widths = {round(metrics.horizontalAdvance(sign), 3) for sign in "0123456789+−±"}
    assert len(widths) == 1


def test_the_weights_are_faces_of_their_own(app: QApplication) -> None:
    widths = [
        QFontMetricsF(text_font(40, weight)).horizontalAdvance("Knuckles hit the bottle")
        for weight in (QFont.Weight.Normal, QFont.Weight.DemiBold, QFont.Weight.Bold)
    ]
    assert widths == sorted(set(widths))


def test_a_fraction_is_set_by_the_shaper(app: QApplication) -> None:
    metrics = QFontMetricsF(text_font(17))
    assert metrics.horizontalAdvance("11\u204416") < 0.8 * metrics.horizontalAdvance("11/16")


@pytest.mark.parametrize("percent", [100, 150, 200])
def test_all_sizes_are_ratios_of_the_text_size(app: QApplication, percent: int) -> None:
    use_fonts(percent)
    assert text_scale() == pytest.approx(percent / 100)
    assert scaled(28) == pytest.approx(28 * percent / 100)
    ratio = text_font(24).pointSizeF() / text_font(LEAST).pointSizeF()
    assert ratio == pytest.approx(24 / LEAST)


def test_the_system_can_ask_for_larger_text_but_not_for_smaller(
    app: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    for points, expected in ((6.0, 1.0), (20.0, 2.0)):
        system = QFont(FAMILY)
        system.setPointSizeF(points)
        monkeypatch.setattr(fonts, "_USUAL_POINTS", 10.0)
        monkeypatch.setattr(QFontDatabase, "systemFont", lambda kind, font=system: font)
        use_fonts()
        assert text_scale() == pytest.approx(expected)


def test_where_the_faces_fail_to_load_the_system_font_serves(
    app: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fonts, "FAMILY", "Not On This Machine")
    monkeypatch.setattr(QFontDatabase, "addApplicationFontFromData", lambda data: -1)
    system = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).family()
    use_fonts(100)
    assert QApplication.font().family() == system
    assert QApplication.font().isFeatureSet(QFont.Tag("tnum"))
