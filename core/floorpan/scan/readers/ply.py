"""PLY, text and binary in both byte orders, with whatever properties stand beside the ones needed."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import UnreadableScan
from floorpan.geometry.mesh import Floats
from floorpan.progress import Step, Work
from floorpan.scan.readers.parsed import (
    CUT_OFF,
    TOO_FEW,
    WRONG_POINT,
    Bytes,
    Longs,
    Parsed,
    doubled,
    drop,
    numbers,
    triangles_of,
)
from floorpan.scan.readers.ply_header import Element, Head, read_head
from floorpan.units import show_number

_INDICES = ("vertex_indices", "vertex_index", "vertex_indexes")


@dataclass(slots=True)
class _Table:
    """Rows of one element: plain columns by name, and the one list that is wanted as corners and sizes."""

    rows: int
    columns: dict[str, NDArray[np.generic]]
    corners: NDArray[np.signedinteger]
    sizes: Longs
    end: int


def read_ply(data: bytes) -> Work[Parsed]:
    """Points and triangles of a PLY. Raises UnreadableScan where the head or the points cannot be followed."""
    head = read_head(data)
    rows = _TextRows(data, head) if head.order == "" else _BinaryRows(data, head)
    tables: dict[str, _Table] = {}
    missing = 0
    for number, element in enumerate(head.elements):
        yield Step(number / len(head.elements), f"Reading {element.name} rows")
        table = rows.take(element)
        missing += element.count - table.rows if element.name == "face" else 0
        tables.setdefault(element.name, table)
    return _assemble(tables, missing)


def _assemble(tables: dict[str, _Table], missing: int) -> Parsed:
    vertex = tables.get("vertex")
    if vertex is None or not {"x", "y", "z"} <= vertex.columns.keys():
        raise UnreadableScan("ply-no-points", "This PLY file names no points.", "Export it again, as a mesh.")
    points = np.column_stack([doubled(vertex.columns[axis]) for axis in "xyz"])
    dropped: dict[str, int] = {}
    notes: list[str] = []
    drop(dropped, CUT_OFF, missing)
    face = tables.get("face")
    faces = np.zeros((0, 3), dtype=np.int64)
    if face is not None:
        faces = _faces(points, face, dropped)
        if missing:
            notes.append(
                f"This file ends before its last triangle. {show_number(face.rows, 0)} faces were read."
            )
    return Parsed(points, faces, dropped, notes, _colours(vertex))


def _faces(points: Floats, face: _Table, dropped: dict[str, int]) -> NDArray[np.signedinteger]:
    if (face.sizes == 3).all():
        return face.corners.reshape(-1, 3)
    few = face.sizes < 3
    drop(dropped, TOO_FEW, int(few.sum()))
    owner = np.repeat(np.arange(len(face.sizes)), face.sizes)
    stray = np.zeros(len(face.sizes), dtype=bool)
    stray[owner[(face.corners < 0) | (face.corners >= len(points))]] = True
    drop(dropped, WRONG_POINT, int((stray & ~few).sum()))
    keep = ~few & ~stray
    return triangles_of(points, face.corners[keep[owner]], face.sizes[keep])


def _colours(vertex: _Table) -> Bytes | None:
    names = [f"{before}{colour}" for before in ("", "diffuse_") for colour in ("red", "green", "blue")]
    for three in (names[:3], names[3:]):
        if set(three) <= vertex.columns.keys():
            found = np.column_stack([vertex.columns[name] for name in three])
            if found.dtype == np.uint8:
                return found
            share = np.nan_to_num(doubled(found))
            return (
                (np.clip(share, 0.0, 1.0) * 255.0 + 0.5).astype(np.uint8)
                if share.max(initial=0.0) <= 1.0
                else None
            )
    return None


def _wanted(element: Element) -> int:
    """The column of the list that names a face's points."""
    named = element.place(*_INDICES)
    if named >= 0 or element.name != "face":
        return named
    return next((k for k, one in enumerate(element.properties) if one.counter), -1)


class _BinaryRows:
    """Takes elements off a run of bytes; never trusts a count beyond the bytes that are there."""

    def __init__(self, data: bytes, head: Head) -> None:
        self.data, self.order, self.at = data, head.order, min(head.start, len(data))

    def take(self, element: Element) -> _Table:
        """The rows of the next element that the file holds whole."""
        if not element.lists:
            return self._plain(element)
        table = self._even(element)
        if table is None:
            table = self._uneven(element)
        self.at = table.end
        return table

    def _plain(self, element: Element) -> _Table:
        kind = np.dtype([(f"{k}", self.order + one.kind) for k, one in enumerate(element.properties)])
        rows = min(element.count, (len(self.data) - self.at) // max(kind.itemsize, 1)) if kind.itemsize else 0
        held = np.frombuffer(self.data, dtype=kind, count=rows, offset=self.at) if rows else np.zeros(0, kind)
        self.at += rows * kind.itemsize
        columns = {one.name: held[f"{k}"] for k, one in enumerate(element.properties)}
        return _Table(rows, columns, np.zeros(0, np.int64), np.zeros(0, np.int64), self.at)

    def _even(self, element: Element) -> _Table | None:
        """All rows with the list lengths of the first one, as scans of triangles are; None where they differ."""
        wanted = _wanted(element)
        fields, at = [], self.at
        for k, one in enumerate(element.properties):
            if not one.counter:
                fields.append((f"{k}", self.order + one.kind, (1,)))
                at += int(one.kind[1])
                continue
            size = self._length(at, one.counter)
            if size is None:
                return None
            fields += [(f"n{k}", self.order + one.counter, (1,)), (f"{k}", self.order + one.kind, (size,))]
            at += int(one.counter[1]) + size * int(one.kind[1])
            if at > len(self.data):
                return None
        kind = np.dtype(fields)
        rows = min(element.count, (len(self.data) - self.at) // kind.itemsize)
        held = np.frombuffer(self.data, dtype=kind, count=rows, offset=self.at)
        for k, one in enumerate(element.properties):
            if one.counter and not (held[f"n{k}"] == kind[f"{k}"].shape[0]).all():
                return None
        size = kind[f"{wanted}"].shape[0] if wanted >= 0 else 0
        corners = _whole(held[f"{wanted}"].ravel()) if wanted >= 0 else np.zeros(0, np.int64)
        sizes = np.full(rows if wanted >= 0 else 0, size, dtype=np.int64)
        return _Table(rows, {}, corners, sizes, self.at + rows * kind.itemsize)

    def _length(self, at: int, counter: str) -> int | None:
        width = int(counter[1])
        if at + width > len(self.data):
            return None
        return int(np.frombuffer(self.data, dtype=self.order + counter, count=1, offset=at)[0])

    def _uneven(self, element: Element) -> _Table:
        """Row by row."""
        wanted = _wanted(element)
        pieces: list[NDArray[np.generic]] = []
        sizes: list[int] = []
        at, rows = self.at, 0
        while rows < element.count:
            after = at
            for k, one in enumerate(element.properties):
                size = self._length(after, one.counter) if one.counter else 1
                width = int(one.kind[1]) * (size if size is not None else 0)
                after += int(one.counter[1]) if one.counter else 0
                if size is None or size < 0 or after + width > len(self.data):
                    return self._ended(rows, pieces, sizes, at)
                if k == wanted:
                    pieces.append(np.frombuffer(self.data, self.order + one.kind, size, after))
                    sizes.append(size)
                after += width
            at, rows = after, rows + 1
        return self._ended(rows, pieces, sizes, at)

    def _ended(self, rows: int, pieces: list[NDArray[np.generic]], sizes: list[int], at: int) -> _Table:
        del sizes[rows:], pieces[rows:]
        corners = _whole(np.concatenate(pieces)) if pieces else np.zeros(0, np.int64)
        return _Table(rows, {}, corners, np.array(sizes, dtype=np.int64), at)


class _TextRows:
    """Takes elements off words."""

    def __init__(self, data: bytes, head: Head) -> None:
        self.values = numbers(data[head.start :])
        self.at = 0

    def take(self, element: Element) -> _Table:
        """The rows of the next element that the file holds whole."""
        left = self.values[self.at :]
        if not element.lists:
            width = len(element.properties)
            rows = min(element.count, len(left) // width) if width else 0
            held = left[: rows * width].reshape(rows, width)
            self.at += rows * width
            columns: dict[str, NDArray[np.generic]] = {
                one.name: _as_kind(held[:, k], one.kind) for k, one in enumerate(element.properties)
            }
            return _Table(rows, columns, np.zeros(0, np.int64), np.zeros(0, np.int64), 0)
        return self._lists(element, left)

    def _lists(self, element: Element, left: Floats) -> _Table:
        wanted = _wanted(element)
        single = len(element.properties) == 1
        rows = min(element.count, len(left) // 4)
        if single and wanted == 0 and rows and (left[: rows * 4 : 4] == 3.0).all() and rows == element.count:
            self.at += rows * 4
            corners = _whole(left[: rows * 4].reshape(rows, 4)[:, 1:].ravel())
            return _Table(rows, {}, corners, np.full(rows, 3, dtype=np.int64), 0)
        pieces: list[Floats] = []
        sizes: list[int] = []
        at, rows = 0, 0
        while rows < element.count:
            after, piece = at, None
            for k, one in enumerate(element.properties):
                size = 1
                if one.counter:
                    counted = left[after] if after < len(left) else -1.0
                    size = int(counted) if counted >= 0.0 and counted < len(left) else len(left) + 1
                    after += 1
                piece = left[after : after + size] if k == wanted else piece
                after += size
            if after > len(left):
                break
            if piece is not None:
                pieces.append(piece)
                sizes.append(len(piece))
            at, rows = after, rows + 1
        self.at += at
        corners = _whole(np.concatenate(pieces)) if pieces else np.zeros(0, np.int64)
        return _Table(rows, {}, corners, np.array(sizes, dtype=np.int64), 0)


def _whole(values: NDArray[Any]) -> NDArray[np.signedinteger]:
    """Point numbers, as narrow as they come; what is no whole number becomes -1, which names no point."""
    if values.dtype.kind == "i":
        return values
    if values.dtype.kind == "u":
        return values.astype(np.int64 if values.dtype.itemsize > 2 else np.int32)
    fine = np.isfinite(values) & (values == np.floor(values)) & (np.abs(values) < 2**53)
    return np.where(fine, values, -1.0).astype(np.int64)


def _as_kind(values: Floats, kind: str) -> NDArray[np.generic]:
    return np.nan_to_num(values).clip(0, 255).astype(np.uint8) if kind == "u1" else values
