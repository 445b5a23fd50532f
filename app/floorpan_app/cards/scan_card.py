"""Scan: what was read, what every gap carries for it, which way it faces, and the box it is cropped to."""

from typing import Any

from PySide6.QtWidgets import QCheckBox

from floorpan import edits
from floorpan.checks import Finding
from floorpan.derive.cropped import is_cropped
from floorpan.layout import Box, ScanRef, Step
from floorpan.scan.prepare import ScanMesh, facing_up_share
from floorpan.units import show_length, show_number
from floorpan_app.cards import scan_words, words
from floorpan_app.cards.blocks import Facts, PartTitle, Rule, pressed, show_all, side_by_side, told
from floorpan_app.cards.box_form import BoxForm
from floorpan_app.cards.bridges_part import BridgesPart
from floorpan_app.cards.card import Card, Need, Offer
from floorpan_app.cards.cleaning_part import CleaningPart
from floorpan_app.cards.form import Form
from floorpan_app.cards.join_part import JoinPart
from floorpan_app.cards.maps_part import MapsPart
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.outline_part import OutlinePart
from floorpan_app.cards.probes_part import ProbesPart
from floorpan_app.cards.scans import crop_or_whole, lies_along, scan_in_hand
from floorpan_app.cards.scans_part import ScansPart
from floorpan_app.cards.spelling import show_small
from floorpan_app.cards.tried import tried
from floorpan_app.cards.trust_part import TrustPart

_CROP_TOOL = "crop box"


class ScanCard(Card):
    """The scan in hand; the first one, until another is taken."""

    step: Step = "scan"

    def build(self) -> None:
        self.facts = Facts()
        self.form = Form(
            self.desk,
            ScanRef,
            ("name", "role", "unit", "good_to_mm", "good_to_note"),
            self._commit,
            wide=("good_to_note",),
        )
        self._unit_note = told(second=True)
        self.unit_notice = Notice()
        self._unit_wanted = ""
        self._unit_take = pressed("", self.take_unit)
        self._unit_leave = pressed(words.UNIT_LEAVE, self.leave_unit)
        self.unit_notice.below.addLayout(side_by_side(self._unit_leave, self._unit_take))
        self._rule = Rule()
        self._carried = told(second=True)
        self.flip = QCheckBox(words.INSIDE_OUT)
        self.flip.clicked.connect(self._flip)
        self._facing = told(second=True)
        self._crop_rule = Rule()
        self._crop_title = PartTitle(words.CROP_TITLE)
        self._crop_note = told(second=True)
        self.box = BoxForm(self.desk, self._crop)
        self.drag = pressed(words.DRAG_CROP, self._drag, icon="crop-box")
        self.drag.setCheckable(True)
        self.whole = pressed(words.WHOLE_SCAN, self._whole)
        self.trust = TrustPart(self.desk)
        self.outlines = OutlinePart(self.desk)
        self.probes = ProbesPart(self.desk)
        self.cleaning = CleaningPart(self.desk)
        self.scans = ScansPart(self.desk)
        self.scans.add_asked.connect(lambda: self.asked.emit("add scan"))
        self.join = JoinPart(self.desk)
        self.bridges = BridgesPart(self.desk)
        self.maps = MapsPart(self.desk)
        self.trust.apart_mm = self.maps.apart_mm
        self.maps.apart_changed.connect(lambda: self.trust.show_scan(scan_in_hand(self.desk)))
        self.add(self.scans, self.join)
        self.add(
            self.facts, self._unit_note, self._rule, self.form, self.unit_notice, self._carried, self.flip
        )
        self.add(
            self._facing,
            Rule(),
            self.trust,
            self.maps,
            self._crop_rule,
            self._crop_title,
            self._crop_note,
            self.box,
        )
        self.add(
            side_by_side(self.drag, self.whole), self.outlines, Rule(), self.bridges, Rule(), self.probes
        )
        self.add(Rule(), self.cleaning)
        self.desk.tool_changed.connect(self._tool_changed)
        self.desk.scans.changed.connect(self.refresh)

    def need(self) -> Need | None:
        if scan_in_hand(self.desk) is not None:
            return None
        start = Offer(word=words.START_FROM_SCAN, does=lambda: self.asked.emit("start"), icon="open")
        return Need(told=words.NEED_SCAN_HERE, offers=(start,))

    def lacks(self) -> str:
        return words.NEED_SCAN if scan_in_hand(self.desk) is None else ""

    def refresh(self) -> None:
        scan = scan_in_hand(self.desk)
        there = scan is not None
        show_all(there, self._carried, self.flip, self._facing, self._crop_rule, self._crop_title)
        show_all(there, self._crop_note, self.drag, self.whole, self._unit_note, self._rule)
        self.form.show_value(scan)
        self.outlines.show_scan(scan)
        self.probes.show_scan(scan)
        self.trust.show_scan(scan)
        self.scans.show_layout(self.desk.layout)
        self.join.show_scan(scan)
        if scan is None:
            self.facts.show_facts(())
            self.box.show_box(None, self.desk.layout.driver_side, in_car_axes=False)
            self.unit_notice.say("")
            self.cleaning.show_scan(None, None)
            self.maps.show_scan(None, None)
            self.bridges.show_scan(None, None)
            return
        u = show_length(scan.good_to_mm, self.desk.system, parts=32, with_unit=True)
        self._carried.setText(words.CARRIED.format(u=u))
        self.flip.setChecked(scan.flipped)
        self.whole.setEnabled(is_cropped(scan))
        self._show_unit(scan)
        self._show_prepared(scan)
        self._tool_changed(self.desk.tool)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        # Findings change when a scan has been made ready, too.
        scan = scan_in_hand(self.desk)
        if scan is not None and not self.desk.document.previewing:
            self._show_prepared(scan)

    def take_unit(self) -> None:
        """Read the scan in the unit that was asked for; what was pointed at in the old one goes."""
        scan, unit = scan_in_hand(self.desk), self._unit_wanted
        self.leave_unit()
        if scan is not None and unit:
            tried(self.desk, words.SCAN_ENTRY, lambda layout: edits.change_scan(layout, scan.id, unit=unit))

    def leave_unit(self) -> None:
        """Stay with the unit there is."""
        self._unit_wanted = ""
        scan = scan_in_hand(self.desk)
        self.form.show_value(scan)
        self.unit_notice.say("")

    # What is shown.

    def _show_prepared(self, scan: ScanRef) -> None:
        """What is known once the scan was made ready."""
        bench = self.desk.judging.bench
        ready = bench.prepared(scan) if bench.is_prepared(scan) else None
        self.facts.show_facts(self._facts(scan, ready))
        along = lies_along(scan.crop, scan) if scan.crop is not None else True
        set_now = scan.pose is not None
        note = words.CROP_NOTE if along and set_now else words.BOX_BEFORE if set_now else words.SIDES_OPEN
        self._crop_note.setText(note)
        self.box.show_box(
            crop_or_whole(scan, bench), self.desk.layout.driver_side, in_car_axes=along and set_now
        )
        self._show_facing(scan, ready)
        self.cleaning.show_scan(scan, ready)
        self.maps.show_scan(scan, ready)
        self.bridges.show_scan(scan, bench.bridged(scan) if ready is not None else None)

    def _facts(self, scan: ScanRef, ready: ScanMesh | None) -> list[tuple[str, str]]:
        rows = [(words.FILE, scan.original_name)]
        if ready is None:
            missing = scan.sha256 not in self.desk.judging.bench.store
            return [*rows, (words.SIZE, words.NO_FILE if missing else words.READY_SOON)]
        facts, system = ready.facts, self.desk.system
        x, y, z = (show_length(side, system, digits=0) for side in facts.size_mm)
        rows += [
            (words.SIZE, words.SIZE_OF.format(x=x, y=y, z=z, unit=system)),
            (words.TRIANGLES, show_number(facts.triangles, 0)),
            (words.PIECES, show_number(facts.islands, 0)),
            (words.HOLES, self._holes(facts.holes, facts.longest_hole_mm)),
            (words.ROUGHNESS, self._roughness(facts.noise_mm)),
        ]
        left = ", ".join(
            words.LEFT_OUT_ONE.format(n=show_number(n, 0), what=what) for what, n in facts.dropped.items()
        )
        return [*rows, (words.LEFT_OUT, left)] if left else rows

    def _holes(self, count: int, longest_mm: float) -> str:
        if not count:
            return words.NO_HOLES
        longest = show_length(longest_mm, self.desk.system, digits=0, with_unit=True)
        return words.HOLES_OF.format(n=show_number(count, 0), longest=longest)

    def _roughness(self, noise_mm: float) -> str:
        if noise_mm <= 0.0:
            return words.NOT_TOLD
        return f"{show_small(noise_mm, self.desk.system, digits=2)} {self.desk.system}"

    def _show_facing(self, scan: ScanRef, ready: ScanMesh | None) -> None:
        pose = scan.pose
        if ready is None or pose is None:
            self._facing.setText(words.FACING_LATER)
            return
        mesh, memory = ready.mesh, self.desk.judging.bench.memory
        share = memory.get("facing up", (mesh, pose), lambda: facing_up_share(mesh, pose))
        seen = 1.0 - share if scan.flipped else share
        told_ = words.FACING if seen >= 0.5 else words.FACING_DOWN
        self._facing.setText(told_.format(n=show_number(100.0 * seen, 0)))

    def _show_unit(self, scan: ScanRef) -> None:
        """Where the unit comes from; the file is asked only once it was read."""
        bench = self.desk.judging.bench
        if scan.sha256 not in bench.store or not bench.is_prepared(scan):
            self._unit_note.setText("")
        else:
            raw = bench.store[scan.sha256]
            self._unit_note.setText(words.UNIT_WRITTEN if raw.unit_given else raw.proposal.why)
        self._unit_note.setVisible(bool(self._unit_note.text()))
        if self._unit_wanted == scan.unit or not _dropped(scan):
            self._unit_wanted = ""
            self.unit_notice.say("")

    # What is done.

    def _commit(self, name: str, value: object) -> str:
        scan = scan_in_hand(self.desk)
        if scan is None:
            return ""
        if name == "unit" and _dropped(scan):
            self._ask_unit(scan, str(value))
            return ""
        changes: dict[str, Any] = {name: value}
        return tried(
            self.desk, words.SCAN_ENTRY, lambda layout: edits.change_scan(layout, scan.id, **changes)
        )

    def _ask_unit(self, scan: ScanRef, unit: str) -> None:
        """Another unit drops what was pointed at: that is said first."""
        if unit == scan.unit:
            self.leave_unit()
            return
        self._unit_wanted = unit
        self._unit_take.setText(words.UNIT_TAKE.format(unit=unit))
        what = ", ".join(_dropped(scan))
        self.unit_notice.say(words.UNIT_DROPS.format(unit=unit, was=scan.unit, what=what), "close")

    def _crop(self, box: Box) -> str:
        scan = scan_in_hand(self.desk)
        if scan is None:
            return ""
        return tried(self.desk, words.CROP_ENTRY, lambda layout: edits.crop(layout, scan.id, box))

    def _whole(self) -> None:
        scan = scan_in_hand(self.desk)
        if scan is not None:
            tried(self.desk, words.WHOLE_ENTRY, lambda layout: edits.uncrop(layout, scan.id))

    def _flip(self, flipped: bool) -> None:
        scan = scan_in_hand(self.desk)
        if scan is not None:
            tried(
                self.desk,
                words.FLIP_ENTRY,
                lambda layout: edits.change_scan(layout, scan.id, flipped=flipped),
            )

    def _drag(self) -> None:
        self.desk.use_tool("" if self.desk.tool == _CROP_TOOL else _CROP_TOOL)

    def _tool_changed(self, tool: str) -> None:
        self.drag.setChecked(tool == _CROP_TOOL)


def _dropped(scan: ScanRef) -> list[str]:
    """What goes when the scan is read in another unit."""
    goes = (
        (bool(scan.picks), scan_words.DROPS_POINTS),
        (bool(scan.centre_lines), scan_words.DROPS_LINES),
        (scan.pose is not None, scan_words.DROPS_AXES),
        (bool(scan.cleaned), scan_words.DROPS_CLEANING),
        (scan.crop is not None, scan_words.DROPS_CROP),
        (bool(scan.outlines), scan_words.DROPS_OUTLINES),
        (bool(scan.areas), scan_words.DROPS_PARTS),
        (bool(scan.bridges), scan_words.DROPS_BRIDGES),
        (bool(scan.probes), scan_words.DROPS_PROBES),
        (bool(scan.targets or scan.joined), scan_words.DROPS_JOIN),
        (bool(scan.lengths or scan.edges), scan_words.DROPS_MEASURES),
    )
    return [what for there, what in goes if there]
