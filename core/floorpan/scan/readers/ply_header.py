"""The head of a PLY file: which elements follow, in what form. After G. Turk, "The PLY polygon file format", 1994."""

from dataclasses import dataclass

from floorpan.errors import UnreadableScan

# Both spellings of every type.
TYPES = {
    "char": "i1", "int8": "i1", "uchar": "u1", "uint8": "u1",
    "short": "i2", "int16": "i2", "ushort": "u2", "uint16": "u2",
    "int": "i4", "int32": "i4", "uint": "u4", "uint32": "u4",
    "float": "f4", "float32": "f4", "double": "f8", "float64": "f8",
}  # fmt: skip

_LONGEST_HEAD = 1 << 20


@dataclass(frozen=True, slots=True)
class Property:
    """One property; a list has `counter`, the type of its length."""

    name: str
    kind: str
    counter: str = ""


@dataclass(frozen=True, slots=True)
class Element:
    """A run of rows. `count` is what the head says, which the file need not hold."""

    name: str
    count: int
    properties: tuple[Property, ...]

    def place(self, *names: str) -> int:
        """Column of the first property with one of these names, -1 where there is none."""
        for name in names:
            for column, one in enumerate(self.properties):
                if one.name == name:
                    return column
        return -1

    @property
    def lists(self) -> bool:
        """Whether any property is a list, so that rows differ in length."""
        return any(one.counter for one in self.properties)


@dataclass(frozen=True, slots=True)
class Head:
    """order : "<", ">" or "" for text; start : where the rows begin"""

    order: str
    elements: tuple[Element, ...]
    start: int


def read_head(data: bytes) -> Head:
    """The head of a PLY. Raises UnreadableScan where it cannot be followed."""
    end = data.find(b"end_header", 0, _LONGEST_HEAD)
    if not data.lstrip()[:3].lower() == b"ply" or end < 0:
        raise _damaged("its head does not end")
    start = end + len(b"end_header")
    while start < len(data) and data[start : start + 1] in b" \t":
        start += 1
    start += 2 if data[start : start + 2] == b"\r\n" else 1
    order: str | None = None
    elements: list[tuple[str, int, list[Property]]] = []
    for line in data[:end].decode("latin-1").replace("\r\n", "\n").replace("\r", "\n").split("\n"):
        words = line.split()
        if not words or words[0] in ("ply", "comment", "obj_info"):
            continue
        if words[0] == "format" and len(words) >= 2:
            order = {"ascii": "", "binary_little_endian": "<", "binary_big_endian": ">"}.get(words[1])
        elif words[0] == "element" and len(words) >= 3 and words[2].isdecimal():
            elements.append((words[1], int(words[2]), []))
        elif words[0] == "property" and elements:
            elements[-1][2].append(_property(words))
        else:
            raise _damaged(f"its head says \u201c{line.strip()[:60]}\u201d")
    if order is None:
        raise _damaged("its head does not say how numbers are written")
    return Head(order, tuple(Element(name, count, tuple(rows)) for name, count, rows in elements), start)


def _property(words: list[str]) -> Property:
    if len(words) >= 5 and words[1] == "list" and words[2] in TYPES and words[3] in TYPES:
        return Property(words[4], TYPES[words[3]], TYPES[words[2]])
    if len(words) >= 3 and words[1] in TYPES:
        return Property(words[2], TYPES[words[1]])
    raise _damaged(f"its head says \u201c{' '.join(words)[:60]}\u201d")


def _damaged(why: str) -> UnreadableScan:
    return UnreadableScan("ply-damaged", f"This PLY file cannot be followed: {why}.", "Export it again.")
