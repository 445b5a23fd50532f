"""The hand on the crop box: a grip on each face, the cut drawn on the scan as it moves, one edit when it is let go."""

import itertools
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from floorpan import edits
from floorpan.frames import STILL, Pose, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Box, Layout, ScanRef
from floorpan.units import show_length
from floorpan_app.stage import words
from floorpan_app.stage.hands.hand import NOTHING_DRAWN, Around, Drawn
from floorpan_app.stage.sides import side_words
from floorpan_app.tools.crop_box import CropBox, CropBoxTool
from floorpan_app.tools.events import Modifiers, ToolEvent
from floorpan_app.tools.proposal import Proposal
from floorpan_app.viewport.marks import FACES, CropBoxMark, Face, Path
from floorpan_app.viewport.surfaces import isolines

Floats = NDArray[np.float64]

_ROOM_MM: Final = 10.0


class CroppingHand:
    """Crops the scan in the picture by a box along the car's axes, or along the scan's own while it has none."""

    def __init__(self, around: Around) -> None:
        self._around = around
        self._tool: CropBoxTool | None = None
        self._of: ScanRef | None = None
        self._mesh: Mesh | None = None
        self._cuts: dict[str, tuple[float, Floats]] = {}
        self._proposed = False
        self._held = False

    def press(self, event: ToolEvent) -> None:
        tool = self._ready()
        self._held = event.grip is not None
        if tool is not None:
            tool.press(event)
            self._around.rewrite()

    def move(self, event: ToolEvent) -> None:
        if self._tool is not None and event.held:
            self._take(self._tool.move(event))

    def release(self, event: ToolEvent) -> None:
        self._held = False
        if self._tool is None:
            return
        proposal = self._tool.release(event)
        self._take(proposal)
        if proposal is not None:
            self._keep()

    def key(self, name: str, modifiers: Modifiers) -> bool:
        if self._tool is None or name == "escape":
            return False
        proposal = self._tool.key(name, modifiers)
        self._proposed = self._proposed or proposal is not None
        self._take(proposal)
        return proposal is not None

    def settle(self) -> None:
        if self._proposed:
            self._keep()

    def put_back(self) -> bool:
        if self._tool is None or not (self._held or self._proposed):
            return False
        self._of, self._held, self._proposed = None, False, False
        self._ready()
        self._around.rewrite()
        return True

    def drawn(self) -> Drawn:
        tool, scan = self._ready(), self._of
        if tool is None or scan is None:
            return NOTHING_DRAWN
        box, pose = tool.box, _to_picture(scan)
        face: Face | None = next((name for name in FACES if name == tool.face), None)
        mark = CropBoxMark(
            least_mm=box.least_mm,
            greatest_mm=box.greatest_mm,
            words=self._words(box),
            pose=pose,
            lit=face if self._held or self._proposed else None,
        )
        return Drawn(crop_box=mark, paths=self._cut_lines(box, scan))

    def hint(self) -> str:
        return words.CROP_HINT

    def _scan(self) -> ScanRef | None:
        """The scan in the picture."""
        id = self._around.ground.scan_id
        return next((scan for scan in self._around.desk.layout.scans if scan.id == id), None)

    def _ready(self) -> CropBoxTool | None:
        """The box of the scan in the picture as it is now; None while the scan is being made ready."""
        scan, bench = self._scan(), self._around.desk.judging.bench
        if scan is None or not bench.is_prepared(scan):
            return None
        of = self._of
        same = of is not None and (of.sha256, of.unit, of.cleaned, of.pose, of.crop) == (
            scan.sha256,
            scan.unit,
            scan.cleaned,
            scan.pose,
            scan.crop,
        )
        if self._tool is None or not same:
            prepared = bench.prepared(scan)
            self._mesh = prepared.mesh
            self._tool = CropBoxTool(box_of(scan, self._mesh), _to_picture(scan))
            self._of, self._cuts = scan, {}
        return self._tool

    def _take(self, proposal: Proposal[CropBox] | None) -> None:
        if proposal is None:
            return
        if proposal.reason:
            self._around.say(proposal.reason)
        self._around.rewrite()

    def _keep(self) -> None:
        tool, scan = self._tool, self._of
        self._proposed = False
        if tool is None or scan is None:
            return
        id, box = scan.id, tool.box
        crop = Box(frame=_frame(scan), least_mm=box.least_mm, greatest_mm=box.greatest_mm)

        def cropped(layout: Layout) -> Layout:
            return edits.crop(layout, id, crop)

        # Told before the change is, so that the face stays in hand for the keys.
        self._of = replace(scan, crop=crop)
        if not self._around.desk.change(words.CROPPED, cropped):
            self._of = None

    def _words(self, box: CropBox) -> tuple[str, str, str, str, str, str]:
        """How far out of the origin each face stands, by what it is called."""
        desk = self._around.desk
        sides = side_words(desk.layout.driver_side, in_car_axes=self._around.ground.pose is not None)
        names = (sides.front, sides.rear, sides.left, sides.right, sides.down, sides.up)
        told = []
        for number, (face, name) in enumerate(zip(FACES, names, strict=True)):
            outward = box.face_mm(face) * (1.0 if number % 2 else -1.0)
            told.append(words.CROP_WORD.format(face=name, n=show_length(outward, desk.system, digits=0)))
        front, rear, left, right, down, up = told
        return front, rear, left, right, down, up

    def _cut_lines(self, box: CropBox, scan: ScanRef) -> tuple[Path, ...]:
        """Where the faces of the box cut the scan, in the picture's axes."""
        if self._mesh is None:
            return ()
        frame = _frame(scan)
        lines = [self._cut(box, face, frame) for face in FACES]
        whole = np.concatenate(lines)
        if not len(whole):
            return ()
        moved = (scan.pose or STILL).apply(frame.apply(whole.reshape(-1, 3))).reshape(-1, 2, 3)
        return (Path(points_mm=moved, role="accent", width_px=2.0),)

    def _cut(self, box: CropBox, face: Face, frame: Pose) -> Floats:
        """Pieces (K, 2, 3) in the box's own coordinates along which a face cuts the scan, within the other faces."""
        axis = FACES.index(face) // 2
        at = box.face_mm(face)
        known = self._cuts.get(face)
        if known is None or known[0] != at:
            assert self._mesh is not None
            turn = frame.matrix()[:3, axis]
            values = (self._mesh.points - np.asarray(frame.shift_mm)) @ turn - at
            pieces = isolines(self._mesh, values, (0.0,))
            inner = frame.inverse().apply(pieces.reshape(-1, 3)).reshape(-1, 2, 3)
            known = self._cuts[face] = (at, inner)
        middles = known[1].mean(axis=1)
        keep = np.ones(len(middles), dtype=bool)
        for other in range(3):
            if other != axis:
                keep &= (middles[:, other] >= box.least_mm[other]) & (
                    middles[:, other] <= box.greatest_mm[other]
                )
        return known[1][keep]


def box_of(scan: ScanRef, mesh: Mesh) -> CropBox:
    """The crop of a scan in the frame it is shown in; the whole scan where it has none.

    A crop that was set along other axes becomes the box along these that just holds it.
    """
    frame = _frame(scan)
    if scan.crop is None:
        points, room = mesh.points, _ROOM_MM
    elif scan.crop.frame == frame:
        return CropBox(least_mm=scan.crop.least_mm, greatest_mm=scan.crop.greatest_mm)
    else:
        ends = zip(scan.crop.least_mm, scan.crop.greatest_mm, strict=True)
        points, room = scan.crop.frame.apply(np.array(list(itertools.product(*ends)))), 0.0
    inner = frame.inverse().apply(points)
    least, greatest = inner.min(axis=0) - room, inner.max(axis=0) + room
    return CropBox(least_mm=_vector(least), greatest_mm=_vector(greatest))


def _frame(scan: ScanRef) -> Pose:
    """From the box's coordinates into the scan's own: the box lies along the car's axes once there are any."""
    return STILL if scan.pose is None else scan.pose.inverse()


def _to_picture(scan: ScanRef) -> Pose:
    """From the box's coordinates into the picture's: the same, either way."""
    return (scan.pose or STILL).after(_frame(scan))


def _vector(values: Floats) -> Vector:
    x, y, z = (round(float(value), 3) for value in values)
    return x, y, z
