"""Cup: the vessels that ride along and how hard each is held, the well they stand in, and what stands close."""

from floorpan import edits
from floorpan.checks import Finding
from floorpan.items import CupHolder, Vessel, vessel_of, well_fit
from floorpan.items.held import COMFORT_G, LIMIT_G, SPORTS_TYRE_G
from floorpan.items.well_hold import BUMP_G
from floorpan.layout import Layout, Step
from floorpan.report.sentences import sentence
from floorpan_app.cards import cup_words as said
from floorpan_app.cards import words
from floorpan_app.cards.blocks import pressed, show_all, side_by_side, told
from floorpan_app.cards.card import Card, Need
from floorpan_app.cards.cup_corner_form import CupCornerForm, corner_of
from floorpan_app.cards.cup_groups import groups, vessels_of
from floorpan_app.cards.cup_near_part import CupNearPart
from floorpan_app.cards.cup_rows import HoldHead, HoldRow, HoldRows
from floorpan_app.cards.cup_told import fit_words, g_text, hold_row, holds_of, vessel_texts
from floorpan_app.cards.cup_vessel_part import CupVesselPart
from floorpan_app.cards.cup_well_part import CupWellPart
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.scans import need_axes
from floorpan_app.cards.setting_down import offers
from floorpan_app.cards.tried import tried
from floorpan_app.standing import standing
from floorpan_app.well_mates import chosen_in, left_out, well_mates
from floorpan_app.widgets.hold_rule import end_of


class CupCard(Card):
    """Every vessel; the holder of the one in hand, else the first holder."""

    step: Step = "cup"

    def build(self) -> None:
        self._made: dict[str, tuple[object, HoldRow]] = {}
        self.corner = CupCornerForm(self.desk)
        self.head, self.rows = HoldHead(), HoldRows(words.VESSELS)
        self.rows.row_chosen.connect(self._choose)
        marks = {"comfort": g_text(COMFORT_G), "limit": g_text(LIMIT_G), "sports": g_text(SPORTS_TYRE_G)}
        counted = said.COUNTED.format(bump=g_text(BUMP_G))
        self.note = told(f"{said.MARKS.format(**marks)} {counted}", second=True)
        self.note.setToolTip(said.MARKS_TOLD.format(**marks))
        self.vessel = CupVesselPart(self.desk)
        self.group = QuietCombo(groups(), said.KIND_OF_VESSEL)
        self.kind = QuietCombo(vessels_of(self.group.key()), words.VESSEL)
        self.group.picked.connect(lambda key: self.kind.offer(vessels_of(key)))
        self.shared = told(second=True)
        self.stand = pressed(words.ADD_VESSEL, self.add_vessel, icon="vessel")
        self.well = CupWellPart(self.desk)
        self.near = CupNearPart(self.desk)
        self.add(self.corner, self.shared, self.head, self.rows, self.note, self.vessel)
        self.add(side_by_side(self.group, self.kind), self.stand, self.well, self.near)
        # Which of several vessels is in the well is drawn there.
        self.desk.state_changed.connect(self._again_if_in_hand)

    def need(self) -> Need | None:
        need = need_axes(self.desk)
        if need is None and not self.desk.layout.of(CupHolder):
            return Need(told=words.NEED_HOLDER, offers=offers(self.desk, "cup holder", "cup"))
        return need

    def lacks(self) -> str:
        return "" if self.desk.layout.of(CupHolder) else words.NEED_HOLDER

    def refresh(self) -> None:
        holders, vessels = self._holders(), self.desk.layout.of(Vessel)
        self._made.clear()
        self.near.refresh()
        self.corner.refresh()
        show_all(bool(holders or vessels), self.corner, self.head)
        show_all(bool(vessels), self.note)
        show_all(bool(holders), self.group, self.kind, self.stand)
        self.vessel.show_vessel(self._vessel())
        self._tell_shared()
        self.well.refresh(holders, self._vessel_in(holders))

    def follow(self) -> None:
        for holder in self.desk.layout.of(CupHolder):
            self.well.form.follow(holder)
        for vessel in self.desk.layout.of(Vessel):
            self.vessel.form.follow(vessel)

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        layout, system, vessels = self.desk.layout, self.desk.system, self.desk.layout.of(Vessel)
        held, chosen = holds_of(findings), self._vessel()
        wanted = (one.limit.value for holds in held.values() for one in holds.values())
        end = end_of((corner_of(layout), *wanted))
        self.head.show_end(end)
        rows = [self._row(vessel, held.get(vessel.id, {}), end) for vessel in vessels]
        in_hand = chosen.id if chosen is not None else ""
        # While something is dragged the same rows come again and again.
        if (rows, in_hand) != (list(self.rows.rows()), self.rows.chosen()):
            self.rows.show_rows(rows, in_hand)
        if chosen is not None:
            self.vessel.show_does(vessel_texts(chosen, held.get(chosen.id, {}), system))
        self.well.show_findings(findings)
        ids = [*(one.id for one in vessels), *(one.id for one in layout.of(CupHolder))]
        self.near.show_findings(findings, frozenset(ids))

    def add_vessel(self) -> None:
        """A vessel from the list stands in the well; the others that stand there are shown taken out."""
        holder, key = self.well.holder(), self.kind.key()
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

    # What is shown.

    def _row(self, vessel: Vessel, holds: dict[str, Finding], end: float) -> HoldRow:
        """Its row; while something is dragged it mostly stays what it is."""
        of = (tuple(holds.values()), end)
        made = self._made.get(vessel.id)
        if made is None or made[0] != of:
            made = self._made[vessel.id] = (of, self._written(vessel, holds, end))
        return made[1]

    def _written(self, vessel: Vessel, holds: dict[str, Finding], end: float) -> HoldRow:
        layout, system = self.desk.layout, self.desk.system
        holder = next((one for one in layout.of(CupHolder) if one.id == vessel.stands_in), None)
        fit = words.STANDS_FREE if holder is None else fit_words(well_fit(holder, vessel), system)
        spoken = " ".join(sentence(found, layout, system) for found in holds.values())
        return hold_row(vessel, holds, fit, corner_of(layout), end, spoken=spoken)

    def _holders(self) -> tuple[CupHolder, ...]:
        """Every holder, the one of the vessel in hand first."""
        vessel, holders = self._vessel(), self.desk.layout.of(CupHolder)
        if vessel is None:
            return holders
        return tuple(sorted(holders, key=lambda one: one.id != vessel.stands_in))

    def _vessel_in(self, holders: tuple[CupHolder, ...]) -> Vessel | None:
        """The vessel in hand where it stands in the holder in hand, else the one that is drawn there."""
        held = [one for one in holders if one.id == self.desk.selection] or list(holders)
        if not held:
            return None
        layout, shown = self.desk.layout, dict(self.desk.state)
        unseen = left_out(layout, standing(layout, self.desk.state), chosen_in(self.desk))

        def unlikely(one: Vessel) -> tuple[bool, bool, bool]:
            out = shown.get(f"{one.id}.place", "in") != "in"
            return one.id != self.desk.selection, out, one.id in unseen

        order = sorted((one for one in layout.of(Vessel) if one.stands_in == held[0].id), key=unlikely)
        return order[0] if order else None

    def _tell_shared(self) -> None:
        """Which vessels are not drawn, because another one stands in their well."""
        layout = self.desk.layout
        mates = well_mates(layout, standing(layout, self.desk.state), chosen_in(self.desk))
        names = {vessel.id: vessel.name for vessel in layout.of(Vessel)}
        told_ = [
            said.SHARED[len(others) > 1].format(
                drawn=names[drawn], others=", ".join(names[id] for id in others)
            )
            for drawn, others in mates.items()
        ]
        self.shared.setText(" ".join(told_))
        self.shared.setVisible(bool(told_))

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
