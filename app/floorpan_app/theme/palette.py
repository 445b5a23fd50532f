"""The toolkit's palette from a theme record."""

from PySide6.QtGui import QColor, QPalette

from floorpan_app.theme.record import Theme

_Role = QPalette.ColorRole


def make_palette(theme: Theme) -> QPalette:
    """The palette in which every stock widget paints itself under `theme`."""
    roles = {
        _Role.Window: theme.paper,
        _Role.Base: theme.raised,
        _Role.AlternateBase: theme.paper,
        _Role.Button: theme.raised,
        _Role.ToolTipBase: theme.raised,
        _Role.WindowText: theme.ink,
        _Role.Text: theme.ink,
        _Role.ButtonText: theme.ink,
        _Role.ToolTipText: theme.ink,
        _Role.BrightText: theme.ink,
        _Role.PlaceholderText: theme.ink2,
        _Role.Highlight: theme.accent,
        _Role.Accent: theme.accent,
        _Role.Link: theme.accent,
        _Role.LinkVisited: theme.accent,
        _Role.HighlightedText: theme.on_accent,
        _Role.Mid: theme.edge,
        _Role.Dark: theme.edge,
        _Role.Shadow: theme.edge,
        _Role.Midlight: theme.line,
        _Role.Light: theme.raised,
    }
    palette = QPalette()
    for role, colour in roles.items():
        palette.setColor(role, QColor(colour))
    for role in (_Role.WindowText, _Role.Text, _Role.ButtonText, _Role.PlaceholderText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.off))
    palette.setColor(QPalette.ColorGroup.Disabled, _Role.Highlight, QColor(theme.off))
    return palette
