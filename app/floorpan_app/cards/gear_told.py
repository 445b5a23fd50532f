"""What was found in the gear that is shown: its worst, its smallest gap, whether it is reached, and the elbow."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan.checks import Finding
from floorpan.report import words as said
from floorpan.report.gate_card import GearLine
from floorpan.report.naming import gear_name
from floorpan.report.sentences import give_or_take_text, pair_title, sentence, value_text
from floorpan_app.cards import words
from floorpan_app.cards.blocks import PartTitle, px
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.desk import Desk

_NAMES = {"reach": words.REACH_ROW}


class GearTold(QWidget):
    """One row each; a press shows the finding everywhere."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.title = PartTitle("")
        self.rows = Rows(words.IN_GEAR)
        self.rows.row_chosen.connect(desk.choose_finding)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(2))
        column.addWidget(self.title)
        column.addWidget(self.rows)

    def show_gear(self, line: GearLine) -> None:
        """Show what is known of a gear; of what was not judged there is no row."""
        worst, gap = line.worst, line.gap
        self.title.show_title(words.GEAR_SHOWN.format(gear=gear_name(line.gear)))
        self.title.show_second(said.VERDICTS[worst.verdict] if worst is not None else "")
        told: dict[str, Finding] = {}
        for one in (worst, gap, line.reach, line.elbow):
            if one is not None:
                told.setdefault(one.id, one)
        self.rows.show_rows([self._row(one, gap) for one in told.values()], self._desk.finding)

    def _row(self, finding: Finding, gap: Finding | None) -> Row:
        layout, system = self._desk.layout, self._desk.system
        return Row(
            id=finding.id,
            title=_NAMES.get(finding.check) or pair_title(finding, layout),
            mark=finding.verdict,
            tail=words.BEFORE_THE_MOVE if finding.stale else words.SMALLEST if finding is gap else "",
            value=value_text(finding, system),
            trust="" if finding.stale else give_or_take_text(finding, system),
            spoken=sentence(finding, layout, system),
        )
