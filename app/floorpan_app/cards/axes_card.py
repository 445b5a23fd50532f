"""Axes: picked points, how well they agree, and setting the scan straight."""

from dataclasses import replace

from PySide6.QtWidgets import QComboBox, QGridLayout, QLineEdit, QPushButton, QWidget

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.layout import ScanRef, Step
from floorpan.scan.axes import AxesFit, AxisPick, fit_axes
from floorpan.units import show_number
from floorpan_app.cards import words
from floorpan_app.cards.card import Card, Facts, heading, pressed, told

ROLES = ("level", "pair", "centre", "origin", "front", "above")
TOOLS = ("level", "pair", "centre", "origin", "front")


class AxesCard(Card):
    """Picks with what each is off by, the fit, and who sits where."""

    step: Step = "axes"

    def build(self) -> None:
        self._none = told(words.NO_SCAN)
        self.body.addWidget(self._none)
        row = QGridLayout()
        for number, role in enumerate(TOOLS):
            button = pressed(
                f"Pick {role}", lambda role=role: self.desk.use_tool(f"pick {role}"), icon="pick-point"
            )
            row.addWidget(button, number // 2, number % 2)
        self.body.addLayout(row)
        self.body.addWidget(heading("Picked points"))
        self._list = QWidget()
        self._grid = QGridLayout(self._list)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self.body.addWidget(self._list)
        self._typed = QLineEdit()
        self._typed.setPlaceholderText("level 120 35 -40: type a point of the scan, mm")
        self._typed.setAccessibleName("Type a point: what it is, then three numbers in the scan's own axes")
        self._typed.returnPressed.connect(self._add_typed)
        self.body.addWidget(self._typed)
        self._said = told("")
        self.body.addWidget(self._said)
        self._facts = Facts()
        self.body.addWidget(self._facts)
        self.side = QComboBox()
        self.side.addItems(["left", "right"])
        self.side.setAccessibleName("Driver sits")
        self.side.activated.connect(self._side)
        self.body.addWidget(told("Driver sits", second=True))
        self.body.addWidget(self.side)
        self.set_button: QPushButton = pressed("Set the axes", self.set_axes, icon="axes")
        self.body.addWidget(self.set_button)

    def refresh(self) -> None:
        scan = self._scan()
        self._none.setVisible(scan is None)
        self.side.setCurrentText(self.desk.layout.driver_side)
        fit, fault = self.fit()
        self._fill_list(scan.picks if scan is not None else (), fit)
        self.set_button.setEnabled(fit is not None and scan is not None and scan.pose != fit.pose)
        set_now = scan is not None and scan.pose is not None
        if fit is None:
            self._said.setText(fault)
            self._facts.show_facts([("Axes", "set before" if set_now else "not set")])
            return
        self._said.setText(fit.advice)
        mirror = "yes" if fit.can_tell_mirror else "no: the points lie so that a mirrored scan fits too"
        self._facts.show_facts(
            [
                ("Points off by, root mean square", f"{show_number(fit.rms_mm, 2)} mm"),
                ("Set-up tilt over 900 mm", f"\u00b1 {show_number(fit.tilt_over_900_mm, 1)} mm"),
                ("Would show a mirrored scan", mirror),
                ("Axes", "set" if set_now else "not set yet"),
            ]
        )

    def fit(self) -> tuple[AxesFit | None, str]:
        """The fit of the picks, or why there is none."""
        scan = self._scan()
        if scan is None or not scan.picks:
            return (
                None,
                "Pick three level points or more, two on the centre line, an origin, and one in front.",
            )
        try:
            return fit_axes(scan.picks), ""
        except FloorpanError as fault:
            return None, f"{fault.what} {fault.remedy}"

    def set_axes(self) -> None:
        """Move the scan into car axes."""
        scan = self._scan()
        fit, _ = self.fit()
        if scan is not None and fit is not None:
            self.desk.change("Set the axes", lambda layout: edits.set_axes(layout, scan.id, fit.pose))

    def _fill_list(self, picks: tuple[AxisPick, ...], fit: AxesFit | None) -> None:
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        off = dict(fit.residuals_mm) if fit is not None else {}
        for row, pick in enumerate(picks):
            name = QLineEdit(pick.name)
            name.setPlaceholderText("name")
            name.setAccessibleName(f"Name of point {pick.id}")
            name.editingFinished.connect(lambda pick=pick, name=name: self._change(pick, name=name.text()))
            role = QComboBox()
            role.addItems(ROLES)
            role.setCurrentText(pick.role)
            role.setAccessibleName(f"Point {pick.id} is")
            role.activated.connect(
                lambda _, pick=pick, role=role: self._change(pick, role=role.currentText())
            )
            gone = QPushButton("\u00d7")
            gone.setAccessibleName(f"Leave point {pick.id} out")
            gone.setFixedWidth(28)
            gone.clicked.connect(lambda _=False, pick=pick: self._drop(pick))
            side = f" {pick.side} of {pick.partner}" if pick.role == "pair" else ""
            self._grid.addWidget(heading(pick.id + side, 13), row, 0)
            self._grid.addWidget(name, row, 1)
            self._grid.addWidget(role, row, 2)
            self._grid.addWidget(told(show_number(off[pick.id], 1) if pick.id in off else ""), row, 3)
            self._grid.addWidget(gone, row, 4)

    def _scan(self) -> ScanRef | None:
        return self.desk.layout.scans[0] if self.desk.layout.scans else None

    def _side(self, _: int) -> None:
        side = self.side.currentText()
        self.desk.change("Driver sits", lambda layout: edits.set_driver_side(layout, side))  # type: ignore[arg-type]

    def _set(self, words_: str, picks: tuple[AxisPick, ...]) -> None:
        scan = self._scan()
        if scan is not None:
            self.desk.change(words_, lambda layout: edits.set_picks(layout, scan.id, picks))

    def _change(self, pick: AxisPick, **changes: str) -> None:
        scan = self._scan()
        if scan is not None and any(getattr(pick, key) != value for key, value in changes.items()):
            changed = replace(pick, **changes)  # type: ignore[arg-type]
            self._set("Change a point", tuple(changed if p.id == pick.id else p for p in scan.picks))

    def _drop(self, pick: AxisPick) -> None:
        scan = self._scan()
        if scan is not None:
            self._set("Leave a point out", tuple(p for p in scan.picks if p.id != pick.id))

    def _add_typed(self) -> None:
        scan = self._scan()
        parts = self._typed.text().replace(",", ".").split()
        try:
            role, x, y, z = parts
            at = (float(x), float(y), float(z))
        except ValueError:
            self._said.setText("Type what it is and three numbers, as: level 120 35 -40.")
            return
        if scan is not None and role in ROLES:
            taken = {pick.id for pick in scan.picks}
            letter = next(c for c in (chr(ord("A") + k) for k in range(52)) if c not in taken)
            self._typed.clear()
            self._set("Add a point", (*scan.picks, AxisPick(id=letter, at_mm=at, role=role)))
