"""Check: how many findings of each verdict, what to do about the worst, which ones are listed, what is wanted."""

from PySide6.QtWidgets import QGridLayout

from floorpan.checks import Finding
from floorpan.checks.finding import WORST_FIRST, rank
from floorpan.layout import Step
from floorpan.report.only_with import choices, holding, in_effect, only_words
from floorpan.report.rows import Pair, pair_of, title_of_pair
from floorpan.report.tally import count_text, tally
from floorpan_app.cards import check_words, words
from floorpan_app.cards.blocks import PartTitle, Rule, at_left, pressed, px, show_all, told
from floorpan_app.cards.card import Card, Need, Offer
from floorpan_app.cards.cure_part import CurePart
from floorpan_app.cards.limits_form import LimitsForm
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import need_axes


class CheckCard(Card):
    """Counts, cure, filters of the list, limits."""

    step: Step = "check"

    def build(self) -> None:
        self._pairs: dict[str, Pair] = {}
        self.held_to = told(second=True)
        self.every_state = pressed(check_words.EVERY_STATE, self._let_go, role="link")
        self.cure = CurePart(self.desk)
        self.rows = Rows(check_words.FOUND)
        self.rows.row_chosen.connect(self._list_verdict)
        self.pair = QuietCombo((), check_words.PAIR)
        self.pair.picked.connect(self._list_pair)
        self._list_note = told(check_words.LIST_BELOW, second=True)
        self.limits = LimitsForm(self.desk)
        grid = QGridLayout()
        grid.setHorizontalSpacing(px(8))
        grid.setColumnStretch(1, 1)
        self._only = told(check_words.SHOW_ONLY)
        grid.addWidget(self._only, 0, 0)
        grid.addWidget(self.pair, 0, 1)
        self.add(self.cure, self.held_to, at_left(self.every_state), self.rows)
        self.add(Rule(), grid, self._list_note)
        self.add(Rule(), PartTitle(words.LIMITS), self.limits)
        self.desk.listing_changed.connect(self._again_if_in_hand)

    def need(self) -> Need | None:
        need = need_axes(self.desk)
        if need is None and not self.desk.judging.findings and not list(self.desk.layout.things()):
            go = words.GO_TO.format(step=words.TITLES["controls"])
            return Need(told=words.NEED_FINDINGS, offers=(Offer(word=go, does=self._to_controls),))
        return need

    def lacks(self) -> str:
        return "" if self.desk.judging.findings else words.NEED_FINDINGS

    def refresh(self) -> None:
        self.limits.refresh()

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        only = in_effect(findings, self.desk.only_with)
        held = holding(findings, only)
        told_words = only_words(choices(findings, self.desk.layout), only) if only else ()
        self.held_to.setText(check_words.HELD_TO.format(words=", ".join(told_words)))
        show_all(bool(only), self.held_to, self.every_state)
        counted = tally(held)
        rows = [
            Row(
                id=verdict,
                title=verdict,
                mark=verdict,
                second=check_words.VERDICT_MEANS[verdict],
                tail=count_text(counted[verdict]),
            )
            for verdict in WORST_FIRST
            if counted[verdict].states
        ]
        self.rows.show_rows(rows, self.desk.listed_verdict)
        show_all(bool(rows), self._only, self.pair, self._list_note)
        self.cure.show_of(tuple(sorted(self.desk.listed(findings), key=rank)))
        self._offer_pairs(findings)

    def _offer_pairs(self, findings: tuple[Finding, ...]) -> None:
        """Pairs, the one with the worst finding first."""
        self._pairs = {}
        titles: list[tuple[str, str]] = [("", check_words.EVERY_PAIR)]
        for finding in sorted(findings, key=rank):
            pair = pair_of(finding)
            key = repr(pair)
            if key not in self._pairs:
                self._pairs[key] = pair
                titles.append((key, title_of_pair(finding, self.desk.layout)))
        self.pair.offer(titles)
        held = self.desk.listed_pair
        self.pair.show_key("" if held is None else repr(held))

    def _list_verdict(self, verdict: str) -> None:
        """A row pressed again lists every verdict."""
        same = verdict == self.desk.listed_verdict
        self.desk.list_only("" if same else verdict, self.desk.listed_pair, self.desk.only_with)

    def _list_pair(self, key: str) -> None:
        self.desk.list_only(self.desk.listed_verdict, self._pairs.get(key), self.desk.only_with)

    def _let_go(self) -> None:
        self.desk.list_only(self.desk.listed_verdict, self.desk.listed_pair)

    def _to_controls(self) -> None:
        self.desk.go_to("controls")
