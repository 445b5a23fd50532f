"""What stands close to the cup: the worst of each check on a vessel or its well; a row shows the car as it is then."""

from collections.abc import Iterable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan.checks import Finding
from floorpan.report.naming import state_title
from floorpan.report.sentences import give_or_take_text, pair_title, sentence, value_text
from floorpan_app.cards import cup_words as said
from floorpan_app.cards.blocks import PartTitle, Rule, px, told
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.desk import Desk

# What the vessel's own row and the well's say already.
_TOLD_ABOVE = ("well-", "cup-")
# Its way out and what drips below it stand here whoever they are about.
_ALWAYS = ("lift-out", "drip")


def worst_of_each(findings: Iterable[Finding], ids: frozenset[str]) -> tuple[Finding, ...]:
    """Of findings that stand worst first, the first of each check that is about one of these things."""
    worst: dict[str, Finding] = {}
    for finding in findings:
        check = finding.check
        if check not in worst and not check.startswith(_TOLD_ABOVE) and _concerns(finding, ids):
            worst[check] = finding
    return tuple(worst.values())


def _concerns(finding: Finding, ids: frozenset[str]) -> bool:
    about = any(subject.partition(".")[0] in ids for subject in finding.subjects)
    return about or finding.check.startswith(_ALWAYS)


class CupNearPart(QWidget):
    """A part of the cup's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._made: dict[str, tuple[Finding, Row]] = {}
        self.rows = Rows(said.CLOSE_BY)
        self.rows.row_chosen.connect(desk.choose_finding)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        title = PartTitle(said.CLOSE_BY, said.CLOSE_BY_WORST)
        for piece in (Rule(), title, self.rows, told(said.CLOSE_BY_NOTE, second=True)):
            column.addWidget(piece)
        self.hide()

    def refresh(self) -> None:
        """Names or units changed: every row is written anew."""
        self._made.clear()

    def show_findings(self, findings: tuple[Finding, ...], ids: frozenset[str]) -> None:
        """The worst of each check on these things."""
        found = worst_of_each(findings, ids)
        shown = [self._row(one) for one in found]
        # While something is dragged the same rows come again and again.
        chosen = self._desk.finding if any(one.id == self._desk.finding for one in found) else ""
        if (shown, chosen) != (list(self.rows.rows()), self.rows.chosen()):
            self.rows.show_rows(shown, chosen)
        self.setVisible(bool(found))

    def _row(self, finding: Finding) -> Row:
        """Its row; while something is dragged, most findings stay what they are."""
        made = self._made.get(finding.check)
        if made is None or made[0] is not finding:
            made = self._made[finding.check] = (finding, self._written(finding))
        return made[1]

    def _written(self, finding: Finding) -> Row:
        layout, system = self._desk.layout, self._desk.system
        return Row(
            id=finding.id,
            title=pair_title(finding, layout),
            mark=finding.verdict,
            second=state_title(finding.state, layout),
            value=value_text(finding, system),
            trust=give_or_take_text(finding, system),
            spoken=sentence(finding, layout, system),
        )
