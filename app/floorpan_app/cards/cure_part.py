"""What to do about one finding, and the move that clears it, tried with one press and taken back with one."""

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.report.naming import small
from floorpan.report.next_step import next_step
from floorpan.report.rows import row_of
from floorpan_app.cards import check_words
from floorpan_app.cards.blocks import heading, pressed, px, told
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk


class CurePart(QWidget):
    """Of the finding that was chosen, else of the worst of those that are listed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._finding: Finding | None = None
        self._title = heading("")
        self._title.setWordWrap(True)
        self._title.setTextFormat(Qt.TextFormat.PlainText)
        self.said = told()
        self.try_it = pressed(check_words.TRY_IT, self._try)
        self.try_it.setToolTip(check_words.TRY_IT_TOLD)
        self.try_it.setAccessibleDescription(check_words.TRY_IT_TOLD)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(4))
        head = QHBoxLayout()
        head.setSpacing(px(8))
        head.addWidget(self._title, 1)
        head.addWidget(self.try_it, 0, Qt.AlignmentFlag.AlignTop)
        column.addLayout(head)
        column.addWidget(self.said)
        self.hide()

    def finding(self) -> Finding | None:
        """The finding that is spoken of."""
        return self._finding

    def show_of(self, listed: tuple[Finding, ...]) -> None:
        """Speak of the chosen one of these, else of the first, as long as it is not clear.

        Until everything is settled what was said stays, but nothing can be tried.
        """
        if not self._desk.judging.fresh:
            self.try_it.setEnabled(False)
            return
        chosen = next((one for one in listed if one.id == self._desk.finding), None)
        if chosen is None or chosen.verdict == "clear":
            chosen = next((one for one in listed if one.verdict not in ("clear", "pending")), None)
        self._finding = chosen
        said = "" if chosen is None else next_step(chosen, self._desk.layout, self._desk.system)
        self.setVisible(bool(said))
        if chosen is None:
            return
        self._title.setText(row_of(chosen, self._desk.layout, self._desk.system).title)
        self.said.setText(said)
        # The tight spot, right above, tells the cure of the worst of all.
        tight = self._desk.judging.findings[0]
        self.said.setVisible(chosen is not tight or chosen.cure is None)
        self.try_it.setVisible(chosen.cure is not None)
        self.try_it.setEnabled(chosen.cure is not None)

    def _try(self) -> None:
        cure = None if self._finding is None else self._finding.cure
        if cure is None:
            return
        name = small(self._desk.layout.thing(cure.subject).name)
        tried(
            self._desk,
            check_words.CURE_ENTRY.format(name=name),
            partial(edits.shift, id=cure.subject, by_mm=cure.move_mm),
        )
