"""OBJ: points (v) and faces (f); everything else is passed by. No unit is written in an OBJ.

Point numbers start at one; negative ones count back from the last point read. Faces may have any number of corners.
A file that names point 0 is refused: it may count from zero, and then every face of it would be read one point off.
The text is read in runs of lines, each run by whole arrays.
"""

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import UnreadableScan
from floorpan.geometry.mesh import Floats
from floorpan.progress import Step, Work
from floorpan.scan.readers.parsed import (
    NO_SENSE,
    TOO_FEW,
    WRONG_POINT,
    Bytes,
    Longs,
    Parsed,
    drop,
    numbers,
    triangles_of,
    whole_numbers,
)

_CHUNK = 1 << 23
# Blanks that no reader of lines looks for.
_ONE_BLANK = bytes.maketrans(b"\x0b\x0c", b"  ")
_V, _F, _SLASH, _BLANK, _TAB, _END, _RETURN, _HASH = (ord(c) for c in "vf/ \t\n\r#")


def read_obj(data: bytes) -> Work[Parsed]:
    """Points and triangles of an OBJ."""
    text = _plain(data)
    reader = _Reader()
    start = 0
    while start < len(text):
        end = text.rfind(b"\n", start, start + _CHUNK) + 1 if start + _CHUNK < len(text) else len(text)
        end = end if end > start else len(text)
        reader.take(text[start:end])
        start = end
        yield Step(start / len(text), "Reading lines")
    return reader.finished()


def _plain(data: bytes) -> bytes:
    """One byte a letter, lines ended by a line feed, continued lines joined."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        data = data.decode("utf-16", errors="replace").encode("latin-1", errors="replace")
    if b"\r" in data:
        data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    data = data.translate(_ONE_BLANK)
    return data.replace(b"\\\n", b" ") if b"\\\n" in data else data


class _Reader:
    """Gathers points and faces run by run."""

    def __init__(self) -> None:
        self.points: list[Floats] = []
        self.colours: list[Floats | None] = []
        self.corners: list[Longs] = []
        self.sizes: list[Longs] = []
        self.dropped: dict[str, int] = {}
        self.count = 0

    def take(self, text: bytes) -> None:
        """Read a run of whole lines."""
        lines = _Lines(text)
        points = lines.of(_V)
        faces = lines.of(_F)
        before = self.count + np.searchsorted(points, faces)
        self._take_points(lines, points)
        self._take_faces(lines, faces, before)

    def _take_points(self, lines: "_Lines", rows: Longs) -> None:
        if not len(rows):
            return
        text, sizes = lines.words(rows)
        values = numbers(text)
        drop(self.dropped, NO_SENSE, int((sizes < 3).sum()))
        start = np.cumsum(sizes) - sizes
        # A line without three numbers still takes its place in the count.
        at = np.full((len(rows), 3), np.nan)
        whole = sizes >= 3
        at[whole] = values[start[whole][:, None] + np.arange(3)]
        self.points.append(at)
        self.count += len(at)
        coloured = bool(len(sizes) and (sizes == sizes[0]).all() and sizes[0] in (6, 7))
        self.colours.append(values.reshape(len(rows), -1)[:, -3:] if coloured else None)

    def _take_faces(self, lines: "_Lines", rows: Longs, before: Longs) -> None:
        if not len(rows):
            return
        text, sizes = lines.words(rows, first_only=True)
        number = whole_numbers(text)
        # A word that is no number reads as zero too: that is one face that names nothing, and no more.
        if not number.all() and any(not word.strip(b"0") for word in text.split()):
            raise UnreadableScan(
                "point-zero",
                "A face in this file names point 0, but an OBJ counts its points from 1: which points its other faces "
                "mean is not certain.",
                "Export the scan again, or as STL or PLY.",
            )
        base = np.repeat(before, sizes)
        # Zero names no point.
        index = np.where(number > 0, number - 1, np.where(number < 0, base + number, -1))
        self.corners.append(index)
        self.sizes.append(sizes)

    def finished(self) -> Parsed:
        """Everything read, faces cut into triangles."""
        points = np.vstack(self.points) if self.points else np.zeros((0, 3))
        corners = np.concatenate(self.corners) if self.corners else np.zeros(0, np.int64)
        sizes = np.concatenate(self.sizes) if self.sizes else np.zeros(0, np.int64)
        if (sizes == 3).all():
            return Parsed(points, corners.reshape(-1, 3), self.dropped, [], self._colours())
        few = sizes < 3
        drop(self.dropped, TOO_FEW, int(few.sum()))
        owner = np.repeat(np.arange(len(sizes)), sizes)
        stray = np.zeros(len(sizes), dtype=bool)
        stray[owner[(corners < 0) | (corners >= len(points))]] = True
        drop(self.dropped, WRONG_POINT, int((stray & ~few).sum()))
        keep = ~few & ~stray
        faces = triangles_of(points, corners[keep[owner]], sizes[keep])
        return Parsed(points, faces, self.dropped, [], self._colours())

    def _colours(self) -> Bytes | None:
        held = [one for one in self.colours if one is not None]
        if not held or len(held) < len(self.colours):
            return None
        share = np.vstack(held)
        if not np.isfinite(share).all():
            return None
        top = 255.0 if share.max(initial=0.0) <= 1.0 else 1.0
        return np.clip(share * top + 0.5, 0.0, 255.0).astype(np.uint8)


class _Lines:
    """Lines of a run of text, told apart by their first letters."""

    def __init__(self, text: bytes) -> None:
        self.letters = np.frombuffer(text if text.endswith(b"\n") else text + b"\n", dtype=np.uint8)
        self.ends = np.flatnonzero(self.letters == _END)
        self.starts = np.concatenate([[0], self.ends[:-1] + 1]) if len(self.ends) else self.ends
        self.first = self._first_letters()

    def _first_letters(self) -> Longs:
        """Where each line's first word starts; leading blanks are stepped over."""
        at = self.starts.copy()
        for _ in range(64):
            blank = (self.letters[at] == _BLANK) | (self.letters[at] == _TAB)
            if not blank.any():
                break
            at[blank] += 1
        return at

    def of(self, letter: int) -> Longs:
        """Numbers of the lines whose first word is this one letter."""
        after = self.letters[np.minimum(self.first + 1, len(self.letters) - 1)]
        mine = (self.letters[self.first] == letter) & ((after == _BLANK) | (after == _TAB))
        found: Longs = np.flatnonzero(mine)
        return found

    def words(self, rows: Longs, first_only: bool = False) -> tuple[bytes, Longs]:
        """Words of some lines behind the first, with blanks between, and how many each line has.

        first_only : of words like 7/1/3 only the part before the first stroke
        """
        start, end = self.first[rows] + 1, self.ends[rows]
        length = end - start + 1
        into = np.cumsum(length) - length
        if (start[1:] == end[:-1] + 2).all():
            # Lines that follow each other, as they mostly do: one stretch, with the first letters blanked.
            letters = self.letters[start[0] - 1 : end[-1] + 1].copy()
            letters[start - start[0]] = _BLANK
            length, into = length + 1, into + np.arange(len(into))
        else:
            letters = self.letters[np.repeat(start - into, length) + np.arange(int(length.sum()))]
        letters[(letters == _END) | (letters == _TAB)] = _BLANK
        if (letters == _HASH).any():
            letters[_from_mark_to_line_end(letters, _HASH, into, length)] = _BLANK
        if first_only and (letters == _SLASH).any():
            letters[_from_mark_to_blank(letters)] = _BLANK
        blank = letters == _BLANK
        word = ~blank & np.concatenate([[True], blank[:-1]])
        sizes = np.add.reduceat(word, into, dtype=np.int64) if len(into) else np.zeros(0, np.int64)
        return letters.tobytes(), sizes


def _from_mark_to_blank(letters: Bytes) -> NDArray[np.bool_]:
    """From a stroke up to the next blank."""
    place = np.arange(len(letters))
    stroke = np.maximum.accumulate(np.where(letters == _SLASH, place, -1))
    blank = np.maximum.accumulate(np.where(letters == _BLANK, place, -1))
    mask: NDArray[np.bool_] = stroke > blank
    return mask


def _from_mark_to_line_end(letters: Bytes, mark: int, into: Longs, length: Longs) -> NDArray[np.bool_]:
    """From a mark up to the end of its line."""
    place = np.arange(len(letters))
    line_start = np.repeat(into, length)
    marked = np.maximum.accumulate(np.where(letters == mark, place, -1))
    mask: NDArray[np.bool_] = marked >= line_start
    return mask
