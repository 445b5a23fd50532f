"""Pictures of the car for the papers: from where, who draws them, and whether what came is a whole PNG."""

import struct
import zlib
from typing import Literal, Protocol

from floorpan.derive import Bench
from floorpan.errors import ReportProblem
from floorpan.layout import Layout
from floorpan.report import words

ViewName = Literal["driver", "above", "rear", "free"]
VIEWS: tuple[ViewName, ...] = ("free", "driver", "above", "rear")

_SIGNATURE = b"\x89PNG\r\n\x1a\n"


class Renderer(Protocol):
    """Draws the car off the screen; handed in by whoever has one."""

    def picture(self, view: ViewName, width: int, height: int) -> bytes:
        """A PNG of width x height pixels, seen from a side."""
        ...

    def close(self) -> None:
        """Let go of what drawing holds on to; called after the last picture."""
        ...


class PictureMaker(Protocol):
    """Where renderers come from."""

    def begin(self) -> None:
        """Pictures will be wanted: begin what takes long, and return at once."""
        ...

    def renderer_of(self, layout: Layout, bench: Bench) -> Renderer | None:
        """What draws a layout; None where no pictures can be made here."""
        ...


def check_png(title: str, data: bytes) -> None:
    """Raise ReportProblem unless data is a PNG whose chunks are whole, after ISO/IEC 15948, from IHDR to IEND."""
    if not data.startswith(_SIGNATURE) or not _is_whole(data):
        what, remedy = words.NOT_A_PICTURE
        raise ReportProblem("not-a-picture", what.format(title=title), remedy, title=title)


def _is_whole(data: bytes) -> bool:
    at, kinds = len(_SIGNATURE), []
    while at + 12 <= len(data):
        (length,) = struct.unpack_from(">I", data, at)
        end = at + 8 + length
        if end + 4 > len(data):
            return False
        (told,) = struct.unpack_from(">I", data, end)
        if zlib.crc32(data[at + 4 : end]) != told:
            return False
        kinds.append(data[at + 4 : at + 8])
        at = end + 4
    return at == len(data) and kinds[:1] == [b"IHDR"] and kinds[-1:] == [b"IEND"] and b"IDAT" in kinds
