"""The well: what its wall is like, a second ring, what grips; how the vessel in hand fits it, drawn and told."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QGridLayout, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.items import CupHolder, Vessel
from floorpan.layout import Layout
from floorpan.report.naming import called
from floorpan.report.sentences import give_or_take_text, sentence, value_text, wanted_text
from floorpan_app.cards import cup_words as said
from floorpan_app.cards import words
from floorpan_app.cards.blocks import PartTitle, Rule, px, told
from floorpan_app.cards.cup_lean import LeanDrawn, lean_drawn
from floorpan_app.cards.cup_lean_picture import LeanPicture
from floorpan_app.cards.cup_told import fit_text
from floorpan_app.cards.cup_wells import along, shown_fields, step_is_too_high, wall_of, with_ring, with_wall
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk

_FIRST = (
    "depth_mm", "mouth_mm", "base_mm", "step_mm", "step_depth_mm", "ring_mm", "ring_over_mm", "grip",
    "grip_reach_mm", "grip_n_per_mm",
)  # fmt: skip
_MORE = ("name", "wall_mm", "lean_back_deg", "lean_right_deg", "stands_on")


class CupWellPart(QWidget):
    """A part of the cup's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._holder: CupHolder | None = None
        self._vessel: Vessel | None = None
        self.picture = LeanPicture()
        self.fit = told()
        self.rows = Rows(said.FIT)
        self.rows.row_chosen.connect(desk.choose_finding)
        self.wall = QuietCombo(list(said.WALLS.items()), said.WALL)
        self.wall.picked.connect(self._set_wall)
        self.ring = QCheckBox(said.RING)
        self.ring.clicked.connect(self._set_ring)
        self.form = ThingForm(desk, CupHolder, _FIRST, _MORE, along=along)
        self._too_high = told(said.STEP_TOO_HIGH, second=True)
        self._lay_out()

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(8))
        grid.setColumnStretch(0, 1)
        self.wall.setFixedWidth(px(FIELD_WIDTH))
        grid.addWidget(told(said.WALL), 0, 0)
        grid.addWidget(self.wall, 0, 1, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for piece in (Rule(), PartTitle(words.WELL), self.picture, self.fit, self.rows):
            column.addWidget(piece)
        column.addLayout(grid)
        for below in (self.ring, self._too_high, self.form):
            column.addWidget(below)

    def refresh(self, holders: Sequence[CupHolder], vessel: Vessel | None) -> None:
        """Bring it up to date; the first holder is the one in hand, where none is chosen."""
        shown = self.form.show_things(holders)
        self._holder = shown if isinstance(shown, CupHolder) else None
        self._vessel = vessel
        self.setVisible(self._holder is not None)
        holder = self._holder
        if holder is None:
            return
        self.wall.show_key(wall_of(holder))
        self.ring.setChecked(holder.ring_mm > 0.0)
        for name, needed in shown_fields(holder).items():
            self.form.form.show_field(name, needed)
        stepped, straight = wall_of(holder) == "stepped", holder.base_mm == holder.mouth_mm
        mouth = said.UPPER if stepped else said.ACROSS if straight else said.MOUTH
        self.form.form.set_label("mouth_mm", mouth)
        self._too_high.setVisible(step_is_too_high(holder))
        self._show_fit(holder, vessel)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """What is found of the fit of the vessel that is shown."""
        vessel, layout, system = self._vessel, self._desk.layout, self._desk.system
        found = {
            one.check: one
            for one in findings
            if vessel is not None and one.check in said.FIT_TITLES and one.subjects[0] == vessel.id
        }
        rows = [
            Row(
                id=one.id,
                title=said.FIT_TITLES[one.check],
                mark=one.verdict,
                tail=said.WANTED.format(wanted=wanted_text(one.limit, system, with_unit=False)),
                value=value_text(one, system),
                trust=give_or_take_text(one, system),
                spoken=sentence(one, layout, system),
            )
            for one in (found[check] for check in said.FIT_TITLES if check in found)
        ]
        self.rows.show_rows(rows, self._desk.finding)

    def holder(self) -> CupHolder | None:
        """The holder that is shown."""
        return self._holder

    def drawn(self) -> LeanDrawn | None:
        """The vessel in its well as it is drawn."""
        return self.picture.drawn()

    def _show_fit(self, holder: CupHolder, vessel: Vessel | None) -> None:
        drawn = lean_drawn(holder, vessel) if vessel is not None else None
        well = called(holder.id, self._desk.layout).inside
        text = fit_text(well, vessel, drawn, self._desk.system)
        self.fit.setText(text)
        self.picture.setVisible(drawn is not None)
        self.picture.show_lean(holder, drawn, self._desk.system, text)

    def _set_wall(self, wall: str) -> None:
        holder = self._holder
        if holder is not None:
            entry = said.WALL_ENTRY.format(name=holder.name, wall=said.WALLS[wall])
            self._change(holder, entry, with_wall(holder, wall))
            self.wall.show_key(wall_of(self._holder or holder))

    def _set_ring(self, ring: bool) -> None:
        holder = self._holder
        if holder is not None:
            entry = (said.RING_ENTRY if ring else said.NO_RING_ENTRY).format(name=holder.name)
            self._change(holder, entry, with_ring(holder, ring))

    def _change(self, holder: CupHolder, entry: str, fields: dict[str, float]) -> None:
        def edit(layout: Layout) -> Layout:
            return edits.change(layout, holder.id, **fields)

        if fields:
            tried(self._desk, entry, edit)
