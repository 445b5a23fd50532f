"""Points as text: XYZ, CSV and the like, one point a line, three numbers first.

Numbers stand between blanks, tabs, semicolons or commas. Where something else parts them a comma is a decimal sign.
A line that is no point is left out and counted; the first such lines are a head. What follows the three numbers is
passed by, but for three whole numbers up to 255 at the end, which are a colour.
"""

import numpy as np

from floorpan.geometry.mesh import Floats
from floorpan.progress import Step, Work
from floorpan.scan.readers.parsed import NO_SENSE, Bytes, Parsed, drop

_CHUNK = 1 << 22
_SAMPLE_LINES = 50


def read_point_text(data: bytes) -> Work[Parsed]:
    """The points of a text, in its own unit; it has no faces."""
    text = _plain(data)
    parting, decimal_comma = _manner(text)
    points: list[Floats] = []
    colours: list[Floats] = []
    wrong = head = 0
    start = 0
    while start < len(text):
        end = text.rfind(b"\n", start, start + _CHUNK) + 1 if start + _CHUNK < len(text) else len(text)
        end = end if end > start else len(text)
        rows, bad, leading = _rows(text[start:end], parting, decimal_comma=decimal_comma)
        head += leading if not points else 0
        wrong += bad - (leading if not points else 0)
        if len(rows):
            points.append(rows[:, :3])
            colours.append(rows[:, -3:] if rows.shape[1] >= 6 else np.zeros((0, 3)))
        start = end
        yield Step(start / max(len(text), 1), "Reading lines")
    whole = np.vstack(points) if points else np.zeros((0, 3))
    parsed = Parsed(whole, np.zeros((0, 3), dtype=np.int32))
    drop(parsed.dropped, NO_SENSE, wrong)
    parsed.colours = _colours(colours, len(whole))
    return parsed


def _plain(data: bytes) -> bytes:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        data = data.decode("utf-16", errors="replace").encode("latin-1", errors="replace")
    return data.removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n").replace(b"\r", b"\n")


def _manner(text: bytes) -> tuple[bytes, bool]:
    """What parts the numbers, and whether a comma is a decimal sign."""
    sample = b"\n".join(text[: 1 << 16].split(b"\n")[:_SAMPLE_LINES])
    if b";" in sample:
        return b";", b"," in sample
    if b"\t" in sample:
        return b"\t", b"," in sample
    lines = [line.strip() for line in sample.split(b"\n") if any(48 <= byte <= 57 for byte in line)]
    if any(b"," in line for line in lines):
        # "1,5 2,5 3,5" parts by blanks, "1.5, 2.5, 3.5" and "1,2,3" by commas.
        by_blanks = all(len(line.split()) >= 3 and b", " not in line for line in lines)
        return (b" ", True) if by_blanks else (b",", False)
    return b" ", False


def _rows(text: bytes, parting: bytes, *, decimal_comma: bool) -> tuple[Floats, int, int]:
    """Rows of numbers, how many lines were none, and how many of those came before the first that was one."""
    if decimal_comma:
        text = text.replace(b",", b".")
    lines = [line for line in text.split(b"\n") if line.strip()]
    plain = [line.replace(parting, b" ") for line in lines] if parting != b" " else lines
    counts = np.array([len(line.split()) for line in plain], dtype=np.int64)
    if not len(counts):
        return np.zeros((0, 3)), 0, 0
    usual = int(np.bincount(counts).argmax())
    if usual >= 3 and (counts == usual).all():
        try:
            values = np.fromstring(b" ".join(plain), dtype=np.float64, sep=" ").reshape(-1, usual)
        except ValueError:
            pass
        else:
            return values, 0, 0
    kept: list[list[float]] = []
    bad = leading = 0
    for line in plain:
        numbers = _numbers(line)
        if numbers is None:
            bad += 1
            leading += not kept
        else:
            kept.append(numbers)
    width = min((len(row) for row in kept), default=3)
    return np.array([row[:width] for row in kept], dtype=np.float64).reshape(-1, width), bad, leading


def _numbers(line: bytes) -> list[float] | None:
    """The numbers of a line as far as they go; None where it does not begin with three."""
    found: list[float] = []
    for word in line.split():
        try:
            found.append(float(word))
        except ValueError:
            break
    return found if len(found) >= 3 else None


def _colours(parts: list[Floats], points: int) -> Bytes | None:
    held = np.vstack(parts) if parts else np.zeros((0, 3))
    if len(held) != points or not points:
        return None
    if ((held < 0.0) | (held > 255.0) | (held != np.floor(held))).any() or float(held.max()) <= 1.0:
        return None
    return held.astype(np.uint8)
