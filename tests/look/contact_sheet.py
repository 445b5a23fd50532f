"""Draws every piece in the three themes, as pictures to look at.

    python tests/look/contact_sheet.py FOLDER [SCALE]

writes one PNG a sheet and theme. SCALE is the device pixel ratio, 1 unless given.
"""

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

sys.path.insert(0, str(Path(__file__).parents[1]))

from floorpan_app.theme.follow import apply_theme
from floorpan_app.theme.fonts import CARD_TITLE, PART, text_font, use_fonts
from floorpan_app.theme.icons import icon_names, paint_icon, themed_icon
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.theme.record import THEME_NAMES, VERDICTS, load_theme
from floorpan_app.widgets.gap_rule import GapRule
from floorpan_app.widgets.gate_card import GateCard
from floorpan_app.widgets.ledger import Ledger
from floorpan_app.widgets.length_field import LengthField, LengthLimits
from floorpan_app.widgets.lettering import BOLDER, CENTRE, write
from floorpan_app.widgets.matrix import StateMatrix
from floorpan_app.widgets.part_tag import PartTag, TagText
from floorpan_app.widgets.progress_strip import ProgressStrip, Work
from floorpan_app.widgets.step_strip import StepStrip
from floorpan_app.widgets.ticket import Ticket
from floorpan_app.widgets.tight_spot import TightSpot
from floorpan_app.widgets.tool_roll import ToolRoll
from floorpan_app.widgets.verdict_shape import VerdictMark
from floorpan_app.widgets.words import SeenFrom, Showing
from look.samples import GEARS, READINGS, ROWS, SEEN_FROM, SHOWING, SPOT, STEPS, TICKETS, VERBS, matrix_table


class Bench(QWidget):
    """A ground of bench colour, as the viewport has."""

    def paintEvent(self, event: QPaintEvent) -> None:
        QPainter(self).fillRect(self.rect(), QColor(theme_in_use().bench))


class Icons(QWidget):
    """Every icon at 24 and 16 px with its name."""

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, theme = QPainter(self), theme_in_use()
        for place, name in enumerate(icon_names()):
            left, top = 10 + place % 12 * 100, 10 + place // 12 * 66
            paint_icon(painter, QRectF(left + 20, top, 24, 24), name, theme.ink)
            paint_icon(painter, QRectF(left + 54, top + 6, 16, 16), name, theme.ink)
            write(painter, QRectF(left, top + 30, 96, 18), name, text_font(12), theme.ink2, CENTRE)


def column() -> QWidget:
    sheet = QWidget()
    row = QHBoxLayout(sheet)
    row.setSpacing(20)
    for listing, width in ((True, 344), (False, 408)):
        box = QVBoxLayout()
        spot, gate, ledger = TightSpot(SPOT), GateCard(GEARS, "R"), Ledger()
        gate.set_listing(listing)
        ledger.set_rows(ROWS, left_out="Clear in 31 states of 9 pairs.")
        ledger.set_chosen("r1")
        margin = QHBoxLayout()
        margin.setContentsMargins(16, 0, 14, 0)
        margin.addWidget(gate)
        box.addWidget(spot)
        box.addLayout(margin)
        box.addWidget(ledger, 1)
        frame = QWidget()
        frame.setLayout(box)
        box.setContentsMargins(0, 0, 0, 0)
        frame.setFixedWidth(width)
        row.addWidget(frame)
    rest = QVBoxLayout()
    empty, folded = TightSpot(), TightSpot(SPOT)
    folded.set_folded(True)
    rest.addWidget(empty)
    rest.addWidget(folded)
    for reading in READINGS:
        rest.addWidget(GapRule(reading))
    rest.addStretch()
    row.addLayout(rest, 1)
    sheet.resize(1366, 720)
    return sheet


def over_the_view() -> QWidget:
    sheet = Bench()
    grid = QVBoxLayout(sheet)
    grid.setContentsMargins(0, 0, 0, 10)
    words = QHBoxLayout()
    words.addWidget(SeenFrom(SEEN_FROM))
    words.addStretch()
    words.addWidget(Showing(SHOWING))
    grid.addLayout(words)
    for tickets in (TICKETS[:4], TICKETS[4:]):
        line = QHBoxLayout()
        line.setContentsMargins(14, 0, 14, 0)
        for text in tickets:
            ticket = Ticket(text)
            ticket.setFixedSize(ticket.sizeHint())
            line.addWidget(ticket)
        line.addStretch()
        grid.addLayout(line)
    tags = QHBoxLayout()
    tags.setContentsMargins(14, 0, 14, 0)
    for locked in (False, True):
        place = "640 rear, 30 passenger side, 212 up · 28 rearward of where it stood"
        tag = PartTag(TagText(name="Tall bottle, 0.5 l", place=place if not locked else "", locked=locked))
        tag.set_in_hand("" if locked else "drag")
        tags.addWidget(tag)
    tags.addStretch()
    grid.addLayout(tags)
    marks = QHBoxLayout()
    marks.setContentsMargins(14, 0, 14, 0)
    for verdict in VERDICTS:
        marks.addWidget(VerdictMark(verdict))
    marks.addStretch()
    grid.addLayout(marks)
    grid.addStretch()
    foot = QHBoxLayout()
    foot.setContentsMargins(14, 0, 14, 0)
    roll = ToolRoll(VERBS)
    roll.set_in_hand("measure")
    foot.addWidget(roll)
    foot.addStretch()
    for done in (0.62, None):
        strip = ProgressStrip()
        strip.set_work(Work(doing="Sweeping seat notches", done=done, others=2 if done is None else 0))
        foot.addWidget(strip)
    grid.addLayout(foot)
    sheet.resize(1366, 360)
    return sheet


def matrix() -> QWidget:
    sheet = QWidget()
    box = QVBoxLayout(sheet)
    box.setContentsMargins(0, 0, 0, 0)
    strip = StepStrip(STEPS)
    strip.set_title("Tin coupé", "version B")
    box.addWidget(strip)
    table = matrix_table()
    wide, narrow = StateMatrix(table), StateMatrix(table)
    wide.add_beside_title(QPushButton(themed_icon("compare"), "Lay side by side"))
    wide.set_chosen("hand-bottle", "Gear.R")
    wide.setFixedWidth(1022)
    narrow.setFixedWidth(700)
    box.addWidget(wide, 1)
    short = StepStrip(STEPS)
    short.set_title("Tin coupé", "version B")
    short.setFixedWidth(700)
    box.addWidget(short)
    box.addWidget(narrow, 1)
    sheet.resize(1366, 900)
    return sheet


def fields() -> QWidget:
    sheet = QWidget()
    grid = QGridLayout(sheet)
    title = QLabel("Shifter")
    title.setFont(text_font(CARD_TITLE, BOLDER))
    grid.addWidget(title, 0, 0)
    form = QFormLayout()

    def parse(text: str) -> float:
        number, _, unit = text.partition(" ")
        return float(number) * (25.4 if unit == "in" else 1.0)

    def show(value_mm: float) -> str:
        return f"{value_mm:g} mm"

    limits = LengthLimits(least_mm=60, most_mm=600, told="A lever is 60 to 600 mm long.")
    knob = LengthField(parse, show, value_mm=468.0, name="Knob, neutral, X")
    lever = LengthField(parse, show, limits=limits, name="Lever length")
    lever.line_edit().setText("11")
    lever.line_edit().returnPressed.emit()
    form.addRow("Knob, neutral, X", knob)
    form.addRow("Lever length", lever)
    choice, off, count = QComboBox(), QSpinBox(), QSpinBox()
    choice.addItems(["on cables", "a remote rod", "the gearbox"])
    off.setEnabled(False)
    form.addRow("Lever stands", choice)
    form.addRow("Gears", count)
    form.addRow("Off", off)
    grid.addLayout(form, 1, 0)
    accept = QPushButton(themed_icon("accept", "on_accent"), "Accept controls")
    accept.setProperty("role", "accept")
    write_off = QPushButton("Write")
    write_off.setEnabled(False)
    line = QHBoxLayout()
    for button in (QPushButton("Start over"), write_off, accept):
        line.addWidget(button)
    grid.addLayout(line, 2, 0)
    heading = QLabel("Icons")
    heading.setFont(text_font(PART, BOLDER))
    grid.addWidget(heading, 0, 1)
    icons = Icons()
    icons.setMinimumSize(QSize(1220, 280))
    grid.addWidget(icons, 1, 1, 2, 1)
    sheet.resize(1640, 400)
    return sheet


SHEETS: dict[str, Callable[[], QWidget]] = {
    "column": column,
    "view": over_the_view,
    "matrix": matrix,
    "fields": fields,
}


def draw(widget: QWidget, scale: float) -> QImage:
    """The widget as a picture, at `scale` device pixels a pixel."""
    image = QImage(widget.size() * scale, QImage.Format.Format_ARGB32)
    image.setDevicePixelRatio(scale)
    image.fill(QColor(theme_in_use().paper))
    widget.render(image)
    return image


def main(folder: Path, scale: float) -> None:
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    use_fonts()
    folder.mkdir(parents=True, exist_ok=True)
    for name in THEME_NAMES:
        apply_theme(app, load_theme(name))
        for sheet, make in SHEETS.items():
            widget = make()
            widget.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
            widget.show()
            app.processEvents()
            draw(widget, scale).save(str(folder / f"{sheet}-{name}.png"))
            widget.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), float(sys.argv[2]) if len(sys.argv) > 2 else 1.0)
