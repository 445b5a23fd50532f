"""Files spoilt on purpose: seeded, of every format that is read."""

import io
import struct
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

_MOST_BYTES = 40_000


@dataclass(frozen=True, slots=True)
class Spoilt:
    """One spoilt file: what it was made from, how, its ending and its bytes."""

    source: str
    how: str
    suffix: str
    data: bytes


def made_up() -> dict[str, bytes]:
    """A small whole file of each format."""
    triangle = struct.pack("<12fH", 0, 0, 1, 0, 0, 0, 10, 0, 0, 0, 10, 0, 0)
    facet = b"facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 9 0 0\nvertex 0 9 0\nendloop\nendfacet\n"
    head = (
        b"ply\nformat %s 1.0\nelement vertex 4\nproperty float x\nproperty float y\nproperty float z\n"
        b"element face 2\nproperty list uchar int vertex_indices\nend_header\n"
    )
    corners = ((0, 0, 0), (9, 0, 0), (9, 9, 0), (0, 9, 0))
    faces = ((0, 1, 2), (0, 2, 3))
    plain = b"".join(b"%d %d %d\n" % one for one in corners) + b"".join(
        b"3 %d %d %d\n" % one for one in faces
    )
    ends = {}
    for order, name in (("<", b"binary_little_endian"), (">", b"binary_big_endian")):
        body = b"".join(struct.pack(order + "3f", *one) for one in corners)
        ends[name] = head % name + body + b"".join(struct.pack(order + "B3i", 3, *one) for one in faces)
    obj = b"".join(b"v %d %d %d\n" % one for one in corners) + b"f 1 2 3\nf 1/1/1 3/3/3 -1\n"
    model = (
        b'<?xml version="1.0"?><model unit="inch" '
        b'xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources><object id="1"><mesh><vertices>'
        + b"".join(b'<vertex x="%d" y="%d" z="%d"/>' % one for one in corners)
        + b"</vertices><triangles>"
        + b"".join(b'<triangle v1="%d" v2="%d" v3="%d"/>' % one for one in faces)
        + b'</triangles></mesh></object></resources><build><item objectid="1"/></build></model>'
    )
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as packed:
        packed.writestr("3D/3dmodel.model", model)
    cloud = b"".join(b"%d.%d, %d.5, 7.25\n" % (n % 20, n % 7, n // 20) for n in range(400))
    return {
        "binary.stl": b"made up".ljust(80) + struct.pack("<I", 3) + 3 * triangle,
        "text.stl": b"solid a\n" + 3 * facet + b"endsolid a\n",
        "text.ply": head % b"ascii" + plain,
        "little.ply": ends[b"binary_little_endian"],
        "big.ply": ends[b"binary_big_endian"],
        "small.obj": obj,
        "packed.3mf": held.getvalue(),
        "cloud.csv": cloud,
        "cloud.xyz": cloud.replace(b",", b" "),
    }


def sources(folder: Path | None) -> dict[str, bytes]:
    """What is spoilt: the made-up files, and those of the shared data folder where it is there, their beginnings."""
    found = made_up()
    if folder is not None and folder.is_dir():
        for path in sorted(folder.glob("*/*")):
            if path.suffix.lower() in (".stl", ".ply", ".obj"):
                found[path.name] = path.read_bytes()[:_MOST_BYTES]
    return found


def spoilt(found: dict[str, bytes], how_many: int, seed: int = 1) -> Iterator[Spoilt]:
    """So many spoilt files, the same for the same seed."""
    random = np.random.default_rng(seed)
    names = sorted(found)
    for number in range(how_many):
        name = names[number % len(names)]
        way = list(_WAYS)[int(random.integers(len(_WAYS)))]
        data = _WAYS[way](bytearray(found[name]), random)
        yield Spoilt(name, way, Path(name).suffix, bytes(data))


def _bits(data: bytearray, random: np.random.Generator) -> bytearray:
    for at in random.integers(0, max(len(data), 1), int(random.integers(1, 30))) if data else ():
        data[at] ^= 1 << int(random.integers(8))
    return data


def _cut(data: bytearray, random: np.random.Generator) -> bytearray:
    return data[: int(random.integers(0, len(data) + 1))]


def _again(data: bytearray, random: np.random.Generator) -> bytearray:
    start, end = sorted(int(one) for one in random.integers(0, len(data) + 1, 2))
    at = int(random.integers(0, len(data) + 1))
    return data[:at] + data[start : min(end, start + 5000)] + data[at:]


def _gone(data: bytearray, random: np.random.Generator) -> bytearray:
    start = int(random.integers(0, len(data) + 1))
    return data[:start] + data[start + int(random.integers(1, 200)) :]


def _words(data: bytearray, random: np.random.Generator) -> bytearray:
    words = (
        b"nan",
        b"-inf",
        b"1e400",
        b"99999999999",
        b"-1",
        b"0",
        b"",
        b"x",
        b"\xff\xfe",
        b"1,5",
        b"</model>",
    )
    parts = bytes(data).split(b" ")
    for at in random.integers(0, len(parts), int(random.integers(1, 12))):
        parts[at] = words[int(random.integers(len(words)))]
    return bytearray(b" ".join(parts))


def _counts(data: bytearray, random: np.random.Generator) -> bytearray:
    """The count in a binary STL's head, and every number in a text head."""
    huge = int(random.choice([0, 1, 7, 2**16, 2**31 - 1, 2**32 - 1]))
    if len(data) > 84:
        data[80:84] = struct.pack("<I", huge)
    for name in (b"vertex ", b"face "):
        at = bytes(data[:400]).find(b"element " + name)
        if at >= 0:
            end = bytes(data).find(b"\n", at)
            data[at:end] = b"element " + name + str(huge).encode()
    return data


def _ends(data: bytearray, random: np.random.Generator) -> bytearray:
    to = (b"\r\n", b"\r", b"\n\n", b"")[int(random.integers(4))]
    return bytearray(bytes(data).replace(b"\n", to))


def _wide(data: bytearray, random: np.random.Generator) -> bytearray:
    order = ("utf-16-le", "utf-16-be")[int(random.integers(2))]
    mark = b"\xff\xfe" if order.endswith("le") else b"\xfe\xff"
    return bytearray(mark + bytes(data).decode("latin-1").encode(order))


_WAYS = {
    "bits turned": _bits,
    "cut off": _cut,
    "a part twice": _again,
    "a part gone": _gone,
    "words swapped": _words,
    "counts changed": _counts,
    "line ends changed": _ends,
    "two bytes a letter": _wide,
}
