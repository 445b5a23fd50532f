"""What an E57 says of itself, looked at before anything is unpacked. After ASTM E2807.

Bytes lie in pages of 1024 whose last four are a checksum. A description in XML, found from the file's head, tells for
every scan how many records it holds and of what fields. Records are packed to the bit: a real number takes 32 or 64, a
whole number as many as its span asks for, none where the span is one value. So a count can be held against the bytes
that are there.
"""

import struct
from dataclasses import dataclass, field
from xml.parsers import expat

from floorpan.errors import UnreadableScan

_HEAD = struct.Struct("<8sIIQQQQ")
_PAGE, _PAYLOAD = 1024, 1020
# A scan takes some three thousand bytes and two dozen names. The library's time grows with the square of how many names
# stand beside each other: at these caps the worst that was tried takes it under five seconds.
_MOST_DESCRIPTION = 1 << 20
_MOST_BESIDE = 64
_RULES = {
    f"http://www.w3.org/2001/XMLSchema-instance {name}"
    for name in ("schemaLocation", "noNamespaceSchemaLocation")
}
_DEEPEST = 32
_LEAST, _MOST = -(1 << 63), (1 << 63) - 1
# Coordinates of fewer bits tell fewer than 65 thousand places apart: no scan. Common practice, no source.
_FEWEST_BITS = 16
_COORDINATES = (
    ("cartesianX", "cartesianY", "cartesianZ"),
    ("sphericalRange", "sphericalAzimuth", "sphericalElevation"),
)
_COLOUR = ("colorRed", "colorGreen", "colorBlue")


@dataclass(slots=True)
class ScanSaid:
    """What is said of one scan.

    records : how many points it is to hold
    bits    : what one value of each of its fields takes
    spans   : the least and the most of each field of whole numbers
    """

    records: int
    bits: dict[str, int] = field(default_factory=dict)
    spans: dict[str, tuple[int, int]] = field(default_factory=dict)

    @property
    def coloured(self) -> bool:
        """Whether each point has a colour of three bytes."""
        spans = [self.spans.get(name) for name in _COLOUR]
        return all(span is not None and span[0] >= 0 and span[1] <= 255 for span in spans)

    @property
    def coordinate_bits(self) -> int:
        """What the coordinates of one point take; 0 where it has none."""
        sums = [
            sum(self.bits[name] for name in names) for names in _COORDINATES if set(names) <= set(self.bits)
        ]
        return sums[0] if sums else 0


def look(data: bytes) -> list[ScanSaid]:
    """The scans that hold points, in the file's order.

    Raises UnreadableScan where the file contradicts itself, or says more than its bytes can hold.
    """
    try:
        scans = _Description(_description(data)).scans
    except (expat.ExpatError, ValueError, UnicodeError) as fault:
        raise not_read("what it says of itself is damaged") from fault
    scans = [scan for scan in scans if scan.records]
    if not scans:
        raise not_read("it holds no points")
    needed = 0
    for scan in scans:
        if scan.coordinate_bits < _FEWEST_BITS:
            raise not_read("a scan in it does not say where its points lie")
        needed += scan.records * sum(scan.bits.values())
    if needed > 8 * len(data):
        raise not_read("it is cut off, or says it holds more points than it does")
    return scans


def not_read(why: str) -> UnreadableScan:
    """The one refusal of an E57 file."""
    return UnreadableScan(
        "e57-not-read",
        f"This E57 cannot be read: {why}.",
        "Export the scan again, as E57, or its points as PLY or text.",
    )


def _description(data: bytes) -> bytes:
    """The XML, its checksums left out."""
    if len(data) < _HEAD.size:
        raise not_read("it is cut off")
    signature, _major, _minor, length, offset, size, page = _HEAD.unpack_from(data)
    if signature != b"ASTM-E57":
        raise not_read("it does not begin like one")
    if length != len(data):
        raise not_read("it is cut off, or something was added to it")
    first, within = divmod(offset, _PAGE)
    if page != _PAGE or not _HEAD.size <= offset < len(data) or within >= _PAYLOAD:
        raise not_read("its head is damaged")
    if size > _MOST_DESCRIPTION or size > len(data):
        raise not_read("its head is damaged")
    pages = range(first * _PAGE, min(len(data), first * _PAGE + 2 * _PAGE + size + size // 128), _PAGE)
    joined = b"".join(data[start : start + _PAYLOAD] for start in pages)
    found = joined[within : within + size]
    if len(found) != size:
        raise not_read("it is cut off")
    return found


class _Description:
    """The scans of a description. It declares nothing and points nowhere, or it is refused."""

    def __init__(self, text: bytes) -> None:
        self.scans: list[ScanSaid] = []
        self._path: list[str] = []
        self._beside = [0]
        parser = expat.ParserCreate(encoding="UTF-8", namespace_separator=" ")
        parser.StartDoctypeDeclHandler = self._declares
        parser.StartElementHandler = self._begins
        parser.EndElementHandler = self._ends
        parser.Parse(text, True)

    def _declares(self, *_what: object) -> None:
        raise not_read("it holds a document type declaration")

    def _begins(self, full_name: str, told: dict[str, str]) -> None:
        if _RULES & told.keys():
            raise not_read("it points to rules outside itself")
        name = full_name.rpartition(" ")[2]
        self._beside[-1] += name != "vectorChild"
        if len(self._path) >= _DEEPEST or self._beside[-1] > _MOST_BESIDE:
            raise not_read("what it says of itself goes on without end")
        self._path.append(name)
        self._beside.append(0)
        match self._path[1:]:
            case ["data3D", _, "points"]:
                records = _whole(told.get("recordCount", ""))
                if records < 0:
                    raise ValueError("fewer records than none")
                self.scans.append(ScanSaid(records))
            case ["data3D", _, "points", "prototype", name] if self.scans:
                self._takes(self.scans[-1], name, told)

    def _ends(self, _name: str) -> None:
        self._path.pop()
        self._beside.pop()

    def _takes(self, scan: ScanSaid, name: str, told: dict[str, str]) -> None:
        match told.get("type"):
            case "Float":
                scan.bits[name] = 32 if told.get("precision") == "single" else 64
            case "Integer" | "ScaledInteger" as kind:
                span = _whole(told.get("minimum", str(_LEAST))), _whole(told.get("maximum", str(_MOST)))
                scan.bits[name] = max(span[1] - span[0], 0).bit_length()
                if kind == "Integer":
                    scan.spans[name] = span
            case "String":
                # Its length alone takes a byte.
                scan.bits[name] = 8


def _whole(word: str) -> int:
    """A whole number of 64 bits with its sign; raises ValueError for any other."""
    number = int(word) if len(word) <= 20 else _MOST + 1
    if not _LEAST <= number <= _MOST:
        raise ValueError("a number out of all measure")
    return number
