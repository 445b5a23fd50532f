"""The theme record: every colour the program knows, read from the table in assets.

Colours are `#RRGGBB` strings, so that the toolkit and the viewport take the same value. No other module
of the program writes a colour down.
"""

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal, get_args

ThemeName = Literal["light", "dark", "contrast"]
THEME_NAMES: tuple[ThemeName, ...] = get_args(ThemeName)

Verdict = Literal["hits", "short", "close", "unseen", "pending", "clear"]
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
"""Worst first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Things:
    """Colours of what stands in the car. Opacity runs from 0 to 1."""

    scan: str
    carpet: str
    seat: str
    trim: str
    console: str
    console_line: str
    steel: str
    knob: str
    driver: str
    vessel: str
    well: str
    driver_opacity: float
    vessel_opacity: float
    console_opacity_before_its_step: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """How strongly the viewport's lights act, 0 to 1."""

    ambient: float
    diffuse: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """One theme: grounds, inks, verdicts, and the things in the car."""

    name: ThemeName
    bench: str
    paper: str
    raised: str
    line: str
    edge: str
    ink: str
    ink2: str
    off: str
    clear: str
    close: str
    hits: str
    unseen: str
    pending: str
    accent: str
    on_accent: str
    wash: str
    things: Things
    lamp: Lamp

    def verdict(self, verdict: Verdict) -> str:
        """The colour of a verdict; short shares the colour of hits, its shape tells them apart."""
        by_verdict: dict[Verdict, str] = {
            "hits": self.hits,
            "short": self.hits,
            "close": self.close,
            "unseen": self.unseen,
            "pending": self.pending,
            "clear": self.clear,
        }
        return by_verdict[verdict]


@dataclass(frozen=True, slots=True, kw_only=True)
class Maps:
    """Colour maps as stops at equal steps.

    `gap` runs from tight to roomy, `noise` from quiet to twice the accepted noise, `deviation` from shy
    to proud.
    """

    gap: tuple[str, ...]
    noise: tuple[str, ...]
    deviation: tuple[str, ...]


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = json.loads(files("floorpan_assets").joinpath("palette.json").read_text("utf-8"))
    return table


@cache
def load_theme(name: ThemeName) -> Theme:
    """The theme called `name`."""
    table = _table()
    opacity = table["opacity"]
    things = Things(
        **table["things"][name],
        driver_opacity=opacity["driver"],
        vessel_opacity=opacity["vessel"],
        console_opacity_before_its_step=opacity["console_before_its_step"],
    )
    return Theme(name=name, things=things, lamp=Lamp(**table["lamp"][name]), **table["themes"][name])


@cache
def load_maps() -> Maps:
    """The three colour maps; they are the same in every theme."""
    return Maps(**{name: tuple(stops) for name, stops in _table()["maps"].items()})
