"""The floor seen with its carpet laid: bare metal, loose, or squeezed as under a bolted foot."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan.derive.carpeted import carpeted
from floorpan.layout import Layout
from floorpan.scan.carpet import CarpetSurfaces
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import px, side_by_side, told
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.desk import Desk
from floorpan_app.jobs import Job

_BARE, _LOOSE, _SQUEEZED = "bare", "loose", "squeezed"


class LaidPart(QWidget):
    """A part of the floor's card."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._made: tuple[object, CarpetSurfaces] | None = None
        self._job: Job | None = None
        self.seen = QuietCombo(
            (
                (_BARE, scan_words.SEE_BARE),
                (_LOOSE, scan_words.SEE_LOOSE),
                (_SQUEEZED, scan_words.SEE_SQUEEZED),
            ),
            scan_words.SEE_CARPET,
        )
        self.seen.setMinimumWidth(px(FIELD_WIDTH))
        self.seen.picked.connect(lambda _: self.follow())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(side_by_side(told(scan_words.SEE_CARPET), self.seen))

    def follow(self) -> None:
        """Bring the picture up to date with the layout and with what is asked for."""
        wanted = str(self.seen.key())
        if wanted == _BARE:
            self._stop()
            self._desk.scans.lay_sheet(None)
            return
        key = _made_from(self._desk.layout)
        if self._made is not None and self._made[0] == key:
            self._lay(self._made[1])
        elif not self._desk.document.previewing:
            self._make(key)

    def _make(self, key: object) -> None:
        self._stop()
        layout, bench = self._desk.document.adopted, self._desk.judging.bench
        job = self._job = Job(scan_words.LAYING_CARPET, lambda: carpeted(bench, layout), self)
        job.succeeded.connect(lambda made: self._is_made(job, key, made))
        job.failed.connect(self._desk.judging.failed.emit)
        job.ended.connect(job.deleteLater)
        self._desk.judging.threads.run(job)
        self._desk.judging.working.emit(job)

    def _is_made(self, job: Job, key: object, made: CarpetSurfaces | None) -> None:
        if job is not self._job:
            return
        self._job = None
        if made is not None:
            self._made = (key, made)
            self._lay(made)

    def _lay(self, made: CarpetSurfaces) -> None:
        _, loose, squeezed = made.sheets()
        self._desk.scans.lay_sheet(loose if self.seen.key() == _LOOSE else squeezed)

    def _stop(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job = None


def _made_from(layout: Layout) -> object:
    """Everything the carpeted floor follows from, compared by value."""
    return layout.carpet(), tuple(
        (s.id, s.sha256, s.unit, s.role, s.pose, s.crop, s.outlines, s.areas, s.cleaned, s.factor, s.flipped)
        for s in layout.scans
    )
