"""Switches and buttons: how far each is from the hand, and how the one in hand is touched."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.items import Control
from floorpan.report.sentences import give_or_take_text, sentence, value_text
from floorpan_app.cards import switch_words as said
from floorpan_app.cards import words
from floorpan_app.cards.blocks import PartTitle, Rule, pressed, px, show_all, told
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.setting_down import set_down
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.desk import Desk


class SwitchesPart(QWidget):
    """The list, the measures of the one in hand, and setting down another."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._title = PartTitle(said.SWITCHES)
        self._note = told(said.NONE_YET, second=True)
        self.rows = Rows(said.SWITCHES)
        self.rows.row_chosen.connect(self._choose)
        self.form = ThingForm(desk, Control, ("name", "touch", "hand"), ("radius_mm", "stands_on"))
        self.add = pressed(said.ADD, lambda: desk.use_tool("place switch"), icon="place")
        self.middle = pressed(words.WHERE_USUAL, lambda: set_down(desk, "switch"), role="link")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        for widget in (Rule(), self._title, self._note, self.rows, self.form, self.add, self.middle):
            column.addWidget(widget)

    def refresh(self, *, shown: bool) -> None:
        """Bring it up to date; shown where there is a floor and something to go with."""
        switches = self._desk.layout.of(Control)
        self.setVisible(shown or bool(switches))
        self._title.show_second(said.TO_SPARE if switches else "")
        self._note.setVisible(not switches)
        show_all(bool(switches), self.rows)
        show_all(shown, self.add, self.middle)
        chosen = self._chosen()
        self.form.show_things((chosen,) if chosen is not None else ())

    def follow(self) -> None:
        """Only where something stands changed."""
        for switch in self._desk.layout.of(Control):
            self.form.follow(switch)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        """The worst reach of each."""
        worst: dict[str, Finding] = {}
        for finding in sorted(findings, key=rank):
            if finding.check == "reach-for":
                worst.setdefault(finding.subjects[1], finding)
        rows = [self._row(switch, worst.get(switch.id)) for switch in self._desk.layout.of(Control)]
        self.rows.show_rows(rows, self._desk.selection)

    def _row(self, switch: Control, worst: Finding | None) -> Row:
        layout, system = self._desk.layout, self._desk.system
        return Row(
            id=switch.id,
            title=switch.name,
            mark=worst.verdict if worst is not None else "pending",
            second=said.HOW.format(touch=said.TOUCHED[switch.touch], hand=switch.hand),
            value=value_text(worst, system) if worst is not None else "",
            trust=give_or_take_text(worst, system) if worst is not None else "",
            spoken=sentence(worst, layout, system) if worst is not None else "",
        )

    def _chosen(self) -> Control | None:
        held = self._desk.selection
        return next((one for one in self._desk.layout.of(Control) if one.id == held), None)

    def _choose(self, id: str) -> None:
        self._desk.select("" if id == self._desk.selection else id)
