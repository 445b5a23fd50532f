"""The cleaning list of a scan: what is taken away or turned, line by line, and how many it came to."""

from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.layout import Layout, ScanRef
from floorpan.scan.cleaning import (
    Cleaned,
    CutForeignFaces,
    DropSmallIslands,
    DropUselessFaces,
    KeepOneSheet,
    NamedIslands,
    RemoveSpikes,
    TurnFaces,
)
from floorpan.scan.cleaning_list import CleaningDeed
from floorpan.scan.prepare import ScanMesh
from floorpan.units import show_number
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import PartTitle, pressed, px, side_by_side, told
from floorpan_app.cards.form import Form
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import scan_in_hand
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk, LaidPoints

_TOOL = "point island"
_NEW: dict[str, Cleaned] = {
    "small_islands": DropSmallIslands(smaller_mm=50.0),
    "spikes": RemoveSpikes(),
    "useless": DropUselessFaces(),
    "foreign": CutForeignFaces(),
    "facing": TurnFaces(),
    "one_sheet": KeepOneSheet(),
}
_TYPED: dict[str, tuple[type, tuple[str, ...]]] = {
    "small_islands": (DropSmallIslands, ("fewer_triangles", "smaller_mm")),
    "spikes": (RemoveSpikes, ("height_mm", "sigmas", "most_points")),
    "one_sheet": (KeepOneSheet, ("within_mm", "stays")),
}


class CleaningPart(QWidget):
    """A part of the scan's card. Nothing is cut out of the file: the list is kept and can be taken back."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._chosen = ""
        self.kind = QuietCombo([(kind, scan_words.CLEANS[kind]) for kind in _NEW], scan_words.CLEANING)
        self.do = pressed(scan_words.CLEAN_IT, self._do)
        self.drop_one = pressed(scan_words.DROP_ISLAND, self._use, icon="take-out")
        self.drop_one.setCheckable(True)
        self.rows = Rows(scan_words.CLEANING)
        self.rows.row_chosen.connect(self._choose)
        self.forms = {kind: Form(desk, model, names, self._commit) for kind, (model, names) in _TYPED.items()}
        self.forget = pressed(scan_words.FORGET_DEED, self._forget)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(PartTitle(scan_words.CLEANING))
        column.addWidget(told(scan_words.CLEANING_NOTE, second=True))
        column.addLayout(side_by_side(self.kind, self.do))
        column.addWidget(self.drop_one)
        column.addWidget(self.rows)
        for form in self.forms.values():
            column.addWidget(form)
        column.addWidget(self.forget)
        desk.tool_changed.connect(self._tool_changed)
        desk.points_changed.connect(self._laid)

    def show_scan(self, scan: ScanRef | None, ready: ScanMesh | None) -> None:
        """The list of a scan; how many each line came to is told once the scan is ready."""
        self.setVisible(scan is not None)
        lines = scan.cleaned if scan is not None else ()
        counts = ready.cleaned if ready is not None else ()
        if not (self._chosen and int(self._chosen) < len(lines)):
            self._chosen = ""
        rows = [
            Row(
                id=str(number),
                title=scan_words.CLEANS[line.kind],
                second=_counted(counts[number]) if number < len(counts) else scan_words.CLEANING_SOON,
            )
            for number, line in enumerate(lines)
        ]
        self.rows.show_rows(rows, self._chosen)
        chosen = lines[int(self._chosen)] if self._chosen else None
        for kind, form in self.forms.items():
            form.show_value(chosen.deed if chosen is not None and chosen.kind == kind else None)
        self.forget.setVisible(chosen is not None)
        self._tool_changed(self._desk.tool)

    def _do(self) -> None:
        kind = str(self.kind.key())
        self._clean(CleaningDeed(**{kind: _NEW[kind]}))  # type: ignore[arg-type]

    def _clean(self, deed: CleaningDeed) -> None:
        scan = scan_in_hand(self._desk)
        if scan is not None and not tried(
            self._desk, scan_words.CLEAN_ENTRY, lambda layout: edits.clean(layout, scan.id, deed)
        ):
            self._chosen = str(len(scan.cleaned))
            after = scan_in_hand(self._desk)
            self.show_scan(after, None)

    def _use(self) -> None:
        self._desk.use_tool("" if self._desk.tool == _TOOL else _TOOL)

    def _tool_changed(self, tool: str) -> None:
        self.drop_one.setChecked(tool == _TOOL)

    def _laid(self, laid: LaidPoints | None) -> None:
        """An island that was clicked goes; one after another they stand in one line."""
        scan = scan_in_hand(self._desk)
        if laid is None or laid.kind != "island" or scan is None or self._desk.step != "scan":
            return
        last = scan.cleaned[-1] if scan.cleaned else None
        if last is None or last.named_islands is None or last.named_islands.keep:
            self._clean(CleaningDeed(named_islands=NamedIslands(at_mm=laid.points_mm)))
            return
        more = CleaningDeed(
            named_islands=replace(last.named_islands, at_mm=(*last.named_islands.at_mm, *laid.points_mm))
        )
        number = len(scan.cleaned) - 1

        def changed(layout: Layout) -> Layout:
            return edits.change_cleaning(layout, scan.id, number, more)

        tried(self._desk, scan_words.CLEAN_ENTRY, changed)

    def _choose(self, id: str) -> None:
        self._chosen = "" if id == self._chosen else id
        scan, bench = scan_in_hand(self._desk), self._desk.judging.bench
        ready = bench.prepared(scan) if scan is not None and bench.is_prepared(scan) else None
        self.show_scan(scan, ready)

    def _commit(self, name: str, value: object) -> str:
        scan = scan_in_hand(self._desk)
        if scan is None or not self._chosen:
            return ""
        line = scan.cleaned[int(self._chosen)]
        changes: dict[str, Any] = {name: int(value) if isinstance(getattr(line.deed, name), int) else value}  # type: ignore[call-overload]
        return self._change(
            lambda: CleaningDeed(**{line.kind: replace(line.deed, **changes)})  # type: ignore[arg-type]
        )

    def _change(self, make: Any) -> str:
        scan, number = scan_in_hand(self._desk), int(self._chosen)
        assert scan is not None
        return tried(
            self._desk,
            scan_words.CHANGE_DEED_ENTRY,
            lambda layout: edits.change_cleaning(layout, scan.id, number, make()),
        )

    def _forget(self) -> None:
        scan, number = scan_in_hand(self._desk), self._chosen
        if scan is not None and number:
            self._chosen = ""
            tried(
                self._desk,
                scan_words.FORGET_DEED_ENTRY,
                lambda layout: edits.change_cleaning(layout, scan.id, int(number), None),
            )


def _counted(counts: dict[str, int]) -> str:
    told_ = [f"{show_number(many, 0)} {what}" for what, many in counts.items() if many]
    return ", ".join(told_) or scan_words.FOUND_NOTHING
