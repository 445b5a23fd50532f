"""Which theme is shown, and that it is put on everything."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from floorpan_app.theme import follow
from floorpan_app.theme.follow import ThemeChoice, ThemeFollower, theme_for
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.palette import make_palette
from floorpan_app.theme.record import THEME_NAMES, Theme, ThemeName, load_theme

Scheme, Contrast = Qt.ColorScheme, Qt.ContrastPreference


@pytest.mark.parametrize(
    ("choice", "scheme", "contrast", "shown"),
    [
        ("system", Scheme.Unknown, Contrast.NoPreference, "light"),
        ("system", Scheme.Light, Contrast.NoPreference, "light"),
        ("system", Scheme.Dark, Contrast.NoPreference, "dark"),
        ("system", Scheme.Light, Contrast.HighContrast, "contrast"),
        ("system", Scheme.Dark, Contrast.HighContrast, "contrast"),
        ("light", Scheme.Dark, Contrast.HighContrast, "light"),
        ("dark", Scheme.Light, Contrast.NoPreference, "dark"),
        ("contrast", Scheme.Light, Contrast.NoPreference, "contrast"),
    ],
)
def test_the_choice_wins_and_the_system_decides_only_when_asked(
    choice: ThemeChoice, scheme: Scheme, contrast: Contrast, shown: ThemeName
) -> None:
    assert theme_for(choice, scheme, contrast) == shown


def test_a_choice_goes_onto_palette_stylesheet_and_record(app: QApplication) -> None:
    follower = ThemeFollower(app, "light")
    told: list[Theme] = []
    follower.themeChanged.connect(told.append)
    for name in ("dark", "contrast", "light"):
        follower.set_choice(name)
        theme = load_theme(name)
        assert theme_in_use() == follower.theme() == theme
        assert app.palette().color(QPalette.ColorRole.Window).name().upper() == theme.paper
        assert theme.accent in app.styleSheet()
    assert [theme.name for theme in told] == ["dark", "contrast", "light"]
    follower.set_choice("light")
    assert len(told) == 3
    follower.deleteLater()


@pytest.mark.parametrize("signal", ["scheme", "contrast"])
def test_when_the_system_changes_its_mind_the_program_follows(
    app: QApplication, monkeypatch: pytest.MonkeyPatch, signal: str
) -> None:
    follower = ThemeFollower(app, "system")
    monkeypatch.setattr(follow, "theme_for", lambda *asked: "dark")
    hints = QGuiApplication.styleHints()
    if signal == "scheme":
        hints.colorSchemeChanged.emit(Scheme.Dark)
    else:
        hints.accessibility().contrastPreferenceChanged.emit(Contrast.HighContrast)
    assert follower.theme().name == "dark"
    assert follower.choice() == "system"
    follower.deleteLater()


@pytest.mark.parametrize("name", THEME_NAMES)
def test_the_palette_is_made_of_the_record(app: QApplication, name: ThemeName) -> None:
    theme, palette = load_theme(name), make_palette(load_theme(name))
    role, group = QPalette.ColorRole, QPalette.ColorGroup
    expected = {
        role.Window: theme.paper, role.Base: theme.raised, role.Button: theme.raised, role.Text: theme.ink,
        role.WindowText: theme.ink, role.ButtonText: theme.ink, role.PlaceholderText: theme.ink2,
        role.Highlight: theme.accent, role.Accent: theme.accent, role.Link: theme.accent,
        role.HighlightedText: theme.on_accent, role.Mid: theme.edge, role.Dark: theme.edge,
        role.Midlight: theme.line,
    }  # fmt: skip
    for which, colour in expected.items():
        assert palette.color(which).name().upper() == colour
    assert palette.color(group.Disabled, role.ButtonText).name().upper() == theme.off
