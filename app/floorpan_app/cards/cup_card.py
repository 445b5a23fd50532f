"""Cup: the holder, the vessels that ride along, and how each stands in its well."""

from PySide6.QtWidgets import QComboBox, QVBoxLayout

from floorpan import edits
from floorpan.items import CupHolder, Vessel, library, vessel_of, well_fit
from floorpan.layout import Layout, Step
from floorpan.units import show_length, show_number
from floorpan_app.cards.card import Card, Facts, heading, pressed, told
from floorpan_app.cards.thing_form import ThingForm


class CupCard(Card):
    """The first cup holder, and the library of vessels."""

    step: Step = "cup"

    def build(self) -> None:
        self._place = pressed(
            "Place a cup holder", lambda: self.desk.use_tool("place cup holder"), icon="cup"
        )
        self.body.addWidget(self._place)
        self.body.addWidget(heading("Well"))
        self._form = ThingForm(self.desk, ("name", "mouth_mm", "base_mm", "depth_mm", "wall_mm"))
        self.body.addWidget(self._form)
        self.body.addWidget(heading("Vessels"))
        self.vessel = QComboBox()
        for one in library():
            self.vessel.addItem(one.label, one.key)
        self.vessel.setAccessibleName("Vessel to add")
        self.body.addWidget(self.vessel)
        self._add = pressed("Stand it in the well", self.add_vessel, icon="vessel")
        self.body.addWidget(self._add)
        self._fits = QVBoxLayout()
        self.body.addLayout(self._fits)
        self._facts = Facts()
        self.body.addWidget(self._facts)
        self.body.addWidget(told("Measured sizes win: the library is a start.", second=True))

    def refresh(self) -> None:
        holder = self._holder()
        self._form.show_thing(holder)
        self._place.setVisible(holder is None)
        self._add.setEnabled(holder is not None)
        system = self.desk.system
        rows: list[tuple[str, str]] = []
        for vessel in self.desk.layout.of(Vessel):
            if holder is None or vessel.stands_in != holder.id:
                continue
            fit = well_fit(holder, vessel)
            if not fit.enters:
                rows.append((vessel.name, "does not go in"))
                continue
            rows.append((vessel.name, f"{show_length(fit.side_mm, system, with_unit=True)} to spare across"))
            rows.append(("   stands in by", show_length(fit.sits_mm, system, with_unit=True)))
            rows.append(("   leans up to", f"{show_number(fit.free_tilt_deg, 1)}\u00b0"))
        self._facts.show_facts(rows)

    def add_vessel(self) -> None:
        """A vessel from the library, standing in the holder; one that stands there goes."""
        holder = self._holder()
        if holder is None:
            return
        key = str(self.vessel.currentData())

        def edit(layout: Layout) -> Layout:
            for vessel in layout.of(Vessel):
                if vessel.stands_in == holder.id:
                    layout = edits.remove(layout, vessel.id)
            return edits.add(layout, vessel_of(key, "new", stands_in=holder.id))[0]

        self.desk.change("Stand a vessel in the well", edit)

    def _holder(self) -> CupHolder | None:
        return next(iter(self.desk.layout.of(CupHolder)), None)
