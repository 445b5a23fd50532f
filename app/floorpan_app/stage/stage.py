"""The stage: keeps the picture equal to the layout, the findings, the shown state and what is in hand."""

import itertools
from typing import Final

import numpy as np
from PySide6.QtCore import QObject

from floorpan.checks import Finding
from floorpan.derive import Scene
from floorpan.geometry.solids import Body
from floorpan.items import Shifter
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.report.naming import place_text
from floorpan.units import mm_per, show_length
from floorpan_app.desk import Desk
from floorpan_app.person_in_hand import person_in_hand
from floorpan_app.stage.contents import Contents
from floorpan_app.stage.figures import Looks, figures
from floorpan_app.stage.gap_marks import tight_spot
from floorpan_app.stage.ground import Ground
from floorpan_app.stage.groups import REACH, SCAN, SCAN_STEPS, UNSEEN, Showing
from floorpan_app.stage.hands import Around, Holding
from floorpan_app.stage.keys import Deeds, ViewKeys
from floorpan_app.stage.knob_region import KnobBody, seen_advice
from floorpan_app.stage.on_its_way import on_its_way
from floorpan_app.stage.sides import floor_words, side_words
from floorpan_app.stage.stand_in import stand_in
from floorpan_app.stage.states import agrees
from floorpan_app.stage.tag import Tag
from floorpan_app.stage.turning import distance_to_see, way_to_see
from floorpan_app.stage.verbs import BRUSH, CROP, DRAG, LOCK, MIRROR, OUTLINE, PROBE, placed_in
from floorpan_app.stage.writing import Writing
from floorpan_app.standing import standing
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.viewport.view import Viewport
from floorpan_app.viewport.views import SEEN_FROM
from floorpan_app.well_mates import chosen_in
from floorpan_app.widgets.part_tag import TagText
from floorpan_app.widgets.words import Word

_WORD_NAMES: Final = ("word.driver", "word.front")
_ROUND_MM: Final = (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0)
_ROUND_IN: Final = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 12.0, 24.0, 48.0)


class Stage(QObject):
    """One viewport's content, and the hand in it, for one desk."""

    def __init__(self, viewport: Viewport, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent if parent is not None else viewport)
        self._view = viewport
        self._desk = desk
        self._showing = Showing()
        self._into_console = False
        self._layout: Layout | None = None
        self._has_meshes = True
        self._stops: dict[str, str] = {}
        self._contents = Contents(viewport.scene)
        self._knob = KnobBody(viewport.scene)
        self.ground = Ground(viewport.scene, desk.judging, self)
        around = Around(
            desk=desk,
            view=viewport,
            ground=self.ground,
            contents=self._contents,
            scene=self.scene,
            state=lambda: self.state,
            rewrite=self._write,
        )
        self.holding = Holding(around, self)
        self.tag = Tag(viewport, self)
        self._writing = Writing(around, self._showing)
        self.keys = ViewKeys(viewport, self.holding, self._deeds(), self)
        self._connect()
        self._lengths(desk.system)
        self._all()

    def _connect(self) -> None:
        desk = self._desk
        desk.document.layout_changed.connect(self._layout_changed)
        desk.judging.looked_at = self._is_looked_at
        desk.judging.findings_changed.connect(self._findings_changed)
        desk.state_changed.connect(self._all)
        desk.person_changed.connect(self._all)
        desk.step_changed.connect(self._all)
        desk.system_changed.connect(self._lengths)
        desk.tool_changed.connect(self._other_tool)
        desk.selection_changed.connect(self._all)
        desk.scans.changed.connect(self._all)
        desk.knob.changed.connect(self._all)
        desk.finding_chosen.connect(self._finding_chosen)
        desk.finding_pointed.connect(self._point)
        self.ground.drawn.connect(self._drawn)
        self.ground.told.connect(desk.hinted)
        self.tag.verb_chosen.connect(self._verb)
        self._view.camera_changed.connect(self._eye_moved)
        self._view.offer_clicked.connect(self._probe)

    def _deeds(self) -> Deeds:
        return Deeds(
            see_from=self.see_from,
            put_in_gear=self.put_in_gear,
            use_tool=self._desk.use_tool,
            place=self._place,
            see_tight_spot=self.see_tight_spot,
            see_through=self.see_through,
        )

    # What the window asks for.

    def showing(self) -> tuple[Word, ...]:
        """What can be shown or hidden in the step in hand."""
        return self._showing.words(self._desk.step, self._desk.layout)

    def show(self, word: str, on: bool) -> None:
        """Show or hide it."""
        self._showing.show(word, on)
        self._all()

    def see_from(self, word: str) -> None:
        """Look from one of the words under *Seen from*."""
        self._view.camera.see_from(next((seen for seen in SEEN_FROM if seen == word), "free"))

    def turn_to(self, finding: Finding) -> None:
        """Turn the view to a finding's place, so that the place is seen."""
        if finding.at_mm is None:
            return
        a, b = finding.at_mm if finding.is_gap else (finding.at_mm[1], finding.at_mm[1])
        eye = self._view.camera.eye
        x, y, z = ((one + other) / 2 for one, other in zip(a, b, strict=True))
        way = way_to_see(self._view.scene, eye, a, b)
        self._view.turn_to((x, y, z), way, distance_to_see(eye, a, b))

    def see_tight_spot(self) -> None:
        """Turn the view to the worst finding."""
        tight = tight_spot(self._desk.judging.findings)
        if tight is not None:
            self.turn_to(tight)

    def see_through(self, on: bool) -> None:
        """Look into the console, or at it again."""
        if on != self._into_console:
            self._into_console = on
            self._stand()

    def put_in_gear(self, gear: str) -> None:
        """Put the lever there: that of the shifter in hand, else of the first one."""
        shifters = self._desk.layout.of(Shifter)
        held = [shifter for shifter in shifters if shifter.id == self._desk.selection] or list(shifters)
        if held:
            axis = f"{held[0].id}.gear"
            if dict(standing(self._desk.layout, ((axis, gear),)))[axis] == gear:
                self._desk.show_stops({axis: gear})

    def stop(self) -> None:
        """Make nothing more, before the picture goes."""
        self.ground.stop()

    @property
    def state(self) -> State:
        """Every axis at the stop it is shown at."""
        return standing(self._desk.layout, self._desk.state)

    def scene(self) -> Scene:
        """The scene of what is shown; its floor is missing while that is not ready."""
        bench, layout = self._desk.judging.bench, self._desk.layout
        if bench.floors_ready(layout):
            return bench.scene(layout)
        return Scene(layout=layout, floors=(), memory=bench.memory)

    # Keeping up.

    def _probe(self, finding: str) -> None:
        """Take the probe in hand for a place that nobody scanned."""
        desk = self._desk
        desk.choose_finding(finding)
        desk.go_to("scan")
        desk.use_tool(PROBE)

    def _layout_changed(self, before: Layout, after: Layout) -> None:
        if before.driver_side != after.driver_side:
            self._sides()
        self._all()

    def _findings_changed(self, _found: object) -> None:
        # While a change is being told, the layout itself follows at once.
        if self._layout is self._desk.layout:
            # A part from a mesh file stood there as its box until its mesh was made ready.
            (self._write if self._has_meshes or not self._meshes_ready() else self._all)()

    def _finding_chosen(self, _id: str) -> None:
        # Another vessel may stand in its well then.
        self._stand()
        self._write()

    def _is_looked_at(self, state: State) -> bool:
        """Whether a state is the shown one; asked while a change is being told."""
        return agrees(state, self._stops)

    def _other_tool(self, tool: str) -> None:
        self._desk.lay_outline(None)
        self._desk.lay_points(None)
        self._view.set_drawing(tool in (OUTLINE, BRUSH))
        if tool == OUTLINE:
            self._view.camera.see_parallel()
        self._all()
        if tool == CROP:
            self._see_grips()

    def _see_grips(self) -> None:
        """The whole crop box, where nobody has turned the view to something else."""
        box, camera = self.holding.drawn().crop_box, self._view.camera
        if box is not None and camera.as_told:
            ends = zip(box.least_mm, box.greatest_mm, strict=True)
            camera.see_all(box.pose.apply(np.array(list(itertools.product(*ends)))))

    def _point(self, id: str) -> None:
        self._writing.pointed = id
        self._write()

    def _eye_moved(self) -> None:
        self.tag.loosen()
        self._write()

    def _verb(self, verb: str) -> None:
        """A verb on the tag: at once, or a tool in hand; the one in hand is put away."""
        if verb in (MIRROR, LOCK):
            self.holding.do_at_once(verb)
        else:
            self._desk.use_tool("" if verb in (DRAG, self._desk.tool) else verb)
        self._view.setFocus()

    def _place(self) -> None:
        tool = placed_in(self._desk.step)
        if tool:
            self._desk.use_tool(tool)

    def _lengths(self, system: str) -> None:
        """Round lengths of the scale bar in the shown unit."""
        if system == "in":
            self._view.overlay.set_lengths(
                tuple(length * mm_per("in") for length in _ROUND_IN),
                lambda mm: show_length(mm, "in", with_unit=True),
            )
        else:
            self._view.overlay.set_lengths(_ROUND_MM, lambda mm: show_length(mm, with_unit=True))
        self._write()

    def _all(self, _what: object = None) -> None:
        """Scans, then what stands on them, then what is written."""
        desk = self._desk
        self._layout = desk.layout
        self._has_meshes = self._meshes_ready()
        on_scan = desk.step in SCAN_STEPS
        self.ground.lay_map(desk.scans.map if on_scan else None)
        self.ground.lay_sheet(desk.scans.sheet if desk.step == "floor" else None)
        self.ground.follow(
            desk.layout,
            bare=self._showing.is_bare(desk.step),
            cropping=desk.tool == CROP,
            only=desk.scans.only(desk.layout) if on_scan else "",
        )
        self._stand()
        self._hide_scans()
        self._view.set_in_hand(self._in_hand(), self._contents.see_through())
        self._write()

    def _meshes_ready(self) -> bool:
        return self._desk.judging.bench.meshes.is_ready(self._desk.layout)

    def _in_hand(self) -> frozenset[str]:
        """The names a drag moves: of what is selected, while the tool in hand moves anything."""
        return self._contents.names_of(self._desk.selection) if self._moves() else frozenset()

    def _moves(self) -> bool:
        return self._desk.tool in ("", "drag", "turn")

    def _stand(self) -> None:
        scene, state, step = self.scene(), self.state, self._desk.step
        self._stops = dict(state)
        looks = Looks(theme_in_use().things, step, self._into_console)
        driver = self._writing.driver = stand_in(scene, state, person_in_hand(self._desk, scene.layout))
        self._contents.show(
            figures(scene, state, driver, looks, chosen_in(self._desk), self._on_its_way(scene)),
            lambda group: self._showing.is_on(group, step),
        )
        self._knob.follow(seen_advice(self._desk.knob, step, reach=self._showing.is_on(REACH, step)))

    def _on_its_way(self, scene: Scene) -> dict[str, Body]:
        """What is drawn on its way out of its well, for the chosen finding."""
        desk = self._desk
        chosen = next((one for one in desk.judging.findings if one.id == desk.finding), None)
        return on_its_way(scene, self.state, chosen)

    def _hide_scans(self) -> None:
        step, scene = self._desk.step, self._view.scene
        for group, kind in ((SCAN, "mesh"), (UNSEEN, "unseen"), (SCAN, "outside")):
            for name in self.ground.names(kind):
                scene.set_shown(name, self._showing.is_on(group, step))

    def _drawn(self, first: bool) -> None:
        """Other pieces of the scan are there."""
        self._hide_scans()
        if first:
            self._sides()
            camera = self._view.camera
            if camera.as_told:
                camera.see_from(camera.seen_from)
        self._lay_words()
        self._write()

    def _sides(self) -> None:
        side, posed = self._desk.layout.driver_side, self.ground.pose is not None
        self._view.overlay.set_sides(side_words(side, in_car_axes=posed))
        self._view.camera.set_driver_side(side)

    def _lay_words(self) -> None:
        """The words that lie on the floor; none while it has no sides."""
        scene, floor = self._view.scene, self.ground.floor
        for name in _WORD_NAMES:
            scene.remove(name)
        if floor is None or floor.heights is None or self.ground.pose is None:
            return
        side = self._desk.layout.driver_side
        found = floor_words(floor.heights, floor.mesh, side, self._contents.rooms())
        for name, word in zip(_WORD_NAMES, found, strict=False):
            scene.show_lettering(name, word, floor.name)

    # Writing.

    def _write(self, _what: object = None) -> None:
        drawn = self.holding.drawn()
        self._hang_tag(drawn.told)
        self._view.overlay.set_marks(self._writing.marks(drawn, self.tag.tether()))

    def _hang_tag(self, told: str) -> None:
        """The tag of the thing in hand: its name, where it stands, what can be done to it."""
        desk = self._desk
        bodies = self._writing.in_hand_bodies()
        thing = next((thing for thing in desk.layout.things() if thing.id == desk.selection), None)
        if thing is None or not bodies:
            self.tag.hide()
            return
        thing = self.scene().placed(thing.id)
        at = (thing.place.x_mm, thing.place.y_mm, thing.place.z_mm)
        place = told or place_text(at, desk.layout, desk.system)
        text = TagText(name=thing.name, place=place, locked=thing.locked)
        self.tag.show(thing.id, text, desk.tool or DRAG, bodies)
