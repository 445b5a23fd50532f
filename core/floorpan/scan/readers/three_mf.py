"""3MF: triangles of every built item, and the unit they are in. After the 3MF Core Specification, version 1.3.

A 3MF is a zip archive with a model in XML. Document type declarations are refused, sizes are capped, objects made of
components are followed with their transforms, and what is not built is not read.
"""

import io
import re
import zipfile
from dataclasses import dataclass, field
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import UnreadableScan
from floorpan.geometry.mesh import Floats
from floorpan.progress import Step, Work
from floorpan.scan.readers.parsed import NOT_NUMBERS, Parsed, drop

_CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
_UNITS = {
    "micron": 0.001,
    "millimeter": 1.0,
    "centimeter": 10.0,
    "inch": 25.4,
    "foot": 304.8,
    "meter": 1000.0,
}
_WRITTEN = "Its unit is written in the file: {unit}."
_MOST_BYTES = 1 << 30
_DEEPEST = 16
_MOST_PIECES = 10_000


@dataclass(slots=True)
class _Object:
    points: list[tuple[float, float, float]] = field(default_factory=list)
    faces: list[tuple[int, int, int]] = field(default_factory=list)
    parts: list[tuple[str, NDArray[np.float64]]] = field(default_factory=list)


def read_3mf(data: bytes) -> Work[Parsed]:
    """Triangles of a 3MF, in mm: its unit is written in the file."""
    yield Step(0.0, "Unpacking")
    model = _model(data)
    if re.search(rb"<!\s*(DOCTYPE|ENTITY)", model[: 1 << 16], re.IGNORECASE):
        raise _not_read("it holds a document type declaration")
    yield Step(0.2, "Reading triangles")
    try:
        unit, objects, built, wrong = _parsed(model)
    except (ElementTree.ParseError, ValueError) as fault:
        raise _not_read("its model is damaged") from fault
    if unit not in _UNITS:
        raise _not_read(f"its unit \u201c{unit}\u201d is none of the format's")
    yield Step(0.8, "Putting pieces together")
    points: list[Floats] = []
    faces: list[NDArray[np.int64]] = []
    count = 0
    pieces = 0
    stack = [(id, turn, 0) for id, turn in reversed(built or [(id, np.eye(4)) for id in objects])]
    while stack:
        id, turn, deep = stack.pop()
        pieces += 1
        if deep > _DEEPEST or pieces > _MOST_PIECES:
            raise _not_read("its pieces are nested without end")
        held = objects.get(id)
        if held is None:
            raise _not_read(f"it builds a piece {id} that is not in it")
        stack += [(part, turn @ own, deep + 1) for part, own in reversed(held.parts)]
        if held.faces:
            own_points = np.array(held.points, dtype=np.float64).reshape(-1, 3)
            points.append(own_points @ turn[:3, :3].T + turn[:3, 3])
            faces.append(np.array(held.faces, dtype=np.int64) + count)
            count += len(own_points)
    where = np.vstack(points) if points else np.zeros((0, 3))
    which = np.vstack(faces) if faces else np.zeros((0, 3), dtype=np.int64)
    parsed = Parsed(_UNITS[unit] * where, which, notes=[_WRITTEN.format(unit=unit)])
    drop(parsed.dropped, NOT_NUMBERS, wrong)
    return parsed


def unit_written(notes: list[str]) -> str:
    """The unit that `read_3mf` noted."""
    return next(unit for unit in _UNITS if notes[0] == _WRITTEN.format(unit=unit))


def _model(data: bytes) -> bytes:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            names = [one for one in packed.infolist() if one.filename.lower().endswith(".model")]
            main = next(
                (one for one in names if one.filename.lower().lstrip("/") == "3d/3dmodel.model"), None
            )
            chosen = main or (names[0] if names else None)
            if chosen is None:
                raise _not_read("there is no model in it")
            if chosen.file_size > _MOST_BYTES or chosen.file_size > 1000 * max(chosen.compress_size, 1024):
                raise _not_read("its model is larger than any scan")
            with packed.open(chosen) as file:
                model = file.read(_MOST_BYTES + 1)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError) as fault:
        raise _not_read("it cannot be unpacked") from fault
    except Exception as fault:
        # What the unpacking library raises for damaged streams is not one kind.
        if isinstance(fault, UnreadableScan):
            raise
        raise _not_read("it cannot be unpacked") from fault
    if len(model) > _MOST_BYTES:
        raise _not_read("its model is larger than any scan")
    return model


def _parsed(
    model: bytes,
) -> tuple[str, dict[str, _Object], list[tuple[str, NDArray[np.float64]]], int]:
    """Unit, objects by id, what is built, and how many points were no numbers."""
    unit, objects, built, wrong = "millimeter", {}, [], 0
    current: _Object | None = None
    for event, element in ElementTree.iterparse(io.BytesIO(model), events=("start", "end")):
        tag = element.tag.removeprefix(_CORE)
        if event == "start":
            if tag == "model":
                unit = element.get("unit", "millimeter")
            elif tag == "object":
                current = objects[element.get("id", "")] = _Object()
            continue
        if tag == "vertex" and current is not None:
            try:
                place = (
                    float(element.get("x", "")),
                    float(element.get("y", "")),
                    float(element.get("z", "")),
                )
            except ValueError:
                place, wrong = (np.nan, np.nan, np.nan), wrong + 1
            current.points.append(place)
        elif tag == "triangle" and current is not None:
            current.faces.append(
                (int(element.get("v1", "")), int(element.get("v2", "")), int(element.get("v3", "")))
            )
        elif tag == "component" and current is not None:
            current.parts.append((element.get("objectid", ""), _turn(element.get("transform"))))
        elif tag == "item":
            built.append((element.get("objectid", ""), _turn(element.get("transform"))))
        elif tag == "object":
            current = None
        if tag in ("vertex", "triangle", "vertices", "triangles", "mesh"):
            element.clear()
    return unit, objects, built, wrong


def _turn(told: str | None) -> NDArray[np.float64]:
    """The matrix of a transform: four rows of three numbers, each row what an axis, then the origin, becomes."""
    matrix = np.eye(4)
    if told is not None:
        rows = np.array([float(word) for word in told.split()], dtype=np.float64).reshape(4, 3)
        if not np.isfinite(rows).all():
            raise ValueError("a transform without numbers")
        matrix[:3, :4] = rows.T
    return matrix


def _not_read(why: str) -> UnreadableScan:
    return UnreadableScan(
        "3mf-not-read", f"This 3MF cannot be read: {why}.", "Export the scan again, as 3MF, STL, PLY or OBJ."
    )
