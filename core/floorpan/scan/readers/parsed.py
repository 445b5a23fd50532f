"""What a reader hands on, and how text becomes numbers."""

import contextlib
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from floorpan.geometry.mesh import Floats
from floorpan.geometry.polygons import cut_faces

Longs = NDArray[np.int64]
Bytes = NDArray[np.uint8]

# What was left out, in the words that people see.
CUT_OFF = "triangles missing at the end of the file"
TOO_FEW = "faces with fewer than three corners"
NOT_NUMBERS = "points that are not numbers"
NO_SENSE = "lines that make no sense"
WRONG_POINT = "faces with points that are not there"
NO_AREA = "triangles without area"
LOOSE = "points without a face"


_IS_BLANK = np.zeros(256, dtype=bool)
_IS_BLANK[list(b" \t\n\r\x0b\x0c")] = True


@dataclass(slots=True)
class Parsed:
    """Points and triangles of a file, not yet cleaned.

    points : (N, 3) float64 in file units, may hold what is not finite
    faces  : (M, 3) point numbers, may name points that are not there
    dropped : what was left out: how many
    colours : (N, 3) uint8 or None
    """

    points: Floats
    faces: NDArray[np.signedinteger]
    dropped: dict[str, int] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    colours: Bytes | None = None


def drop(dropped: dict[str, int], what: str, how_many: int) -> None:
    """Count something left out."""
    if how_many:
        dropped[what] = dropped.get(what, 0) + int(how_many)


def triangles_of(points: Floats, corners: Longs, sizes: Longs) -> NDArray[np.signedinteger]:
    """Faces of any number of corners as triangles.

    Spoilt files hold numbers that are none, and some out of all measure: faces with them are left out later.
    """
    with np.errstate(invalid="ignore", over="ignore"):
        return cut_faces(points, corners, sizes)[0]


def numbers(text: bytes) -> Floats:
    """Numbers between blanks; what is no number becomes NaN, so that nothing moves up."""
    if not text.strip():
        return np.zeros(0)
    with contextlib.suppress(ValueError):
        values = np.fromstring(text, dtype=np.float64, sep=" ")
        # The library takes "1-2" for two numbers.
        if len(values) == _words(text):
            return values
    return np.array([_number(word) for word in text.split()], dtype=np.float64)


def whole_numbers(text: bytes) -> Longs:
    """Whole numbers between blanks; what is none becomes 0, which names no point in any format that counts from 1."""
    if not text.strip():
        return np.zeros(0, dtype=np.int64)
    with contextlib.suppress(ValueError):
        whole = np.fromstring(text, dtype=np.int64, sep=" ")
        if len(whole) == _words(text):
            return whole
    values = numbers(text)
    with np.errstate(invalid="ignore"):
        fine = np.isfinite(values) & (values == np.floor(values)) & (np.abs(values) < 2**53)
    return np.where(fine, values, 0.0).astype(np.int64)


def _words(text: bytes) -> int:
    """How many words stand between blanks of any kind."""
    blank = _IS_BLANK[np.frombuffer(text, dtype=np.uint8)]
    return int(np.count_nonzero(~blank[1:] & blank[:-1])) + int(not blank[0])


def _number(word: bytes) -> float:
    try:
        return float(word)
    except ValueError:
        return float("nan")


def doubled(values: NDArray[np.generic]) -> Floats:
    """Numbers in double precision; the odd bit patterns of a spoilt file pass as what is no number."""
    with np.errstate(invalid="ignore"):
        return values.astype(np.float64)
