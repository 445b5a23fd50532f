"""The stage: keeps the picture equal to the layout, the findings, the shown state and what is in hand."""

from PySide6.QtCore import QObject

from floorpan.checks import Finding
from floorpan.derive import Scene
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan_app.desk import Desk
from floorpan_app.stage.contents import Contents
from floorpan_app.stage.figures import Looks, figures
from floorpan_app.stage.gap_marks import Question, gap_lines, tight_spot
from floorpan_app.stage.ground import Ground
from floorpan_app.stage.groups import DRIVER, GAPS, SCAN, UNSEEN, Showing
from floorpan_app.stage.outlines import Outlines, absent_bodies, sight_line
from floorpan_app.stage.sides import floor_words, side_words
from floorpan_app.stage.stand_in import StandIn, stand_in
from floorpan_app.stage.turning import distance_to_see, way_to_see
from floorpan_app.stage.verbs import CROP
from floorpan_app.standing import standing
from floorpan_app.theme.in_use import theme_in_use
from floorpan_app.viewport.marks import Ghost, Marks, Path
from floorpan_app.viewport.view import Viewport
from floorpan_app.viewport.views import SEEN_FROM
from floorpan_app.widgets.words import Word


class Stage(QObject):
    """One viewport's content, for one desk."""

    def __init__(self, viewport: Viewport, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent if parent is not None else viewport)
        self._view = viewport
        self._desk = desk
        self._showing = Showing()
        self._into_console = False
        self._pointed = ""
        self._layout: Layout | None = None
        self._driver: StandIn | None = None
        self._contents = Contents(viewport.scene)
        self._outlines = Outlines()
        self.ground = Ground(viewport.scene, desk.judging, self)
        self._connect()
        self._all()

    def _connect(self) -> None:
        desk = self._desk
        desk.document.layout_changed.connect(self._layout_changed)
        desk.judging.findings_changed.connect(self._findings_changed)
        desk.state_changed.connect(self._all)
        desk.step_changed.connect(self._all)
        desk.system_changed.connect(self._write)
        desk.tool_changed.connect(self._all)
        desk.selection_changed.connect(self._selected)
        desk.finding_chosen.connect(self._write)
        desk.finding_pointed.connect(self._point)
        self.ground.drawn.connect(self._drawn)

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

    def see_through(self, on: bool) -> None:
        """Look into the console, or at it again."""
        if on != self._into_console:
            self._into_console = on
            self._stand()

    def stop(self) -> None:
        """Make nothing more, before the picture goes."""
        self.ground.stop()

    # What is there, for the hands on it.

    @property
    def state(self) -> State:
        """Every axis at the stop it is shown at."""
        return standing(self._desk.layout, self._desk.state)

    def scene(self) -> Scene:
        """The scene of what is shown; its floor is missing while that is not ready."""
        bench, layout = self._desk.judging.bench, self._desk.layout
        if bench.floor_ready(layout):
            return bench.scene(layout)
        return Scene(layout=layout, floor=None, memory=bench.memory)

    # Keeping up.

    def _layout_changed(self, before: Layout, after: Layout) -> None:
        if before.driver_side != after.driver_side:
            self._sides()
        self._all()

    def _findings_changed(self, _found: object) -> None:
        # While a change is being told, the layout itself follows at once.
        if self._layout is self._desk.layout:
            self._write()

    def _selected(self, _id: str) -> None:
        self._view.set_in_hand(self._contents.names_of(self._desk.selection))
        self._write()

    def _point(self, id: str) -> None:
        self._pointed = id
        self._write()

    def _all(self, _what: object = None) -> None:
        """Scans, then what stands on them, then what is written."""
        self._layout = self._desk.layout
        desk = self._desk
        bare = self._showing.is_bare(desk.step)
        self.ground.follow(desk.layout, bare=bare, cropping=desk.tool == CROP)
        self._stand()
        self._hide_scans()
        self._view.set_in_hand(self._contents.names_of(self._desk.selection))
        self._write()

    def _stand(self) -> None:
        scene, state, step = self.scene(), self.state, self._desk.step
        looks = Looks(theme_in_use().things, step, self._into_console)
        self._driver = stand_in(scene, state)
        self._contents.show(
            figures(scene, state, self._driver, looks), lambda group: self._showing.is_on(group, step)
        )

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
        scene, floor = self._view.scene, self.ground.floor_name
        for name in _WORD_NAMES:
            scene.remove(name)
        if not floor or self.ground.pose is None:
            return
        mesh = self.ground.pieces[0].mesh
        found = floor_words(scene, floor, mesh, self._desk.layout.driver_side, self._contents.rooms())
        for name, word in zip(_WORD_NAMES, found, strict=False):
            scene.show_lettering(name, word, floor)

    # Writing.

    def _write(self, _what: object = None) -> None:
        self._view.overlay.set_marks(self._marks())

    def _marks(self) -> Marks:
        desk = self._desk
        if self.ground.pose is None:
            return Marks()
        findings = desk.judging.findings
        self._outlines.begin()
        return Marks(
            gaps=gap_lines(findings, self._question()),
            ghosts=(*self._driver_ghosts(), *self._tight_ghosts(findings)),
            paths=self._sight(),
            lit=frozenset({desk.finding, self._pointed} - {""}),
        )

    def _driver_ghosts(self) -> tuple[Ghost, ...]:
        if self._driver is None or not self._showing.is_on(DRIVER, self._desk.step):
            return ()
        return (self._outlines.of(self._driver.outline, "ink2", "solid"),)

    def _sight(self) -> tuple[Path, ...]:
        if self._driver is None or not self._showing.is_on(DRIVER, self._desk.step):
            return ()
        return (sight_line(self._driver),)

    def _tight_ghosts(self, findings: tuple[Finding, ...]) -> tuple[Ghost, ...]:
        """What the tight spot is about stays as an outline where it is not shown."""
        tight = tight_spot(findings)
        if tight is None or not tight.is_gap:
            return ()
        bodies = absent_bodies(tight, self.scene(), self.state, self._contents)
        return tuple(self._outlines.of(body) for body in bodies)

    def _question(self) -> Question:
        desk = self._desk
        return Question(
            layout=desk.layout,
            system=desk.system,
            stops=dict(self.state),
            in_hand=frozenset({desk.selection} - {""}),
            dragged=desk.document.previewing,
            chosen=desk.finding,
            alone=desk.step in ("scan", "axes") or not self._showing.is_on(GAPS, desk.step),
        )


_WORD_NAMES = ("word.driver", "word.front")
