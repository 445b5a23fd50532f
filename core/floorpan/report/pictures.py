"""PNG pictures that are handed in: whole, or refused."""

import struct
import zlib

from floorpan.errors import ReportProblem
from floorpan.report import words

_SIGNATURE = b"\x89PNG\r\n\x1a\n"


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
