"""Drawing parts on the scan by outline or brush, and parts that the scan's shape gives away."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from floorpan import edits
from floorpan.derive import Floor
from floorpan.errors import FloorpanError
from floorpan.layout import Layout
from floorpan.progress import Work
from floorpan.scan.area_proposals import ProposedArea, propose_areas
from floorpan.scan.area_shapes import AreaShape, PrismShape, Stroke, moved
from floorpan.scan.outlines import Outline
from floorpan_app.cards import scan_words
from floorpan_app.cards.blocks import PartTitle, pressed, px, side_by_side, told
from floorpan_app.cards.form import FIELD_WIDTH
from floorpan_app.cards.notice import Notice
from floorpan_app.cards.quiet_combo import QuietCombo
from floorpan_app.cards.segments import Segments
from floorpan_app.cards.spelling import spelling_of
from floorpan_app.cards.tried import tried
from floorpan_app.cards.typed import show_held
from floorpan_app.desk import Desk, LaidPoints
from floorpan_app.jobs import Job
from floorpan_app.widgets.length_field import LengthField, LengthLimits

_OUTLINE, _BRUSH = "outline", "brush"
_LEAST_MM, _MOST_MM = 1.0, 500.0


class DrawPart(QWidget):
    """A part of the Floor card. What is drawn goes to the chosen part, or makes a new one of the kind chosen."""

    def __init__(self, desk: Desk, kind: QuietCombo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._kind = kind
        self._area = ""
        self._job: Job | None = None
        self._proposed: tuple[ProposedArea, ...] = ()
        self.outline = pressed(scan_words.DRAW_OUTLINE, lambda: self._use(_OUTLINE), icon="crop-outline")
        self.brush = pressed(scan_words.PAINT, lambda: self._use(_BRUSH), icon="brush")
        for button in (self.outline, self.brush):
            button.setCheckable(True)
        self.does = Segments(
            (("adds", scan_words.DRAW_ADDS), ("takes", scan_words.DRAW_TAKES)), scan_words.DRAW_DOES
        )
        parse, show = spelling_of("mm", desk.system)
        self.radius = LengthField(parse, show, name=scan_words.BRUSH, faults=(FloorpanError,))
        self.radius.set_limits(LengthLimits(least_mm=_LEAST_MM, most_mm=_MOST_MM, told=scan_words.BRUSH_SPAN))
        self.radius.setFixedWidth(px(FIELD_WIDTH))
        self.radius.valueChosen.connect(self._set_radius)
        self._to = told(second=True)
        self.propose = pressed(scan_words.PROPOSE, self.propose_parts)
        self.notice = Notice()
        self.take = pressed(scan_words.TAKE_PROPOSED, self._take)
        self.leave = pressed(scan_words.LEAVE_PROPOSED, self._leave)
        self.notice.below.addLayout(side_by_side(self.take, self.leave))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(px(8))
        column.addWidget(PartTitle(scan_words.DRAW_PARTS))
        column.addWidget(self._to)
        column.addLayout(side_by_side(self.outline, self.brush))
        column.addWidget(self.does)
        column.addLayout(side_by_side(told(scan_words.BRUSH), self.radius))
        column.addWidget(self.propose)
        column.addWidget(self.notice)
        desk.tool_changed.connect(self._tool_changed)
        desk.outline_changed.connect(self._outlined)
        desk.points_changed.connect(self._painted)
        show_held(self.radius, desk.brush_mm)

    def show_area(self, area_id: str, called: str) -> None:
        """Which part is chosen, empty for none."""
        self._area = area_id
        kind = called or str(self._kind.key())
        self._to.setText((scan_words.DRAWS_ON if area_id else scan_words.DRAWS_NEW).format(kind=kind))
        self.does.setVisible(bool(area_id))
        self.radius.set_units(*spelling_of("mm", self._desk.system))
        show_held(self.radius, self._desk.brush_mm)
        self._tool_changed(self._desk.tool)
        ready = self._floor() is not None
        self.propose.setEnabled(ready and self._job is None)

    def propose_parts(self) -> None:
        """Look what the shape of the scan gives away, in a worker."""
        floor = self._floor()
        if floor is None or self._job is not None:
            return
        mesh = floor.mesh

        def work() -> Work[tuple[ProposedArea, ...]]:
            return (yield from propose_areas(mesh))

        job = self._job = Job(scan_words.PROPOSING, work, self)
        job.succeeded.connect(self._found)
        job.failed.connect(self._desk.judging.failed.emit)
        job.ended.connect(self._ended)
        self._desk.judging.threads.run(job)
        self._desk.judging.working.emit(job)
        self.propose.setEnabled(False)

    def _found(self, proposed: tuple[ProposedArea, ...]) -> None:
        self._proposed = proposed
        if not proposed:
            self.notice.say(scan_words.NOTHING_PROPOSED, "quiet")
        else:
            lines = [f"{area.kind}: {area.why}" for area in proposed]
            self.notice.say("\n".join((scan_words.PROPOSED, *lines)), "next")
        self.take.setVisible(bool(proposed))

    def _ended(self) -> None:
        if self._job is not None:
            self._job.deleteLater()
            self._job = None
        self.propose.setEnabled(self._floor() is not None)

    def _take(self) -> None:
        floor, proposed = self._floor(), self._proposed
        self._leave()
        if floor is None or floor.scan.pose is None:
            return
        scan_id, back = floor.scan.id, floor.scan.pose.inverse()

        def named(layout: Layout) -> Layout:
            for area in proposed:
                shapes = tuple(moved(shape, back) for shape in area.shapes)
                layout = edits.add_area(layout, scan_id, area.kind, shapes=shapes)
            return layout

        tried(self._desk, scan_words.TAKE_PROPOSED_ENTRY, named)

    def _leave(self) -> None:
        self._proposed = ()
        self.notice.say("")

    def _floor(self) -> Floor | None:
        bench, layout = self._desk.judging.bench, self._desk.layout
        return bench.floor(layout) if bench.floors_ready(layout) else None

    def _outlined(self, outline: Outline | None) -> None:
        if outline is None or self._desk.step != "floor":
            return
        shape = PrismShape(frame=outline.frame, corners_mm=outline.corners_mm)
        scans = self._desk.layout.scans
        if scans:
            self._draw(scans[0].id, AreaShape(prism=shape, takes_away=self._takes()))
            self._desk.use_tool("")

    def _painted(self, laid: LaidPoints | None) -> None:
        if laid is None or laid.kind != "stroke" or self._desk.step != "floor":
            return
        stroke = Stroke(at_mm=laid.points_mm, radius_mm=self._desk.brush_mm)
        self._draw(laid.scan_id, AreaShape(stroke=stroke, takes_away=self._takes()))

    def _takes(self) -> bool:
        return bool(self._area) and self.does.key() == "takes"

    def _draw(self, scan_id: str, shape: AreaShape) -> None:
        kind, area_id = str(self._kind.key()), self._area

        def drawn(layout: Layout) -> Layout:
            if area_id:
                return edits.draw_area(layout, scan_id, area_id, shape)
            return edits.add_area(layout, scan_id, kind, shapes=(shape,))

        tried(self._desk, scan_words.DRAW_ENTRY, drawn)

    def _set_radius(self, mm: float) -> None:
        self._desk.brush_mm = mm

    def _use(self, tool: str) -> None:
        self._desk.use_tool("" if self._desk.tool == tool else tool)

    def _tool_changed(self, tool: str) -> None:
        self.outline.setChecked(tool == _OUTLINE)
        self.brush.setChecked(tool == _BRUSH)
