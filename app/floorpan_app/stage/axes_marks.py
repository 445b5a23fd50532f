"""What is written while axes are being set: picks with letters and what is left over, the axes, the centre line."""

import itertools
from dataclasses import dataclass
from typing import Final

import numpy as np

from floorpan.derive import Bench
from floorpan.errors import FloorpanError
from floorpan.frames import STILL, Pose, Vector
from floorpan.geometry.mesh import Mesh
from floorpan.layout import ScanRef
from floorpan.scan.axes import AxesFit, AxisPick
from floorpan.scan.centre_lines import fit_line
from floorpan.units import System, show_length
from floorpan_app.stage import words
from floorpan_app.stage.ground_meshes import Piece
from floorpan_app.viewport.marks import Path, PickMark, Tripod, Word
from floorpan_app.viewport.scene import Scene, height_of

_SAME_PLACE_MM: Final = 0.01
_LINE_STEP_MM: Final = 12.0
_OVER_FLOOR_MM: Final = 3.0


@dataclass(slots=True)
class AxesMarks:
    """Remembers how well the picks agree, so that writing them again costs nothing."""

    bench: Bench
    _of: tuple[AxisPick, ...] = ()
    _fit: AxesFit | None = None
    _line_on: Mesh | None = None
    _path: tuple[Path, ...] = ()

    def picks(self, scan: ScanRef, system: System) -> tuple[PickMark, ...]:
        """A cross for each picked place, in the picture's axes; picks at one place share it."""
        fit = self.fit(scan)
        off = dict(fit.residuals_mm) if fit is not None else {}
        odd = fit.odd_one if fit is not None else ""
        places: list[tuple[Vector, list[AxisPick]]] = []
        for pick in scan.picks:
            same = next((held for at, held in places if _close(at, pick.at_mm)), None)
            if same is None:
                places.append((pick.at_mm, [pick]))
            else:
                same.append(pick)
        pose = scan.pose or STILL
        return tuple(_mark(pose, at, held, off, odd, system) for at, held in places)

    def fit(self, scan: ScanRef) -> AxesFit | None:
        """How well the picks agree; None while they set no axes."""
        if scan.picks is not self._of:
            self._of = scan.picks
            try:
                self._fit = self.bench.axes_fit(scan)
            except FloorpanError:
                # The card says what is missing; the picture shows what is there.
                self._fit = None
        return self._fit

    def centre_line(self, scene: Scene, floor: Piece) -> tuple[Path, ...]:
        """The car's centre plane where it lies on the floor."""
        if self._line_on is not floor.mesh:
            self._line_on = floor.mesh
            self._path = _centre_line(scene, floor.name, floor.mesh.bounds)
        return self._path


def tripod(scan: ScanRef) -> Tripod | None:
    """The axes at their origin; None while the scan has none."""
    return None if scan.pose is None else Tripod(at_mm=(0.0, 0.0, 0.0), words=words.AXES)


def named_lines(scan: ScanRef) -> tuple[tuple[Path, ...], tuple[Word, ...]]:
    """The picked centre lines with their names, along their points; none before the scan stands in car axes."""
    paths, told = [], []
    for line in scan.centre_lines if scan.pose is not None else ():
        assert scan.pose is not None
        fit = fit_line(line, scan.pose)
        heights = scan.pose.apply(np.array(line.points_mm))
        rise = np.polynomial.Polynomial.fit(heights[:, 0], heights[:, 2], 1)
        ends = [(x, fit.at(x), float(rise(x)) + _OVER_FLOOR_MM) for x in fit.ends_mm]
        paths.append(Path(points_mm=np.array(ends), role="accent", width_px=1.8))
        told.append(Word(text=words.LINE_WORDS[line.kind], at_mm=ends[0], away_px=(-80.0, -30.0)))
    return tuple(paths), tuple(told)


def centre_word(path: tuple[Path, ...]) -> tuple[Word, ...]:
    """The line's name, tied to its rear end."""
    if not path:
        return ()
    x, y, z = (float(value) for value in path[0].points_mm[-1, 1])
    return (Word(text=words.CENTRE_LINE, at_mm=(x, y, z), away_px=(-70.0, 34.0)),)


def _mark(
    pose: Pose, at: Vector, held: list[AxisPick], off: dict[str, float], odd: str, system: System
) -> PickMark:
    left_over = [off[pick.id] for pick in held if pick.id in off]
    x, y, z = (float(value) for value in pose.apply(np.array(at)))
    return PickMark(
        letter=" ".join(pick.id for pick in held),
        at_mm=(x, y, z),
        text=show_length(max(left_over), system, parts=32) if left_over else "",
        verdict="close" if any(pick.id == odd for pick in held) else "clear",
    )


def _close(one: Vector, other: Vector) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) < _SAME_PLACE_MM


def _centre_line(scene: Scene, floor: str, bounds: np.ndarray) -> tuple[Path, ...]:
    """Pieces where the floor was seen."""
    places = np.arange(bounds[0, 0], bounds[1, 0], _LINE_STEP_MM)
    heights = [height_of(scene, floor, float(x), 0.0) for x in places]
    points = [
        None if height is None else (float(x), 0.0, height + _OVER_FLOOR_MM)
        for x, height in zip(places, heights, strict=True)
    ]
    pieces = [
        (a, b)
        for a, b in itertools.pairwise(points)
        if a is not None and b is not None and abs(a[2] - b[2]) < 4.0 * _LINE_STEP_MM
    ]
    if not pieces:
        return ()
    return (Path(points_mm=np.array(pieces), role="accent", stroke="centre", width_px=1.6),)
