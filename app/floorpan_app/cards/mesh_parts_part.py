"""Parts from mesh files: the worst that is said of each, what the one in hand stands for and how it moves, another."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.items import MeshPart
from floorpan.report.sentences import give_or_take_text, pair_title, sentence, value_text
from floorpan.units import show_length
from floorpan_app.cards import mesh_part_words as said
from floorpan_app.cards.blocks import Facts, PartTitle, Rule, pressed, px, show_all, told
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.desk import Desk

_FIRST = ("name", "counts_as", "unit", "lean_deg", "side_deg", "motion", "slide_mm", "swing_deg")
_LINE = ("axis_turn_deg", "axis_rise_deg")
_HINGE = ("axis_x_mm", "axis_y_mm", "axis_z_mm")


class MeshPartsPart(QWidget):
    """The list, the measures of the one in hand, and another.

    asked() : another one is to be read from a file
    """

    asked = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._title = PartTitle(said.PARTS)
        self._note = told(said.NONE_YET, second=True)
        self.rows = Rows(said.PARTS)
        self.rows.row_chosen.connect(self._choose)
        self.facts = Facts()
        self.form = ThingForm(desk, MeshPart, (*_FIRST, *_LINE, *_HINGE), ("stands_on",))
        self.add = pressed(said.ADD, self.asked.emit, icon="place")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for widget in (Rule(), self._title, self._note, self.rows, self.facts, self.form, self.add):
            column.addWidget(widget)

    def refresh(self, *, shown: bool) -> None:
        """Bring it up to date; shown where there is a floor and something to go with."""
        parts = self._desk.layout.of(MeshPart)
        self.setVisible(shown or bool(parts))
        self._title.show_second(said.WORST if parts else "")
        self._note.setVisible(not parts)
        show_all(bool(parts), self.rows)
        show_all(shown, self.add)
        held = next((part for part in parts if part.id == self._desk.selection), None)
        self.form.show_things((held,) if held is not None else ())
        self.facts.show_facts([] if held is None else self._facts(held))
        if held is not None:
            self._show_motion(held)

    def follow(self) -> None:
        """Only where something stands changed."""
        for part in self._desk.layout.of(MeshPart):
            self.form.follow(part)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """The worst that is said of each."""
        worst: dict[str, Finding] = {}
        for finding in sorted(findings, key=rank):
            for subject in finding.subjects:
                worst.setdefault(subject.partition(".")[0], finding)
        rows = [self._row(part, worst.get(part.id)) for part in self._desk.layout.of(MeshPart)]
        self.rows.show_rows(rows, self._desk.selection)

    def _show_motion(self, part: MeshPart) -> None:
        """Only what says something of how it moves."""
        form, slides, swings = self.form.form, part.motion == "slides", part.motion == "swings"
        form.show_field("slide_mm", slides)
        for name in ("swing_deg", *_HINGE):
            form.show_field(name, swings)
        for name in _LINE:
            form.show_field(name, slides or swings)

    def _facts(self, part: MeshPart) -> list[tuple[str, str]]:
        x, y, z = (show_length(side, self._desk.system) for side in part.sides_mm())
        size = said.SIZE.format(x=x, y=y, z=z)
        file, sides = said.FACTS
        return [(file, part.original_name), (sides, f"{size} {self._desk.system}")]

    def _row(self, part: MeshPart, worst: Finding | None) -> Row:
        layout, system = self._desk.layout, self._desk.system
        if worst is None:
            return Row(id=part.id, title=part.name, mark="pending", second=said.NOT_JUDGED)
        return Row(
            id=part.id,
            title=part.name,
            mark=worst.verdict,
            second=pair_title(worst, layout),
            value=value_text(worst, system),
            trust=give_or_take_text(worst, system),
            spoken=sentence(worst, layout, system),
        )

    def _choose(self, id: str) -> None:
        self._desk.select("" if id == self._desk.selection else id)
