"""Cup: the wells, the vessels that ride along, and how each stands in its well."""

from dataclasses import dataclass, replace
from typing import Annotated

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.fields import Range
from floorpan.items import CupHolder, Vessel, WellFit, library, vessel_of, well_fit
from floorpan.layout import Layout, Step
from floorpan.report.sentences import give_or_take_text, sentence, value_text
from floorpan.units import show_length, show_number
from floorpan_app.cards import words
from floorpan_app.cards.blocks import PartTitle, Rule, pressed, px, show_all, side_by_side, told
from floorpan_app.cards.card import Card, Need
from floorpan_app.cards.measure_table import MeasureTable
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.rows import Row, Rows
from floorpan_app.cards.scans import need_axes
from floorpan_app.cards.setting_down import offers
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.cards.tried import tried

_STEP_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """A point of a vessel's outline as a builder tapes it: how high over the base, how wide there."""

    height_mm: Annotated[float, Range(0, 600, "mm", "Height", "Over the base.")]
    across_mm: Annotated[float, Range(2, 300, "mm", "Across", "From side to side at that height.")]


class CupCard(Card):
    """The cup holder in hand, else the first one; every vessel."""

    step: Step = "cup"

    def build(self) -> None:
        self._chosen = ""
        self._rule, self._title = Rule(), PartTitle(words.WELL)
        self.holder = ThingForm(
            self.desk, CupHolder, ("mouth_mm", "base_mm", "depth_mm"), ("name", "wall_mm", "stands_on")
        )
        self._vessels_title = PartTitle(words.VESSELS, words.ROOM_ACROSS)
        self.rows = Rows(words.VESSELS)
        self.rows.row_chosen.connect(self._choose)
        self.kind = QuietCombo([(one.key, one.label) for one in library()], words.VESSEL)
        self.stand = pressed(words.ADD_VESSEL, self.add_vessel, icon="vessel")
        self._build_vessel()
        self.add(self._vessels_title, self.rows, self.vessel, side_by_side(self.kind, self.stand))
        self.add(self._rule, self._title, self.holder)

    def _build_vessel(self) -> None:
        self.vessel = QWidget()
        wells = {"stands_in": self._wells}
        self.form = ThingForm(self.desk, Vessel, ("name", "stands_in", "full_kg"), offers=wells)
        self.table = MeasureTable(
            self.desk,
            Across,
            words.PROFILE_COLUMNS,
            self._set_profile,
            named=self._named,
            fewest=2,
        )
        self._outline_title = PartTitle(words.PROFILE)
        self.add_height = pressed(words.PROFILE_ADD, self.add_a_height, icon="add")
        column = QVBoxLayout(self.vessel)
        column.setContentsMargins(0, px(4), 0, px(4))
        column.setSpacing(px(8))
        for widget in (self._outline_title, told(words.PROFILE_NOTE, second=True), self.table):
            column.addWidget(widget)
        column.addWidget(self.add_height)
        column.addWidget(self.form)
        self.vessel.hide()

    def need(self) -> Need | None:
        need = need_axes(self.desk)
        if need is None and not self.desk.layout.of(CupHolder):
            return Need(told=words.NEED_HOLDER, offers=offers(self.desk, "cup holder", "cup"))
        return need

    def lacks(self) -> str:
        return "" if self.desk.layout.of(CupHolder) else words.NEED_HOLDER

    def refresh(self) -> None:
        holders = self.desk.layout.of(CupHolder)
        vessels = self.desk.layout.of(Vessel)
        self.holder.show_things(holders)
        show_all(bool(holders), self._rule, self._title)
        self._vessels_title.setVisible(bool(holders or vessels))
        self.kind.setVisible(bool(holders))
        self.stand.setVisible(bool(holders))
        chosen = self._vessel()
        self.vessel.setVisible(chosen is not None)
        self.form.show_things((chosen,) if chosen is not None else ())
        self._outline_title.show_second(self.desk.system)
        if chosen is not None:
            self.table.show_values(_outline(chosen), chosen.id)

    def follow(self) -> None:
        for holder in self.desk.layout.of(CupHolder):
            self.holder.follow(holder)
        for vessel in self.desk.layout.of(Vessel):
            self.form.follow(vessel)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        worst: dict[str, Finding] = {}
        across: dict[str, Finding] = {}
        for finding in sorted(findings, key=rank):
            if finding.check.startswith("well-"):
                worst.setdefault(finding.subjects[0], finding)
            if finding.check == "well-side":
                across.setdefault(finding.subjects[0], finding)
        chosen = self._vessel()
        vessels = self.desk.layout.of(Vessel)
        rows = [self._row(vessel, worst.get(vessel.id), across.get(vessel.id)) for vessel in vessels]
        self.rows.show_rows(rows, chosen.id if chosen is not None else "")

    def add_vessel(self) -> None:
        """A vessel from the list stands in the well; the others that stand there are shown taken out."""
        holder, key = self._holder(), self.kind.key()
        if holder is None:
            return
        vessel = vessel_of(key, "new", stands_in=holder.id)
        given: list[str] = []

        def add(layout: Layout) -> Layout:
            after, id = edits.add(layout, vessel)
            given.append(id)
            return after

        if not tried(self.desk, words.ADD_VESSEL_ENTRY.format(name=vessel.name), add):
            self._show_in_well(given[-1])
            self.desk.select(given[-1])

    def add_a_height(self) -> None:
        """One point more at the top, a little higher and as wide."""
        vessel = self._vessel()
        if vessel is not None:
            outline = _outline(vessel)
            top = outline[-1]
            self.table.say(self._set_profile((*outline, replace(top, height_mm=top.height_mm + _STEP_MM))))

    # What is shown.

    def _row(self, vessel: Vessel, worst: Finding | None, across: Finding | None) -> Row:
        layout, system = self.desk.layout, self.desk.system
        holder = next((one for one in layout.of(CupHolder) if one.id == vessel.stands_in), None)
        if holder is None:
            return Row(id=vessel.id, title=vessel.name, second=words.STANDS_FREE)
        fit = well_fit(holder, vessel)
        return Row(
            id=vessel.id,
            title=vessel.name,
            mark=worst.verdict if worst is not None else "pending",
            second=self._fit_words(fit),
            value=value_text(across, system) if across is not None and fit.enters else "",
            trust=give_or_take_text(across, system) if across is not None and fit.enters else "",
            spoken=sentence(worst, layout, system) if worst is not None else "",
        )

    def _fit_words(self, fit: WellFit) -> str:
        if not fit.enters:
            return words.DOES_NOT_ENTER
        return words.SITS_AND_LEANS.format(
            sits=show_length(fit.sits_mm, self.desk.system, with_unit=True),
            lean=f"{show_number(fit.free_tilt_deg, 1)}\u00b0",
        )

    def _named(self, point: Across) -> str:
        return words.PROFILE_POINT.format(n=show_length(point.height_mm, self.desk.system))

    def _wells(self) -> list[tuple[str, str]]:
        return [("", words.NO_WELL), *((one.id, one.name) for one in self.desk.layout.of(CupHolder))]

    def _holder(self) -> CupHolder | None:
        holders = self.desk.layout.of(CupHolder)
        held = [one for one in holders if one.id == self.desk.selection] or list(holders)
        return held[0] if held else None

    def _vessel(self) -> Vessel | None:
        return next((one for one in self.desk.layout.of(Vessel) if one.id == self.desk.selection), None)

    # What is done.

    def _choose(self, id: str) -> None:
        if id == self.desk.selection:
            self.desk.select("")
            return
        self._show_in_well(id)
        self.desk.select(id)

    def _show_in_well(self, id: str) -> None:
        """Show this vessel in its well, and the others that share the well out of the car."""
        vessels = self.desk.layout.of(Vessel)
        well = next((one.stands_in for one in vessels if one.id == id), "")
        stops = {f"{one.id}.place": "out" for one in vessels if well and one.stands_in == well}
        self.desk.show_stops({**stops, f"{id}.place": "in"})

    def _set_profile(self, outline: tuple[Across, ...]) -> str:
        vessel = self._vessel()
        if vessel is None:
            return ""
        profile = tuple((point.height_mm, point.across_mm / 2) for point in outline)
        entry = words.CHANGE_ENTRY.format(name=vessel.name)
        return tried(self.desk, entry, lambda layout: edits.change(layout, vessel.id, profile=profile))


def _outline(vessel: Vessel) -> tuple[Across, ...]:
    return tuple(Across(height_mm=height, across_mm=2 * radius) for height, radius in vessel.profile)
