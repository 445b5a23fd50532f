"""The stylesheet from a theme record: what a palette cannot say about buttons and fields.

States that code sets are dynamic properties: `fault` on a field, `role` on buttons (accept, link, segment) and labels
(second, fault). After setting one, call `restyle`.
"""

from string import Template

from PySide6.QtWidgets import QWidget

from floorpan_app.theme.drawn_files import drawing_file
from floorpan_app.theme.fonts import scaled
from floorpan_app.theme.record import Theme

# A spin box with a border gives its inner field no room unless its buttons stay: here they are the empty
# margins at its two ends. Rules for QLineEdit reach the field inside spin and combo boxes, so that one is
# reset; a styled combo box loses its arrow, so one is supplied.
_RULES = Template(
    """
QPushButton { background: $raised; color: $ink; border: 1px solid $edge; border-radius: 4px;
  min-height: ${button}px; padding: 0 ${wide}px; }
QPushButton:hover, QPushButton:pressed { background: $wash; }
QPushButton:pressed, QPushButton:checked { border: 1px solid $accent; background: $wash; }
QPushButton:default, QPushButton[role="accept"] { background: $accent; color: $on_accent;
  border-color: $accent; font-weight: 600; }
QPushButton:default:hover, QPushButton[role="accept"]:hover { border-color: $ink; }
QPushButton:disabled, QPushButton[role="accept"]:disabled { background: transparent; color: $off;
  border: 1px dashed $off; }
QPushButton[role="link"] { background: transparent; color: $accent; border: none; padding: 0 2px;
  min-height: ${link}px;
  font-weight: 600; text-decoration: underline; }
QPushButton[role="link"]:disabled { color: $off; border: none; text-decoration: none; }
QPushButton[role="segment"] { padding: 0 ${narrow}px; min-height: ${field}px; }
QPushButton[role="segment"]:checked { font-weight: 600; }
QToolButton { background: transparent; color: $ink; border: 1px solid transparent; border-radius: 4px;
  min-height: ${field}px; padding: 0 6px; }
QToolButton:hover { background: $wash; }
QToolButton:checked { background: $wash; border-color: $accent; }
QToolButton:disabled { color: $off; border: 1px dashed $off; }
QLineEdit, QAbstractSpinBox, QComboBox { background: $raised; color: $ink; border: 1px solid $edge;
  border-radius: 4px; min-height: ${field}px; padding: 0 6px; selection-background-color: $accent;
  selection-color: $on_accent; }
QPlainTextEdit, QTextEdit { background: $raised; color: $ink; border: 1px solid $edge; border-radius: 4px; }
QLineEdit:focus, QAbstractSpinBox:focus, QComboBox:focus { border: 2px solid $accent; padding: 0 5px;
  min-height: ${field_in}px; }
QPlainTextEdit:focus, QTextEdit:focus { border: 2px solid $accent; }
QLineEdit[fault="true"], QAbstractSpinBox[fault="true"], QComboBox[fault="true"] { border: 2px solid $hits;
  padding: 0 5px; min-height: ${field_in}px; }
QLineEdit:disabled, QAbstractSpinBox:disabled, QComboBox:disabled { background: transparent; color: $off;
  border: 1px dashed $off; }
QAbstractSpinBox { min-height: ${spin}px; }
QAbstractSpinBox:focus, QAbstractSpinBox[fault="true"] { min-height: ${spin_in}px; }
QAbstractSpinBox QLineEdit, QComboBox QLineEdit, QAbstractSpinBox QLineEdit:focus, QComboBox QLineEdit:focus {
  border: none; padding: 0; min-height: 0; background: transparent; }
QAbstractSpinBox::up-button { subcontrol-position: left center; width: 6px; border: none; }
QAbstractSpinBox::down-button { subcontrol-position: right center; width: 6px; border: none; }
QComboBox::drop-down { border: none; width: ${drop}px; }
QComboBox::down-arrow { image: url("$arrow"); width: ${arrow_size}px; height: ${arrow_size}px; }
QComboBox::down-arrow:disabled { image: url("$arrow_off"); }
QAbstractItemView { selection-background-color: $wash; selection-color: $ink; }
QComboBox QAbstractItemView { background: $raised; color: $ink; border: 1px solid $edge;
  selection-background-color: $wash; selection-color: $ink; }
QCheckBox, QRadioButton { spacing: 8px; }
QCheckBox:disabled, QRadioButton:disabled { color: $off; }
QCheckBox::indicator, QRadioButton::indicator { width: ${box}px; height: ${box}px; border: 1px solid $edge;
  background: $raised; }
QCheckBox::indicator { border-radius: 3px; }
QRadioButton::indicator { border-radius: ${box_half}px; }
QCheckBox::indicator:focus, QRadioButton::indicator:focus { border: 2px solid $accent; }
QCheckBox::indicator:checked, QRadioButton::indicator:checked { background: $accent; border-color: $accent;
  image: url("$punch"); }
QCheckBox::indicator:disabled, QRadioButton::indicator:disabled { border: 1px dashed $off; }
QProgressBar { background: $track; border: none; border-radius: 3px; min-height: 6px; max-height: 6px; }
QProgressBar::chunk { background: $accent; border-radius: 3px; }
QMenuBar, QMenu, QStatusBar { background: $paper; color: $ink; }
QMenuBar::item { background: transparent; padding: 4px 10px; }
QMenuBar::item:selected, QMenu::item:selected { background: $wash; color: $ink; }
QMenu { border: 1px solid $edge; padding: 4px 0; }
QMenu::item { padding: 5px 24px; }
QMenu::item:disabled { color: $off; }
QMenu::separator { height: 1px; background: $line; margin: 4px 0; }
QStatusBar::item { border: none; }
QToolTip { background: $raised; color: $ink; border: 1px solid $edge; padding: 3px; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 10px; margin: 0; }
QScrollBar::handle { background: $edge; border: 2px solid $paper; border-radius: 4px; }
QScrollBar::handle:vertical { min-height: 28px; }
QScrollBar::handle:horizontal { min-width: 28px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QLabel[role="second"] { color: $ink2; }
QLabel[role="fault"] { color: $hits; }
"""
)


def make_stylesheet(theme: Theme) -> str:
    """The application's stylesheet under `theme`, measured by the text size of the moment."""
    sizes = {
        # Heights are inside the border; 28 for fields and 32 for buttons are outside measures.
        "field": round(scaled(28)) - 2,
        "field_in": round(scaled(28)) - 4,
        # The toolkit adds three of its own to a spin box.
        "spin": round(scaled(28)) - 5,
        "spin_in": round(scaled(28)) - 7,
        "button": round(scaled(32)) - 2,
        "link": round(scaled(28)),
        "wide": round(scaled(14)),
        "narrow": round(scaled(7)),
        "drop": round(scaled(22)),
        "arrow_size": round(scaled(10)),
        "box": 2 * round(scaled(8)),
        "box_half": round(scaled(8)) + 1,
    }
    pictures = {
        "arrow": drawing_file("field-arrow", theme.ink2),
        "arrow_off": drawing_file("field-arrow", theme.off),
        "punch": drawing_file("field-punch", theme.on_accent),
    }
    roles = ["paper", "raised", "line", "edge", "ink", "ink2", "off", "hits", "accent", "on_accent", "wash"]
    colours = {role: getattr(theme, role) for role in roles}
    # In the contrast theme lines are as bright as text, and a filling would not stand out on them.
    colours["track"] = theme.wash if theme.name == "contrast" else theme.line
    return _RULES.substitute(colours | pictures | {name: str(size) for name, size in sizes.items()})


def restyle(widget: QWidget) -> None:
    """Make the stylesheet look again at a widget whose dynamic property has changed."""
    style = widget.style()
    style.unpolish(widget)
    style.polish(widget)
    widget.update()
