"""The theme of the moment, for everything that paints."""

from floorpan_app.theme.record import Theme, load_theme

_held: list[Theme] = []


def theme_in_use() -> Theme:
    """The record to paint from; light until another was chosen."""
    return _held[-1] if _held else load_theme("light")


def use(theme: Theme) -> None:
    """Make `theme` the record everybody paints from. `follow.apply_theme` calls it, painting code never."""
    _held[:] = [theme]
