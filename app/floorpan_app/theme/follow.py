"""Which theme: as the system asks, or the one the user chose; and putting it on the whole program."""

from typing import Literal, get_args

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from floorpan_app.theme.icons import forget_drawn_icons
from floorpan_app.theme.in_use import use
from floorpan_app.theme.palette import make_palette
from floorpan_app.theme.record import Theme, ThemeName, load_theme
from floorpan_app.theme.stylesheet import make_stylesheet

ThemeChoice = Literal["system", "light", "dark", "contrast"]
THEME_CHOICES: tuple[ThemeChoice, ...] = get_args(ThemeChoice)


def apply_theme(app: QApplication, theme: Theme) -> None:
    """Put `theme` on everything that is shown: base style, palette, stylesheet, icons."""
    use(theme)
    forget_drawn_icons()
    app.setStyle("Fusion")
    app.setPalette(make_palette(theme))
    app.setStyleSheet(make_stylesheet(theme))


def theme_for(choice: ThemeChoice, scheme: Qt.ColorScheme, contrast: Qt.ContrastPreference) -> ThemeName:
    """The theme to show: more contrast asked of the system wins over light and dark; unknown is light."""
    if choice != "system":
        return choice
    if contrast == Qt.ContrastPreference.HighContrast:
        return "contrast"
    return "dark" if scheme == Qt.ColorScheme.Dark else "light"


class ThemeFollower(QObject):
    """Keeps the program in the chosen theme, and in step with the system when that is the choice."""

    themeChanged = Signal(object)
    """The new Theme, after it has been put on: for what paints outside the toolkit."""

    def __init__(self, app: QApplication, choice: ThemeChoice = "system") -> None:
        super().__init__(app)
        self._app = app
        self._choice = choice
        self._theme: Theme | None = None
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._look_again)
        hints.accessibility().contrastPreferenceChanged.connect(self._look_again)
        self._look_again()

    def choice(self) -> ThemeChoice:
        return self._choice

    def set_choice(self, choice: ThemeChoice) -> None:
        """Follow the system, or stay with one theme."""
        self._choice = choice
        self._look_again()

    def theme(self) -> Theme:
        return self._theme if self._theme is not None else load_theme("light")

    def _look_again(self) -> None:
        hints = QGuiApplication.styleHints()
        name = theme_for(self._choice, hints.colorScheme(), hints.accessibility().contrastPreference())
        theme = load_theme(name)
        if theme != self._theme:
            self._theme = theme
            apply_theme(self._app, theme)
            self.themeChanged.emit(theme)
