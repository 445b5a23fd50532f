"""The crop box in hand: a face follows the mouse along its own normal."""

from dataclasses import dataclass, replace

import numpy as np

from floorpan.frames import STILL, Pose
from floorpan_app.tools.events import Modifiers, ToolEvent, Vector
from floorpan_app.tools.lines_and_planes import nearest_along
from floorpan_app.tools.proposal import Proposal
from floorpan_app.tools.snapping import AXES

THINNEST_MM = 10.0
GRIP_PREFIX = "crop:"
_STEPS = {"right": 1.0, "up": 1.0, "left": -1.0, "down": -1.0}
_FINE = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class CropBox:
    """Least and greatest corner [mm] in the box's own frame."""

    least_mm: Vector
    greatest_mm: Vector

    def face_mm(self, face: str) -> float:
        """Where a face, as `x-least`, stands on its axis."""
        axis, end = _parts(face)
        return (self.least_mm, self.greatest_mm)[end][axis]

    def with_face(self, face: str, at_mm: float) -> "CropBox":
        """With one face elsewhere; it stops before it would meet the opposite one."""
        axis, end = _parts(face)
        opposite = (self.greatest_mm, self.least_mm)[end][axis]
        bound = max(at_mm, opposite + THINNEST_MM) if end else min(at_mm, opposite - THINNEST_MM)
        corner = list((self.least_mm, self.greatest_mm)[end])
        corner[axis] = bound
        moved = (corner[0], corner[1], corner[2])
        return replace(self, greatest_mm=moved) if end else replace(self, least_mm=moved)

    def middle_mm(self, face: str) -> Vector:
        """The middle of a face."""
        axis, _ = _parts(face)
        middle = [(low + high) / 2 for low, high in zip(self.least_mm, self.greatest_mm, strict=True)]
        middle[axis] = self.face_mm(face)
        return middle[0], middle[1], middle[2]


class CropBoxTool:
    """Moves faces of a box that stands at a pose in the car.

    Alt is fine, in a drag and on the keys; Shift is ten times on the keys. Arrows move the face last taken:
    right and up towards more, left and down towards less.
    """

    def __init__(self, box: CropBox, pose: Pose = STILL) -> None:
        self._box = box
        self._inward = pose.inverse()
        self._face: str | None = None
        self._start: CropBox | None = None
        self._wished_mm = 0.0
        self._along_mm: float | None = None

    @property
    def box(self) -> CropBox:
        """The box as it stands."""
        return self._box

    @property
    def face(self) -> str | None:
        """The face last taken."""
        return self._face

    def choose(self, face: str) -> None:
        """Take a face for the keys without a mouse."""
        _parts(face)
        self._face = face

    def type_face(self, face: str, at_mm: float) -> Proposal[CropBox]:
        """A number typed for a face."""
        self.choose(face)
        return self._proposed(face, at_mm, done=True)

    def press(self, event: ToolEvent) -> Proposal[CropBox] | None:
        if event.grip is None or not event.grip.startswith(GRIP_PREFIX):
            return None
        self.choose(event.grip.removeprefix(GRIP_PREFIX))
        self._start = self._box
        self._wished_mm = self._box.face_mm(self._taken())
        self._along_mm = self._along(event)
        return None

    def move(self, event: ToolEvent) -> Proposal[CropBox] | None:
        if self._start is None or not event.held:
            return None
        along = self._along(event)
        if along is None:
            return None
        if self._along_mm is not None:
            self._wished_mm += (along - self._along_mm) * (_FINE if event.modifiers.alt else 1.0)
        self._along_mm = along
        return self._proposed(self._taken(), self._wished_mm, done=False)

    def release(self, event: ToolEvent) -> Proposal[CropBox] | None:
        if self._start is None:
            return None
        self.move(event)
        changed = self._box != self._start
        self._start = None
        return Proposal(value=self._box, kind="done") if changed else None

    def key(
        self, name: str, modifiers: Modifiers, right: Vector = (1.0, 0.0, 0.0)
    ) -> Proposal[CropBox] | None:
        if name == "escape" and self._start is not None:
            self._box, self._start = self._start, None
            return Proposal(value=self._box, kind="back")
        if self._face is None or name not in _STEPS:
            return None
        at_mm = self._box.face_mm(self._face) + _STEPS[name] * modifiers.times()
        return self._proposed(self._face, at_mm, done=True)

    def _taken(self) -> str:
        assert self._face is not None
        return self._face

    def _along(self, event: ToolEvent) -> float | None:
        """How far along the face's axis the mouse points, from where the face stood when it was taken."""
        assert self._start is not None
        turn = self._inward.matrix()[:3, :3]
        axis = np.zeros(3)
        axis[_parts(self._taken())[0]] = 1.0
        origin = self._inward.apply(np.asarray(event.sight.origin_mm))
        return nearest_along(
            self._start.middle_mm(self._taken()), axis, origin, turn @ np.asarray(event.sight.direction)
        )

    def _proposed(self, face: str, at_mm: float, *, done: bool) -> Proposal[CropBox]:
        self._box = self._box.with_face(face, at_mm)
        stopped = abs(self._box.face_mm(face) - at_mm) > 1e-9
        reason = f"The box is {THINNEST_MM:g} mm thin. It goes no thinner." if stopped else ""
        return Proposal(value=self._box, kind="done" if done else "preview", reason=reason)


def _parts(face: str) -> tuple[int, int]:
    """Axis 0 to 2 and end 0 or 1 of a face's name."""
    axis, _, end = face.partition("-")
    return AXES.index(axis), ("least", "greatest").index(end)
