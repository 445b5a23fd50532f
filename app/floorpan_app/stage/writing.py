"""Everything that is written over the picture, put together from findings, picks, the driver and the hand."""

from dataclasses import replace

from floorpan.advice.knob_for_driver import KnobAdvice
from floorpan.checks import Finding
from floorpan.geometry.solids import Body
from floorpan.items import Shifter, Vessel
from floorpan_app.stage import words as stage_words
from floorpan_app.stage.axes_marks import AxesMarks, centre_word, named_lines, tripod
from floorpan_app.stage.cup_marks import CupMarks, cup_marks
from floorpan_app.stage.driver_marks import DriverMarks, chain_marks, reach_marks
from floorpan_app.stage.gap_marks import Question, gap_lines, tight_spot
from floorpan_app.stage.ground_meshes import BRIDGED
from floorpan_app.stage.groups import CUP, DRIVER, GAPS, PICKS, REACH, SCAN_STEPS, UNSEEN, Showing
from floorpan_app.stage.hands import Around, Drawn
from floorpan_app.stage.hole_words import hole_word
from floorpan_app.stage.knob_region import KnobMarks, knob_marks, seen_advice
from floorpan_app.stage.knob_target import knob_target
from floorpan_app.stage.map_colours import legend_of
from floorpan_app.stage.outlines import Outlines, absent_bodies, sight_line
from floorpan_app.stage.probe_marks import probed
from floorpan_app.stage.rule import steel_rule
from floorpan_app.stage.stand_in import StandIn
from floorpan_app.stage.target_marks import targets_on
from floorpan_app.viewport.marks import Ghost, Legend, Marks, Path, PickMark, SteelRule, Tether, Tripod, Word
from floorpan_app.well_mates import chosen_in


class Writing:
    """Makes the marks of a moment."""

    def __init__(self, around: Around, showing: Showing) -> None:
        self._around = around
        self._showing = showing
        self._outlines = Outlines()
        self._axes = AxesMarks(around.desk.judging.bench)
        self.driver: StandIn | None = None
        self.pointed = ""

    def marks(self, drawn: Drawn, tether: Tether | None) -> Marks:
        """All of them."""
        desk, posed = self._around.desk, self._around.ground.pose is not None
        self._outlines.begin()
        findings = desk.judging.findings if posed else ()
        lines, words = self._centre()
        driver = self._driver_marks(moving=bool(drawn.moved))
        target = knob_target(desk.layout, desk.step)
        knob = self._knob_marks()
        cup = self._cup_marks()
        aims = tuple(self._outlines.of(body) for body in target.bodies)
        return Marks(
            gaps=gap_lines(findings, self._question(drawn)),
            picks=(*self._picks(), *drawn.picks),
            crop_box=drawn.crop_box,
            tripod=self._tripod(),
            rule=self._rule(),
            paths=(
                *self._sight(),
                *driver.paths,
                *knob.paths,
                *target.paths,
                *cup.paths,
                *lines,
                *drawn.paths,
            ),
            dimensions=drawn.dimensions,
            tether=tether,
            words=(
                *words,
                *driver.words,
                *knob.words,
                *target.words,
                *cup.words,
                *self._spots(),
                *drawn.words,
            ),
            joints=(*driver.joints, *knob.joints),
            ghosts=(*self._driver_ghosts(), *self._tight_ghosts(findings), *aims, *drawn.ghosts),
            legend=self._legend(),
            lit=frozenset({desk.finding, self.pointed} - {""}),
        )

    def in_hand_bodies(self) -> tuple[Body, ...]:
        """The bodies of what is selected, as they stand; none where it is hidden or nothing is."""
        around = self._around
        held, hidden = around.contents.held(), around.contents.is_hidden
        names = around.contents.names_of(around.desk.selection)
        return tuple(held[name].body for name in sorted(names) if not hidden(name))

    def _question(self, drawn: Drawn) -> Question:
        desk = self._around.desk
        alone = desk.step in SCAN_STEPS or not self._showing.is_on(GAPS, desk.step)
        return Question(
            layout=desk.layout,
            system=desk.system,
            stops=dict(self._around.state()),
            in_hand=self._in_hand(drawn),
            dragged=bool(drawn.moved),
            chosen=desk.finding,
            alone=alone,
        )

    def _in_hand(self, drawn: Drawn) -> frozenset[str]:
        """What is selected, and what goes where it goes: vessels with their holder, the hand with its knob."""
        layout = self._around.desk.layout
        ids = {self._around.desk.selection, drawn.moved} - {""}
        ids |= {vessel.id for vessel in layout.of(Vessel) if vessel.stands_in in ids}
        if any(shifter.id in ids for shifter in layout.of(Shifter)):
            ids |= {person.id for person in layout.people if person.role == "driver"}
        return frozenset(ids)

    def _picks(self) -> tuple[PickMark, ...]:
        desk, ground = self._around.desk, self._around.ground
        if desk.step == "scan":
            seen = {name.partition(".")[0] for name in ground.names()}
            probes = tuple(mark for scan in desk.layout.scans if scan.id in seen for mark in probed(scan))
            return (*probes, *targets_on(desk.layout, desk.scans.of(desk.layout), seen))
        if desk.step != "axes" or not self._showing.is_on(PICKS, desk.step):
            return ()
        bench = desk.judging.bench
        if self._axes.bench is not bench:
            self._axes = AxesMarks(bench)
        scans = (scan for scan in desk.layout.scans if scan.id == ground.scan_id)
        return tuple(mark for scan in scans for mark in self._axes.picks(scan, desk.system))

    def _legend(self) -> Legend | None:
        desk, map = self._around.desk, self._around.desk.scans.map
        if map is None or desk.step not in SCAN_STEPS:
            return None
        drawn = self._around.ground.names()
        return legend_of(map, desk.system) if any(n.partition(".")[0] == map.scan_id for n in drawn) else None

    def _spots(self) -> tuple[Word, ...]:
        """What is bridged, wherever the scan is seen; the largest holes on the steps that look at the scan."""
        desk, found = self._around.desk, []
        for piece in self._around.ground.pieces:
            for spot in piece.spots:
                if piece.kind == BRIDGED:
                    found.append(Word(text=stage_words.BRIDGED, at_mm=spot.at_mm, role="unseen"))
                elif desk.step == "scan" and self._showing.is_on(UNSEEN, desk.step):
                    found.append(hole_word(spot, desk.system))
        return tuple(found)

    def _tripod(self) -> Tripod | None:
        desk = self._around.desk
        if desk.step != "axes" or self._around.ground.pose is None:
            return None
        scans = (scan for scan in desk.layout.scans if scan.id == self._around.ground.scan_id)
        return next((tripod(scan) for scan in scans), None)

    def _centre(self) -> tuple[tuple[Path, ...], tuple[Word, ...]]:
        """The centre line and its name, on the step that sets it."""
        around = self._around
        floor = around.ground.floor
        if around.desk.step != "axes" or around.ground.pose is None or floor is None:
            return (), ()
        path = self._axes.centre_line(around.view.scene, floor)
        lines, names = named_lines(around.desk.layout.scan(around.ground.scan_id))
        return (*path, *lines), (*centre_word(path), *names)

    def _rule(self) -> SteelRule | None:
        """A rule lies beside the thing in hand."""
        around, bodies = self._around, self.in_hand_bodies()
        if not bodies or around.thing(around.desk.selection) is None or around.ground.floor is None:
            return None
        return steel_rule(around.view, around.ground.floor.name, bodies, around.desk.system)

    def _driver_marks(self, *, moving: bool) -> DriverMarks:
        """The chain of joints and how far it reaches, on the step that speaks of the driver."""
        around, driver, marks = self._around, self.driver, DriverMarks()
        desk = around.desk
        if driver is None or desk.step != "driver":
            return marks
        scene, state = around.scene(), around.state()
        aimed = self._seen_advice() is not None
        # Where the knob should be says more than the arcs, and has words of its own at the same places.
        if self._showing.is_on(REACH, desk.step) and not aimed:
            marks += reach_marks(scene, state, driver, desk.system, moving=moving)
        if self._showing.is_on(DRIVER, desk.step):
            marks += chain_marks(scene, state, driver)
        return replace(marks, words=()) if aimed else marks

    def _cup_marks(self) -> CupMarks:
        """How a vessel is lifted out and how it leans, on the step that speaks of the cup."""
        around = self._around
        desk = around.desk
        if desk.step != "cup" or not self._showing.is_on(CUP, desk.step):
            return CupMarks()
        return cup_marks(around.scene(), around.state(), desk.selection, desk.system, chosen_in(desk))

    def _knob_marks(self) -> KnobMarks:
        """The sides of where the knob should be, and the place it goes to."""
        return knob_marks(self._seen_advice(), self._around.desk.knob.side, self._around.view.projection())

    def _seen_advice(self) -> KnobAdvice | None:
        desk = self._around.desk
        return seen_advice(desk.knob, desk.step, reach=self._showing.is_on(REACH, desk.step))

    def _sight(self) -> tuple[Path, ...]:
        return (sight_line(self.driver),) if self._shows_driver() and self.driver is not None else ()

    def _driver_ghosts(self) -> tuple[Ghost, ...]:
        if self.driver is None or not self._shows_driver():
            return ()
        return (self._outlines.of(self.driver.outline, "ink2", "solid"),)

    def _shows_driver(self) -> bool:
        """Whether torso and head are there to be outlined."""
        held = self._around.contents.held()
        return self.driver is not None and any(
            held[name].body is self.driver.outline and not self._around.contents.is_hidden(name)
            for name in held
        )

    def _tight_ghosts(self, findings: tuple[Finding, ...]) -> tuple[Ghost, ...]:
        """What the tight spot is about stays as an outline where it is not shown."""
        tight = tight_spot(findings)
        if tight is None or not tight.is_gap:
            return ()
        around = self._around
        bodies = absent_bodies(tight, around.scene(), around.state(), around.contents)
        return tuple(self._outlines.of(body) for body in bodies)
