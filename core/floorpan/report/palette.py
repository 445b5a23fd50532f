"""The colours of paper: the light theme of the palette table in assets. No other module here writes one down."""

import functools
import json
from importlib.resources import files
from typing import Any

GROUND = "raised"
PAPER = "paper"
INK = "ink"
INK2 = "ink2"
LINE = "line"
EDGE = "edge"
ACCENT = "accent"


@functools.cache
def _table() -> dict[str, Any]:
    text = files("floorpan_assets").joinpath("palette.json").read_text(encoding="utf-8")
    table: dict[str, Any] = json.loads(text)
    return table


def colour(role: str) -> str:
    """`#RRGGBB` of a role (ink, line, edge ...) or a verdict (clear, hits ...); short is coloured as hits."""
    found: str = _table()["themes"]["light"]["hits" if role == "short" else role]
    return found


def thing_colour(material: str) -> str:
    """`#RRGGBB` of what a thing is made of (scan, seat, steel, vessel ...); trim where it is not known."""
    things: dict[str, str] = _table()["things"]["light"]
    return things.get("well" if material == "liner" else material, things["trim"])
