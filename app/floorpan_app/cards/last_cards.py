"""Pieces, Check and Report."""

from PySide6.QtWidgets import QComboBox

from floorpan import edits
from floorpan.checks import Finding
from floorpan.errors import BadValue, FloorpanError
from floorpan.layout import Step
from floorpan.limits import LIMITS
from floorpan.units import parse_length, show_length, show_number
from floorpan_app.cards import words
from floorpan_app.cards.card import Card, Facts, heading, told
from floorpan_app.widgets.length_field import LengthField


class PiecesCard(Card):
    """Says what this step will do."""

    step: Step = "pieces"

    def build(self) -> None:
        self.body.addWidget(told(words.PIECES_LATER))

    def can_accept(self) -> bool:
        """Nothing to sign off until it is built."""
        return False


class CheckCard(Card):
    """How many of each verdict, and the limits they are judged by."""

    step: Step = "check"

    def build(self) -> None:
        self._counts = Facts()
        self.body.addWidget(self._counts)
        self.body.addWidget(heading("Limits"))
        self.limit = QComboBox()
        for limit in LIMITS.values():
            self.limit.addItem(f"{limit.note} ({limit.id})", limit.id)
        self.limit.setAccessibleName("Limit")
        self.limit.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.limit.activated.connect(lambda _: self.refresh())
        self.body.addWidget(self.limit)
        self.value = LengthField(self._parse, self._show, name="Wanted", faults=(FloorpanError,))
        self.value.valueChosen.connect(self._set)
        self.body.addWidget(self.value)
        self._source = told("", second=True)
        self.body.addWidget(self._source)

    def refresh(self) -> None:
        limit = LIMITS[str(self.limit.currentData())]
        changed = next((c for c in self.desk.layout.limits if c.id == limit.id), None)
        self.value.set_units(self._parse, self._show)
        self.value.set_value_mm(changed.value if changed else limit.value)
        self._source.setText("Set in this project." if changed else f"Source: {limit.source}.")

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        words_ = ("hits", "short", "unseen", "close", "pending", "clear")
        self._counts.show_facts([(word, str(sum(f.verdict == word for f in findings))) for word in words_])

    def _set(self, value: float) -> None:
        limit = LIMITS[str(self.limit.currentData())]
        self.desk.change(
            "Judge by another limit",
            lambda layout: edits.set_limit(layout, limit.id, value, upper=limit.upper),
        )

    def _is_length(self) -> bool:
        return LIMITS[str(self.limit.currentData())].unit == "mm"

    def _parse(self, text: str) -> float:
        if self._is_length():
            return parse_length(text, self.desk.system)
        try:
            return float(text.strip().split()[0].replace(",", "."))
        except (ValueError, IndexError):
            raise BadValue(
                "not-a-number", f"\u201c{text}\u201d is not a number.", "Type a plain number."
            ) from None

    def _show(self, value: float) -> str:
        if self._is_length():
            return show_length(value, self.desk.system, with_unit=True)
        return f"{show_number(value)} {LIMITS[str(self.limit.currentData())].unit}"


class ReportCard(Card):
    """What will be on the papers; the Papers menu writes them."""

    step: Step = "report"

    def build(self) -> None:
        self._note = told("")
        self.body.addWidget(self._note)
        self.body.addWidget(
            told("Papers > Write the fit report\u2026 writes PDF, HTML, JSON or CSV by the file's ending.")
        )
        self.body.addWidget(told(words.AT_100, second=True))

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        self._note.setText(
            words.REPORT_NOTE.format(
                fail=sum(f.verdict in ("hits", "short") for f in findings),
                unseen=sum(f.verdict == "unseen" for f in findings),
                close=sum(f.verdict == "close" for f in findings),
            )
        )
