"""Report: for whom, on what paper, in which lengths, and what it will say first."""

from PySide6.QtCore import Signal

from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.layout import Step
from floorpan.report.tally import Count, count_of, count_text, failing
from floorpan_app.cards import words
from floorpan_app.cards.blocks import Facts, PartTitle, Rule, pressed, told
from floorpan_app.cards.card import Card, Need
from floorpan_app.cards.notice import Notice, Tone
from floorpan_app.cards.segments import Segments
from floorpan_app.paper_wishes import PaperWishes, wishes_of


class ReportCard(Card):
    """What the papers will be.

    report_asked(PaperWishes) : somebody wants the report written so
    """

    report_asked = Signal(object)
    step: Step = "report"

    def build(self) -> None:
        self.edition = Segments(words.EDITIONS, words.FOR_WHOM)
        self.paper = Segments(words.PAPERS, words.PAPER)
        self.lengths = Segments(words.SYSTEMS, words.LENGTHS_IN)
        self._system = self.desk.system
        self.lengths.show_key(self._system)
        self.notice = Notice()
        self.contents = Facts()
        self.contents.show_facts(words.CONTENTS)
        self.write = pressed(words.WRITE_PAPERS, self._write, icon="report")
        for title, segments in (
            (words.FOR_WHOM, self.edition),
            (words.PAPER, self.paper),
            (words.LENGTHS_IN, self.lengths),
        ):
            self.add(PartTitle(title), segments)
        self.add(self.notice, self.write, told(words.AT_100, second=True), Rule())
        self.add(PartTitle(words.WHAT_IS_IN), self.contents, told(words.NOTHING_STALE, second=True))

    def need(self) -> Need | None:
        return None if self.desk.judging.findings else Need(told=words.NEED_FINDINGS)

    def lacks(self) -> str:
        return "" if self.desk.judging.findings else words.NEED_FINDINGS

    def refresh(self) -> None:
        # Papers speak as the bench does, until somebody wants them otherwise.
        if self._system != self.desk.system:
            self._system = self.desk.system
            self.lengths.show_key(self._system)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        fail, unseen = failing(findings), count_of(findings, "unseen")
        said = words.SAYS_SO.format(fails=_counted(words.FAILS, fail), unseen=_counted(words.UNSEEN, unseen))
        worst = min(findings, key=rank, default=None)
        tone: Tone = worst.verdict if worst is not None else "quiet"
        self.notice.say(said if findings else "", tone)
        self.write.setEnabled(bool(findings))

    def wishes(self) -> PaperWishes:
        """How the report is wanted."""
        return wishes_of(edition=self.edition.key(), size=self.paper.key(), system=self.lengths.key())

    def _write(self) -> None:
        self.report_asked.emit(self.wishes())


def _counted(told_: tuple[str, str, str], count: Count) -> str:
    return told_[min(count.states, 2)].format(count=count_text(count))
