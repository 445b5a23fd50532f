"""Controls: the shifter, its gate with a verdict in every gear, and what the lever gives."""

from floorpan.checks import Finding
from floorpan.checks.finding import rank
from floorpan.items import Shifter, gate_table, lever_readout
from floorpan.items.states import stops_of
from floorpan.layout import Step
from floorpan.report.sentences import sentence, value_text
from floorpan.units import show_length
from floorpan_app.cards import words
from floorpan_app.cards.card import Card, Facts, heading, pressed, told
from floorpan_app.cards.thing_form import ThingForm
from floorpan_app.widgets.gate_card import GateCard
from floorpan_app.widgets.gate_pattern import Gear

_FIRST = (
    "name",
    "family",
    "lever_mm",
    "lean_deg",
    "throw_deg",
    "plane_deg",
    "gears",
    "reverse",
    "ring_lift_mm",
)
_MORE = ("box_length_mm", "box_width_mm", "box_height_mm", "pivot_mm", "side_lean_deg", "lever_radius_mm", "boot_mm",
         "knob_radius_mm", "opening_length_mm", "opening_width_mm", "opening_mm", "opening_back_mm",
         "rock_mm")  # fmt: skip
_ROWS = {"front": 0.0, "middle": 0.5, "rear": 1.0}


class ControlsCard(Card):
    """The first shifter of the layout."""

    step: Step = "controls"

    def build(self) -> None:
        self.gate = GateCard()
        self.gate.gearChosen.connect(self._gear)
        self.body.addWidget(self.gate)
        self.body.addWidget(told(words.GATE_NOTE, second=True))
        self._place = pressed("Place a shifter", lambda: self.desk.use_tool("place shifter"), icon="shifter")
        self.body.addWidget(self._place)
        self.body.addWidget(heading("Shifter"))
        self._form = ThingForm(self.desk, _FIRST, _MORE)
        self.body.addWidget(self._form)
        self._readout = Facts()
        self.body.addWidget(self._readout)
        self.desk.state_changed.connect(self._state)

    def refresh(self) -> None:
        shifter = self._shifter()
        self._form.show_thing(shifter)
        self._place.setVisible(shifter is None)
        self.gate.setVisible(shifter is not None)
        if shifter is None:
            self._readout.show_facts([])
            return
        read = lever_readout(shifter)
        system = self.desk.system
        self._readout.show_facts(
            [
                ("Throw each way at the knob", show_length(read.throw_mm, system, with_unit=True)),
                ("From plane to plane", show_length(read.cross_mm, system, with_unit=True)),
                ("Knob over the foot", show_length(read.knob_over_foot_mm, system, with_unit=True)),
            ]
        )
        self._state()

    def show_findings(self, findings: tuple[Finding, ...]) -> None:
        shifter = self._shifter()
        if shifter is None:
            return
        worst: dict[str, Finding] = {}
        for finding in sorted(findings, key=rank):
            gear = stops_of(finding.state, shifter.id).get("gear")
            if gear is not None and finding.is_gap:
                worst.setdefault(gear, finding)
        layout, system = self.desk.layout, self.desk.system
        places = gate_table(shifter)
        least = min(place.plane for place in places)
        self.gate.set_gears(
            tuple(
                Gear(
                    gear=place.gear,
                    column=float(place.plane - least),
                    row=_ROWS[place.row],
                    verdict=found.verdict if found else "pending",
                    value=value_text(found, system) if found and found.value is not None else "",
                    part=found.met if found else "",
                    stale=found.stale if found else False,
                    sentence=sentence(found, layout, system) if found else "",
                )
                for place in places
                for found in (worst.get(place.gear),)
            )
        )

    def _shifter(self) -> Shifter | None:
        return next(iter(self.desk.layout.of(Shifter)), None)

    def _gear(self, gear: str) -> None:
        shifter = self._shifter()
        if shifter is not None:
            self.desk.show_stops({f"{shifter.id}.gear": gear})

    def _state(self, _: object = None) -> None:
        shifter = self._shifter()
        if shifter is not None:
            self.gate.set_in_hand(stops_of(self.desk.state, shifter.id).get("gear", "N"))
