"""The transparent sheet over the picture: everything that is written, painted again whenever the eye moves."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRectF, Qt, QTimer
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent
from PySide6.QtWidgets import QWidget

from floorpan_app.theme.record import Theme
from floorpan_app.viewport.crop_painting import GRAB_PX, grip_places, paint_crop_box
from floorpan_app.viewport.dimension_painting import paint_dimension, paint_tether
from floorpan_app.viewport.gap_painting import SeenGap, paint_gap, seen_gap
from floorpan_app.viewport.joint_painting import joint_rooms, paint_joint
from floorpan_app.viewport.legend_painting import paint_legend
from floorpan_app.viewport.mark_painting import (
    ghost_outline,
    paint_ghost,
    paint_path,
    paint_pick,
    paint_tripod,
)
from floorpan_app.viewport.marks import GapLine, Ghost, Marks, SideWords
from floorpan_app.viewport.projection import Projection
from floorpan_app.viewport.rooms import Rooms
from floorpan_app.viewport.scale_painting import (
    Insets,
    edge_words,
    paint_edge_words,
    paint_scale_bar,
    paint_steel_rule,
    scale_room,
)
from floorpan_app.viewport.strokes import pen
from floorpan_app.viewport.ticket_painting import Sheet, drawn_boxes, lay_tickets, paint_tickets
from floorpan_app.viewport.ticket_places import Box, Tail
from floorpan_app.viewport.word_painting import paint_words
from floorpan_app.widgets.ticket import WORSE_MS, on_offer

Floats = NDArray[np.float64]

_WORST_FIRST = ("hits", "short", "unseen", "close", "pending", "clear")


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """Something on the sheet that can be taken or clicked; `offer` where a ticket's offer is."""

    kind: Literal["grip", "ticket"]
    id: str
    offer: bool = False


class Overlay(QWidget):
    """Paints marks over the view. The mouse passes through; the viewport asks `target` what is under it."""

    def __init__(self, parent: QWidget, theme: Theme, covered: Callable[[Floats], NDArray[np.bool_]]) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setAttribute(Qt.WidgetAttribute.WA_NoSystemBackground)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._theme = theme
        self._covered = covered
        self._projection: Projection | None = None
        self._fixed = False
        self._marks = Marks()
        self._sides: SideWords | None = None
        self._insets = Insets()
        self._lengths: tuple[tuple[float, ...], Callable[[float], str]] = (_ROUND_MM, _in_mm)
        self._tails: dict[str, Tail] = {}
        self._gaps: list[SeenGap] = []
        self._sheets: list[Sheet] = []
        self._ghost_outlines: dict[Ghost, QPainterPath] = {}
        self._ghosts_seen: Projection | None = None
        self._verdicts: dict[str, str] = {}
        self._doubled: frozenset[str] = frozenset()
        self._focused = False
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(WORSE_MS)
        self._settle.timeout.connect(self._back_to_plain)

    def set_marks(self, marks: Marks) -> None:
        """Write these marks instead of the last ones. A verdict that got worse doubles its ticket's border, once."""
        self._marks = marks
        worse = {gap.id for gap in marks.gaps if self._got_worse(gap)}
        self._verdicts = {gap.id: gap.verdict for gap in marks.gaps if not gap.stale} | {
            gap.id: self._verdicts.get(gap.id, gap.verdict) for gap in marks.gaps if gap.stale
        }
        if worse:
            self._doubled = self._doubled | worse
            self._settle.start()
        self._again()

    def marks(self) -> Marks:
        """What is written."""
        return self._marks

    def set_sides(self, words: SideWords | None) -> None:
        """What the directions are called at the edges of fixed views; None writes nothing."""
        self._sides = words
        self.update()

    @property
    def insets(self) -> Insets:
        """How much of the top and bottom edge other pieces cover."""
        return self._insets

    def set_insets(self, insets: Insets) -> None:
        """How much of the top and bottom edge other pieces cover."""
        self._insets = insets
        self._again()

    def set_lengths(self, round_mm: tuple[float, ...], text_of: Callable[[float], str]) -> None:
        """Which lengths [mm] the scale bar may have, and how they are written."""
        self._lengths = (round_mm, text_of)
        self.update()

    def set_theme(self, theme: Theme) -> None:
        self._theme = theme
        self.update()

    def set_focused(self, focused: bool) -> None:
        """Whether the viewport has the keys, shown by a ring inside its border."""
        self._focused = focused
        self.update()

    def project(self, projection: Projection, *, fixed: bool) -> None:
        """The eye moved."""
        self._projection = projection
        self._fixed = fixed
        self._again()

    def target(self, x: float, y: float) -> Target | None:
        """The grip or ticket at a pixel. Grips are grabbed within 24 pixels, the nearest first."""
        crop = self._marks.crop_box
        if crop is not None and self._projection is not None:
            near = [
                (max(abs(place[0] - x), abs(place[1] - y)), face)
                for face, place in grip_places(crop, self._projection).items()
            ]
            away, face = min(near, default=(GRAB_PX, ""))
            if away <= GRAB_PX / 2:
                return Target(kind="grip", id=f"crop:{face}")
        for sheet in self._sheets:
            if sheet.room().contains(x, y):
                offer = sheet.box is not None and on_offer(sheet.gap.ticket(), sheet.box, x)
                return Target(kind="ticket", id=sheet.gap.id, offer=offer)
        return None

    def ticket_rooms(self) -> dict[str, QRectF]:
        """Where each ticket, or the shape left of it, stands in the picture."""
        return {sheet.gap.id: sheet.room() for sheet in self._sheets}

    def stop(self) -> None:
        """Let nothing run on."""
        self._settle.stop()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        self.paint(painter)

    def paint(self, painter: QPainter) -> None:
        """Write everything with a painter, as large as the sheet."""
        projection, theme, marks = self._projection, self._theme, self._marks
        if projection is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for ghost, outline in zip(marks.ghosts, self._outlines(projection), strict=True):
            paint_ghost(painter, ghost, outline, theme)
        for path in marks.paths:
            paint_path(painter, path, projection, theme)
        if marks.rule is not None and not self._fixed:
            paint_steel_rule(painter, marks.rule, projection, theme)
        if marks.tether is not None:
            paint_tether(painter, marks.tether, projection, theme)
        self._paint_words(painter, projection)
        # The worst lies on top.
        for seen in reversed(self._gaps):
            paint_gap(painter, seen, theme)
        paint_tickets(painter, self._sheets, theme, lit=marks.lit, doubled=self._doubled)
        if self._fixed:
            if self._sides is not None:
                paint_edge_words(painter, self._sides, projection, theme, self._insets)
            paint_scale_bar(painter, projection, theme, self._insets, *self._lengths)
        if marks.legend is not None:
            paint_legend(painter, marks.legend, theme, self.height(), self._insets)
        if self._focused:
            painter.setPen(pen(theme.accent, 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _paint_words(self, painter: QPainter, projection: Projection) -> None:
        """What carries a word and must not cover another."""
        theme, marks = self._theme, self._marks
        free = QRectF(self.rect()).adjusted(0.0, self._insets.top, 0.0, -self._insets.bottom)
        rooms = Rooms(free, self._taken(projection))
        for joint in marks.joints:
            if joint.small:
                paint_joint(painter, joint, projection, theme)
        paint_words(painter, marks.words, projection, theme, rooms)
        for joint in marks.joints:
            if not joint.small:
                paint_joint(painter, joint, projection, theme)
        if marks.crop_box is not None:
            paint_crop_box(painter, marks.crop_box, projection, theme, self._covered, rooms)
        for dimension in marks.dimensions:
            paint_dimension(painter, dimension, projection, theme, rooms)
        if marks.tripod is not None:
            paint_tripod(painter, marks.tripod, projection, theme, rooms)
        for pick in marks.picks:
            paint_pick(painter, pick, projection, theme, rooms)

    def _taken(self, projection: Projection) -> list[QRectF]:
        """What no word covers: tickets, gaps, joints, and in fixed views what lies at the edges."""
        taken = [sheet.room() for sheet in self._sheets]
        taken += [
            QRectF(box.left, box.top, box.width, box.height) for gap in self._gaps for box in drawn_boxes(gap)
        ]
        taken += joint_rooms(self._marks.joints, projection)
        if self._fixed:
            taken.append(scale_room(projection, self._insets, *self._lengths))
            if self._sides is not None:
                taken += [box for _, box in edge_words(self._sides, projection, self._insets)]
        return taken

    def _outlines(self, projection: Projection) -> list[QPainterPath]:
        """Outlines of the ghosts; each stays as it is for as long as the eye does."""
        known = self._ghost_outlines if self._ghosts_seen == projection else {}
        self._ghosts_seen = projection
        self._ghost_outlines = {
            ghost: known[ghost] if ghost in known else ghost_outline(ghost, projection)
            for ghost in self._marks.ghosts
        }
        return [self._ghost_outlines[ghost] for ghost in self._marks.ghosts]

    def _again(self) -> None:
        """Lay the tickets out again and paint."""
        if self._projection is not None:
            insets = self._insets
            room = self._projection.height - insets.top - insets.bottom
            picture = Box(4.0, insets.top + 4.0, self._projection.width - 8.0, room - 8.0)
            seen = [seen_gap(gap, self._projection) for gap in self._marks.gaps]
            self._gaps = [gap for gap in seen if gap is not None]
            tether = self._marks.tether
            taken = [Box(*tether.room_px)] if tether is not None else []
            taken += [
                Box(room.left(), room.top(), room.width(), room.height())
                for room in joint_rooms(self._marks.joints, self._projection)
            ]
            self._sheets = lay_tickets(self._gaps, picture, self._tails, taken)
            self._tails = {sheet.gap.id: sheet.tail for sheet in self._sheets if sheet.tail is not None}
        self.update()

    def _got_worse(self, gap: GapLine) -> bool:
        before = self._verdicts.get(gap.id)
        return (
            before is not None
            and not gap.stale
            and _WORST_FIRST.index(gap.verdict) < _WORST_FIRST.index(before)
        )

    def _back_to_plain(self) -> None:
        self._doubled = frozenset()
        self.update()


_ROUND_MM = (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0)


def _in_mm(length_mm: float) -> str:
    return f"{length_mm:g} mm"
