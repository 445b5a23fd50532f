"""Scan: what was read, how far it is good, the crop."""

from dataclasses import replace

import numpy as np
from PySide6.QtWidgets import QCheckBox, QGridLayout

from floorpan import edits
from floorpan.errors import FloorpanError
from floorpan.frames import Pose
from floorpan.layout import Box, ScanRef, Step
from floorpan.units import parse_length, show_length, show_number
from floorpan_app.cards import words
from floorpan_app.cards.card import Card, Facts, heading, pressed, told
from floorpan_app.cards.form import Form
from floorpan_app.widgets.length_field import LengthField

_FACES = (("front", 0, 0), ("rear", 1, 0), ("left", 0, 1), ("right", 1, 1), ("down", 0, 2), ("up", 1, 2))
# A box round the whole scan stands off by this much, so that a level sheet has a box too.
_ROUND_MM = 10.0
_LETTERS = {
    "front": "side C",
    "rear": "side D",
    "left": "side A",
    "right": "side B",
    "down": "below",
    "up": "above",
}


class ScanCard(Card):
    """What the scan is, what every gap carries for it, and the box it is cropped to."""

    step: Step = "scan"

    def build(self) -> None:
        self._none = told(words.NO_SCAN)
        self._facts = Facts()
        self._form = Form(self.desk, ("name", "unit", "good_to_mm", "good_to_note"), self._commit)
        self._flip = QCheckBox("Turned inside out")
        self._flip.toggled.connect(self._flipped)
        for widget in (self._none, self._facts, self._form, self._flip, heading("Crop box")):
            self.body.addWidget(widget)
        self._sides = told(words.SIDES_OPEN, second=True)
        self.body.addWidget(self._sides)
        self._crop = QGridLayout()
        self.faces: dict[str, LengthField] = {}
        self._labels = {}
        for row, (face, _, _) in enumerate(_FACES):
            field = LengthField(self._parse, self._show, name=f"Crop, {face}", faults=(FloorpanError,))
            field.setFixedWidth(132)
            field.valueChosen.connect(lambda mm, face=face: self._face(face, mm))
            self._labels[face] = told(face)
            self._crop.addWidget(self._labels[face], row, 0)
            self._crop.addWidget(field, row, 1)
            self.faces[face] = field
        self.body.addLayout(self._crop)
        self.body.addWidget(
            pressed("Drag the crop box", lambda: self.desk.use_tool("crop box"), icon="crop-box")
        )
        self.body.addWidget(pressed("Whole scan again", self._whole))

    def refresh(self) -> None:
        scan = self._scan()
        self._none.setVisible(scan is None)
        self._form.show_value(scan)
        if scan is None:
            self._facts.show_facts([])
            return
        self._flip.blockSignals(True)
        self._flip.setChecked(scan.flipped)
        self._flip.blockSignals(False)
        self._facts.show_facts(self._told(scan))
        box = self._box(scan)
        self._sides.setVisible(scan.pose is None)
        for face, high, axis in _FACES:
            self._labels[face].setText(face if scan.pose is not None else _LETTERS[face])
            self.faces[face].set_units(self._parse, self._show)
            self.faces[face].set_value_mm((box.greatest_mm if high else box.least_mm)[axis])

    def show_findings(self, findings: object) -> None:
        scan = self._scan()
        if scan is not None:
            self._facts.show_facts(self._told(scan))

    def _told(self, scan: ScanRef) -> list[tuple[str, str]]:
        rows = [("File", scan.original_name)]
        bench = self.desk.judging.bench
        if not bench.is_prepared(scan):
            return rows
        facts = bench.prepared(scan).facts
        size = " \u00d7 ".join(show_length(side, self.desk.system) for side in facts.size_mm)
        rough = show_number(facts.noise_mm, 2) + " mm" if facts.noise_mm > 0 else words.NOT_TOLD
        rows += [
            ("Size", f"{size} {self.desk.system}"),
            ("Triangles", show_number(facts.triangles, 0)),
            ("Islands, holes", f"{facts.islands}, {facts.holes}"),
            ("Roughness of the scan", rough),
        ]
        rows += [(f"Left out: {what}", str(count)) for what, count in facts.dropped.items()]
        return rows

    def _scan(self) -> ScanRef | None:
        return self.desk.layout.scans[0] if self.desk.layout.scans else None

    def _box(self, scan: ScanRef) -> Box:
        """The crop, or a box round the whole scan: in car axes once they are set."""
        if scan.crop is not None:
            return scan.crop
        pose = scan.pose or Pose()
        bench = self.desk.judging.bench
        if not bench.is_prepared(scan):
            return Box(frame=pose.inverse(), least_mm=(0.0, 0.0, 0.0), greatest_mm=(0.0, 0.0, 0.0))
        points = pose.apply(bench.prepared(scan).mesh.points)
        low, high = points.min(axis=0) - _ROUND_MM, points.max(axis=0) + _ROUND_MM
        return Box(frame=pose.inverse(), least_mm=_three(low), greatest_mm=_three(high))

    def _face(self, face: str, mm: float) -> None:
        scan = self._scan()
        if scan is None:
            return
        box = self._box(scan)
        _, high, axis = next(one for one in _FACES if one[0] == face)
        ends = [list(box.least_mm), list(box.greatest_mm)]
        ends[high][axis] = mm
        changed = replace(box, least_mm=_three(np.array(ends[0])), greatest_mm=_three(np.array(ends[1])))
        if not self.desk.change("Crop", lambda layout: edits.crop(layout, scan.id, changed)):
            self.faces[face].set_fault("The crop leaves nothing. Move another face, or start the crop again.")

    def _whole(self) -> None:
        scan = self._scan()
        if scan is not None:
            self.desk.change("Whole scan again", lambda layout: edits.crop(layout, scan.id, None))

    def _flipped(self, flipped: bool) -> None:
        scan = self._scan()
        if scan is not None:
            self.desk.change(
                "Turn the scan over", lambda layout: edits.change_scan(layout, scan.id, flipped=flipped)
            )

    def _commit(self, name: str, value: object) -> None:
        scan = self._scan()
        if scan is not None:
            self.desk.change(
                "Change the scan", lambda layout: edits.change_scan(layout, scan.id, **{name: value})
            )

    def _parse(self, text: str) -> float:
        return parse_length(text, self.desk.system)

    def _show(self, mm: float) -> str:
        return show_length(mm, self.desk.system, with_unit=True)


def _three(values: object) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in values)  # type: ignore[attr-defined]
    return x, y, z
