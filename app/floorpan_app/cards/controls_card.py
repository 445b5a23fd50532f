"""Controls: the shifter, its gate with a verdict in every gear, what the lever gives, switches, and what else moves."""

from functools import partial

import numpy as np
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.items import (
    Control,
    GatePlace,
    KnobPoint,
    MeshPart,
    Shifter,
    gate_table,
    lever_readout,
    opening_gap,
)
from floorpan.items.shifter_gate import slots_of
from floorpan.items.states import State, stops_of
from floorpan.layout import Step
from floorpan.report.gate_card import GearLine, gear_lines, in_reading_order
from floorpan.report.live_told import freshest
from floorpan.report.naming import place_text, second_of
from floorpan.report.opening_told import boot_texts, needed_outline, needed_text
from floorpan.report.sentences import sentence, value_text
from floorpan.units import show_length
from floorpan_app.cards import words
from floorpan_app.cards.blocks import Facts, PartTitle, Rule, at_left, pressed, px, show_all, told
from floorpan_app.cards.card import Card, Need
from floorpan_app.cards.fitting_kinds import fittings_of
from floorpan_app.cards.fittings_part import FittingsPart
from floorpan_app.cards.gate_fit_part import GateFitPart
from floorpan_app.cards.gear_told import GearTold
from floorpan_app.cards.in_sight import bring_to_sight
from floorpan_app.cards.lever_part import LeverPart
from floorpan_app.cards.measure_table import MeasureTable
from floorpan_app.cards.mesh_parts_part import MeshPartsPart
from floorpan_app.cards.scans import need_axes
from floorpan_app.cards.setting_down import offers
from floorpan_app.cards.switches_part import SwitchesPart
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.cards.tried import tried
from floorpan_app.standing import standing
from floorpan_app.widgets.gate_card import GateCard
from floorpan_app.widgets.gate_pattern import Gear

_FIRST = (
    "family", "gate", "lever_mm", "lean_deg", "throw_deg", "plane_deg", "gears", "reverse", "reverse_extra_deg",
    "ring_lift_mm", "places", "detent_deg",
)  # fmt: skip
_MORE = (
    "name", "stands_on", "box_length_mm", "box_width_mm", "box_height_mm", "pivot_mm", "pivot_back_mm",
    "pivot_right_mm", "side_lean_deg", "bend_deg", "bend_turn_deg", "bend_mm", "offset_mm", "offset_turn_deg",
    "lever_radius_mm", "boot_mm", "ring_radius_mm", "boot_cloth_mm", "knob", "knob_radius_mm", "knob_length_mm",
    "knob_neck_radius_mm", "hand", "opening_length_mm", "opening_width_mm", "opening_mm", "opening_back_mm",
    "rock_mm",
)  # fmt: skip
# Fields that say nothing of this gate or knob are not shown.
_OF_MANUAL = ("throw_deg", "plane_deg", "gears", "reverse", "reverse_extra_deg")
_OF_STRAIGHT = ("places", "detent_deg")
# Where the card is narrower than this, each gap stands beside its gear and the list goes.
_ROOM_FOR_A_LIST = 400.0


class ControlsCard(Card):
    """The shifter in hand, else the first one."""

    step: Step = "controls"

    def build(self) -> None:
        self.gate = GateCard()
        self.gate.gearChosen.connect(self._gear)
        self.gear_told = GearTold(self.desk)
        self._note = told(words.GATE_NOTE, second=True)
        self._rule, self._title = Rule(), PartTitle(words.SHIFTER)
        self.shifter = ThingForm(self.desk, Shifter, _FIRST, _MORE)
        self.facts = Facts()
        self.opening = told(second=True)
        self._build_knobs()
        self.add(self.gate, self.gear_told, self._note, self._rule, self._title)
        # What else is in hand has its measures further down; those of the shifter make way for them.
        self.measures = pressed(words.SHIFTER_MEASURES, self._take_shifter, role="link")
        self.add(at_left(self.measures), self.facts, self.opening, self.shifter, self.knobs)
        self.lever = LeverPart(self.desk)
        self.switches = SwitchesPart(self.desk)
        self.fittings = FittingsPart(self.desk)
        self.meshes = MeshPartsPart(self.desk)
        self.meshes.asked.connect(lambda: self.asked.emit("part from file"))
        self.add(self.lever, self.switches, self.fittings, self.meshes)
        self.desk.state_changed.connect(self._again_if_in_hand)

    def _build_knobs(self) -> None:
        self.knobs = QWidget()
        self._unit = PartTitle(words.KNOB_PLACES)
        self.fold = QPushButton(words.KNOB_PLACES)
        self.fold.setCheckable(True)
        self.fold.setProperty("role", "link")
        self.taped = QWidget()
        self.table = MeasureTable(
            self.desk,
            KnobPoint,
            words.KNOB_COLUMNS,
            self._set_knobs,
            named=lambda knob: str(knob.gear),
            lead=words.GEAR,
        )
        self.table.row_ended.connect(self._row_ended)
        # The gear whose row is open though nothing of it is taped yet.
        self._begun = ""
        self.begun_note = told(second=True)
        self.tape = pressed("", self.tape_gear, icon="add")
        self.fit = GateFitPart(self.desk)
        inner = QVBoxLayout(self.taped)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(px(8))
        for widget in (self._unit, told(words.KNOB_NOTE, second=True), self.table, self.begun_note):
            inner.addWidget(widget)
        inner.addWidget(self.tape)
        inner.addWidget(self.fit)
        column = QVBoxLayout(self.knobs)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(at_left(self.fold))
        column.addWidget(self.taped)
        self.taped.hide()
        self.fold.toggled.connect(self.taped.setVisible)

    def need(self) -> Need | None:
        need = need_axes(self.desk)
        if need is None and not self.desk.layout.of(Shifter):
            return Need(told=words.NEED_SHIFTER, offers=offers(self.desk, "shifter", "shifter"))
        return need

    def lacks(self) -> str:
        return "" if self.desk.layout.of(Shifter) else words.NEED_SHIFTER

    def refresh(self) -> None:
        self.switches.refresh(shown=self.need() is None)
        self.fittings.refresh(shown=self.need() is None)
        self.meshes.refresh(shown=self.need() is None)
        shown = self.shifter.show_things(self.desk.layout.of(Shifter))
        shifter = self._shifter()
        self.measures.setVisible(shifter is not None and self._is_away())
        show_all(
            shifter is not None, self.gate, self._note, self.gear_told, self._rule, self._title, self.knobs
        )
        self.lever.refresh(shifter)
        if shown is None or shifter is None:
            self.facts.show_facts(())
            self.opening.hide()
            return
        self._title.show_second(words.FAMILIES[shifter.family])
        self._show_fields(shifter)
        self._look_at_gears(shifter)
        gear = self._gear_in_hand(shifter)
        self.gate.set_in_hand(gear)
        self._tell_gears(shifter)
        self.facts.show_facts(self._facts(shifter, gear))
        self._show_opening(shifter)
        if self._is_away():
            show_all(False, self.facts, self.opening, self.shifter, self.knobs, self.lever)
        self._unit.show_second(self.desk.system)
        self._show_taped(shifter, gear)
        self.fit.refresh(shifter)

    def _show_taped(self, shifter: Shifter, gear: str) -> None:
        """What is taped, the row that is begun, and which gear comes next: the one in hand, else the next one."""
        left = _untaped(shifter, gear)
        if self._begun and (gear != self._begun or gear not in left):
            self._begun = ""
        begun = (self._knob(shifter, gear),) if self._begun else ()
        self.table.show_values((*shifter.knobs, *begun), shifter.id)
        self.begun_note.setText(words.KNOB_BEGUN.format(gear=gear))
        self.begun_note.setVisible(bool(begun))
        self.tape.setText(words.TAPE_KNOB.format(gear=left[0]) if left else words.ALL_TAPED)
        self.tape.setEnabled(bool(left))

    def _show_fields(self, shifter: Shifter) -> None:
        manual, pear = shifter.gate == "manual", shifter.knob == "pear"
        for name in (*_OF_MANUAL, *_OF_STRAIGHT):
            self.shifter.form.show_field(name, manual is (name in _OF_MANUAL))
        self.shifter.more.show_field("knob_length_mm", shifter.knob != "sphere")
        self.shifter.more.show_field("knob_neck_radius_mm", pear)

    def _show_opening(self, shifter: Shifter) -> None:
        layout, system = self.desk.layout, self.desk.system
        outline = needed_outline(layout, shifter)
        needed = "" if outline is None else needed_text(layout, shifter, outline, system)
        self.opening.setText("\n".join((*filter(None, (needed,)), *boot_texts(shifter, system))))
        self.opening.setVisible(bool(self.opening.text()))

    def follow(self) -> None:
        self.switches.follow()
        self.fittings.follow()
        self.meshes.follow()
        shifter = self._shifter()
        self.lever.follow(shifter)
        if shifter is not None:
            self.shifter.follow(shifter)
            if not self._is_away():
                self.facts.show_facts(self._facts(shifter, self._gear_in_hand(shifter)))

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        self.switches.show_findings(findings)
        self.fittings.show_findings(findings)
        self.meshes.show_findings(findings)
        shifter = self._shifter()
        if shifter is None:
            return
        self._tell_gears(shifter)

    def _look_at_gears(self, shifter: Shifter) -> None:
        """While the mouse rests in a drag, the smallest gap of every gear is measured."""
        axis = f"{shifter.id}.gear"
        self.desk.judging.also_looked_at = tuple(
            partial(_is_at, axis, place.gear) for place in gate_table(shifter)
        )

    def _tell_gears(self, shifter: Shifter) -> None:
        findings = freshest(self.desk.judging.findings)
        lines = {line.gear: line for line in gear_lines(findings, shifter)}
        places = gate_table(shifter)
        leftmost = min(place.plane for place in places)
        gears = tuple(self._told(shifter, place, leftmost, lines[place.gear]) for place in places)
        order = in_reading_order(shifter, slots_of(shifter))
        self.gate.set_gears(tuple(sorted(gears, key=lambda one: order.index(one.gear))))
        stale = any(gear.stale or gear.gap_stale for gear in gears)
        dragged = self.desk.document.previewing
        self._note.setText(words.GATE_LIVE if dragged else words.GATE_WORKING if stale else words.GATE_NOTE)
        gear = self._gear_in_hand(shifter)
        if gear in lines:
            self.gear_told.show_gear(lines[gear])

    def _told(self, shifter: Shifter, place: GatePlace, leftmost: int, line: GearLine) -> Gear:
        layout, system = self.desk.layout, self.desk.system
        worst, gap = line.worst, line.gap
        return Gear(
            gear=place.gear,
            column=float(place.plane - leftmost),
            row=(place.detent + 1) / 2 if shifter.gate == "manual" else float(place.detent),
            verdict=worst.verdict if worst is not None else "pending",
            value=value_text(gap, system) if gap is not None else "",
            part=second_of(gap, layout).bare if gap is not None else "",
            gap_verdict=gap.verdict if gap is not None else None,
            # What is not judged yet may be narrower than all that is.
            gap_stale=gap is not None and not line.sure,
            stale=worst is not None and (worst.stale or not line.sure),
            sentence=sentence(worst, layout, system) if worst is not None else "",
        )

    def tape_gear(self) -> None:
        """A row for the gear in hand or the next that is not taped, beginning where lever and angles put its knob."""
        shifter = self._shifter()
        left = _untaped(shifter, self._gear_in_hand(shifter)) if shifter is not None else ()
        if shifter is None or not left:
            return
        self._gear(left[0])
        self._begun = ""
        fault = self._set_knobs((*shifter.knobs, self._knob(shifter, left[0])))
        self.table.say(fault)
        if not fault:
            bring_to_sight(self.table.begin_row(len(shifter.knobs)))

    def _row_ended(self, row: int) -> None:
        """On to the next gear that is not taped: its row is open, and taped as soon as a number of it is typed."""
        shifter = self._shifter()
        if shifter is None or row >= len(shifter.knobs):
            return
        left = _untaped(shifter, shifter.knobs[row].gear)
        if left:
            self._gear(left[0])
            self._begun = left[0]
            self._show_taped(shifter, left[0])
            bring_to_sight(self.table.begin_row(len(shifter.knobs)))

    def _knob(self, shifter: Shifter, gear: str) -> KnobPoint:
        """Where lever and angles put the knob in a gear, from the centre of the foot."""
        at = np.array(self._place(shifter, gear).knob_mm)
        x, y, z = (float(v) for v in shifter.place.pose().inverse().apply(at))
        return KnobPoint(gear=gear, x_mm=round(x, 1), y_mm=round(y, 1), z_mm=round(z, 1))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.gate.set_listing(self.width() >= px(_ROOM_FOR_A_LIST))

    def _facts(self, shifter: Shifter, gear: str) -> list[tuple[str, str]]:
        layout, system = self.desk.layout, self.desk.system
        read, knob, manual = lever_readout(shifter), self._place(shifter, gear), shifter.gate == "manual"

        def length(mm: float) -> str:
            return show_length(mm, system, with_unit=True)

        # No line begins with the last word of a way.
        ways = place_text(knob.knob_mm, layout, system).split(", ")
        at = ", ".join("\u00a0".join(way.rsplit(" ", 1)) for way in ways)
        name = words.KNOB if gear == "N" else words.KNOB_IN.format(gear=gear)
        return [
            (name, at),
            (words.THROW if manual else words.STEP, length(read.throw_mm)),
            *([(words.CROSS, length(read.cross_mm))] if manual else []),
            (words.KNOB_OVER_FOOT, length(read.knob_over_foot_mm)),
            (words.OPENING.format(gear=gear), length(opening_gap(shifter, gear))),
        ]

    def _shifter(self) -> Shifter | None:
        shifters = self.desk.layout.of(Shifter)
        held = [one for one in shifters if one.id == self.desk.selection] or list(shifters)
        return held[0] if held else None

    def _is_away(self) -> bool:
        """Whether something else is in hand that has its measures on this card."""
        layout = self.desk.layout
        others = (*fittings_of(layout), *layout.of(Control), *layout.of(MeshPart))
        return any(thing.id == self.desk.selection for thing in others)

    def _take_shifter(self) -> None:
        shifter = self._shifter()
        if shifter is not None:
            self.desk.select(shifter.id)

    def _gear_in_hand(self, shifter: Shifter) -> str:
        return stops_of(standing(self.desk.layout, self.desk.state), shifter.id).get("gear", "N")

    def _place(self, shifter: Shifter, gear: str) -> GatePlace:
        return next(place for place in gate_table(shifter) if place.gear == gear)

    def _gear(self, gear: str) -> None:
        shifter = self._shifter()
        if shifter is not None:
            self.desk.show_stops({f"{shifter.id}.gear": gear})

    def _set_knobs(self, knobs: tuple[KnobPoint, ...]) -> str:
        shifter = self._shifter()
        if shifter is None:
            return ""
        opened = self._begun
        if opened:
            # A row that nobody typed into is no taped place, and one that is taken out is gone.
            begun = self._knob(shifter, opened)
            knobs = tuple(knob for knob in knobs if knob != begun)
            self._begun = ""
        entry = words.CHANGE_ENTRY.format(name=shifter.name)
        fault = tried(self.desk, entry, lambda layout: edits.change(layout, shifter.id, knobs=knobs))
        if fault:
            self._begun = opened
        elif knobs == shifter.knobs:
            self._show_taped(shifter, self._gear_in_hand(shifter))
        return fault


def _untaped(shifter: Shifter, gear: str) -> tuple[str, ...]:
    """The gears whose knob is not taped, from this one on in the order of the gate."""
    gears = [place.gear for place in gate_table(shifter)]
    at = gears.index(gear) if gear in gears else 0
    taped = {knob.gear for knob in shifter.knobs}
    return tuple(one for one in (*gears[at:], *gears[:at]) if one not in taped)


def _is_at(axis: str, stop: str, state: State) -> bool:
    """Whether a state has an axis at a stop."""
    return dict(state).get(axis) == stop
