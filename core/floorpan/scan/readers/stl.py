"""STL, binary and text.

A binary STL is 84 bytes and 50 for each triangle (SLA Contour interface specification, 1989); whether a file is one
is told by its length, for many begin with the word "solid" and many count wrongly. No unit is written in an STL.
"""

import re

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.progress import Step, Work
from floorpan.scan.readers.parsed import CUT_OFF, TOO_FEW, Longs, Parsed, doubled, drop, numbers, triangles_of
from floorpan.units import show_number

_HEAD = 84
_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", 9), ("extra", "<u2")])
_CHUNK = 1 << 24
# Lines that begin or end a solid; a name may hold any word.
_NAME = re.compile(rb"(?:^|[\r\n])[ \t]*(?:end)?solid[^\r\n]*")


def read_stl(data: bytes) -> Work[Parsed]:
    """Points (3 M, 3) and triangles of an STL; text with faces of more than three corners is cut."""
    if _is_text(data):
        parsed = yield from _read_text(data)
        return parsed
    yield Step(0.5, "Reading triangles")
    return _read_binary(data)


def _is_text(data: bytes) -> bool:
    if len(data) >= _HEAD and len(data) == _HEAD + _RECORD.itemsize * _promised(data):
        return False
    head = data[:2048].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    body = data[:1_000_000].lower()
    return head.startswith(b"solid") and b"\x00" not in head and (b"facet" in body or b"endsolid" in body)


def _promised(data: bytes) -> int:
    return int.from_bytes(data[80:84], "little")


def _read_binary(data: bytes) -> Parsed:
    dropped: dict[str, int] = {}
    notes: list[str] = []
    promised = _promised(data) if len(data) >= _HEAD else 0
    whole, rest = divmod(max(len(data) - _HEAD, 0), _RECORD.itemsize)
    records = np.frombuffer(data, dtype=_RECORD, count=whole, offset=_HEAD) if whole else np.zeros(0, _RECORD)
    corners = doubled(records["corners"])
    if promised < whole:
        taken = _belonging(corners, promised, rest)
        corners = corners[:taken]
        notes.append(
            f"The file counts {show_number(promised, 0)} triangles and holds {show_number(taken, 0)}."
        )
    elif promised > whole:
        drop(dropped, CUT_OFF, promised - whole)
        ends = "ends in the middle of a triangle" if rest else f"counts {show_number(promised, 0)} triangles"
        notes.append(f"This file {ends}. {show_number(whole, 0)} were read.")
    points = corners.reshape(-1, 3)
    return Parsed(points, np.arange(len(points), dtype=np.int32).reshape(-1, 3), dropped, notes)


def _belonging(corners: Floats, promised: int, rest: int) -> int:
    """How many records are triangles when there are more than were counted; a tail of something else is none."""
    if promised == 0:
        return len(corners)
    head = corners[:promised].reshape(-1, 3)
    with np.errstate(invalid="ignore"):
        low, high = np.nanmin(head, axis=0), np.nanmax(head, axis=0)
        reach = 10.0 * float((high - low).max())
        tail = corners[promised:].reshape(-1, 3, 3)
        strange = ~((tail >= low - reach) & (tail <= high + reach)).all(axis=(1, 2))
    stray = np.flatnonzero(strange)
    return promised + (int(stray[0]) if len(stray) else len(tail))


def _read_text(data: bytes) -> Work[Parsed]:
    dropped: dict[str, int] = {}
    points: list[Floats] = []
    sizes: list[Longs] = []
    start = 0
    while start < len(data):
        end = _chunk_end(data, start)
        at, per_facet = _facets(data[start:end].lower())
        points.append(at)
        sizes.append(per_facet)
        start = end
        yield Step(start / len(data), "Reading triangles")
    size = np.concatenate(sizes) if sizes else np.zeros(0, dtype=np.int64)
    at = np.vstack(points) if points else np.zeros((0, 3))
    few = size < 3
    drop(dropped, TOO_FEW, int(few.sum()))
    corner = np.flatnonzero(np.repeat(~few, size))
    faces = triangles_of(at, corner, size[~few])
    return Parsed(at, faces, dropped, [])


def _chunk_end(data: bytes, start: int) -> int:
    """The end of a run of whole facets."""
    if start + _CHUNK >= len(data):
        return len(data)
    for word in (b"facet normal", b"FACET NORMAL", b"Facet Normal", b"facet", b"FACET"):
        cut = data.rfind(word, start + 1, start + _CHUNK)
        if cut > start:
            return cut if data[cut - 3 : cut].lower() != b"end" else cut + 5
    return len(data)


def _facets(text: bytes) -> tuple[Floats, Longs]:
    """Points of a run of facets, one after another, and how many each facet has."""
    text = _NAME.sub(b"\n", text)
    words = np.array(text.split()) if text.strip() else np.zeros(0, dtype="S1")
    vertex = np.flatnonzero(words == b"vertex")
    vertex = vertex[vertex + 3 < len(words)]
    facet = np.flatnonzero((words == b"facet") | (words == b"endfacet"))
    if not len(vertex):
        return np.zeros((0, 3)), np.zeros(0, dtype=np.int64)
    flat = words[(vertex[:, None] + [1, 2, 3]).ravel()]
    points = numbers(b" ".join(flat.tolist())).reshape(-1, 3)
    owner = np.searchsorted(facet, vertex)
    _, size = np.unique(owner, return_counts=True)
    return points, size.astype(np.int64)
