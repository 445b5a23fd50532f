"""A sketch of how something is taped: solids, lines, the marked length and its ends, in mm on a flat sheet, Y up."""

import math
from dataclasses import dataclass
from typing import Literal

At = tuple[float, float]
Path = tuple[At, ...]
Tone = Literal["body", "limb", "far", "seat", "steel", "add"]
Way = Literal["along", "level", "upright"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A filled piece: its rings [mm], and those edges of them that are drawn.

    tone : body and limb of the figure, far what lies behind them, seat, steel, and what is added: glove, sole, jacket
    """

    tone: Tone
    rings: tuple[Path, ...]
    edges: tuple[Path, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A straight length between two landmarks, drawn beside them.

    way       : along the line between them, or only its level or its upright part
    offset_mm : how far the drawn line stands off the other one: level: up; upright: right; along: left of its way
    """

    one: At
    other: At
    way: Way = "along"
    offset_mm: float = 0.0

    def ends(self) -> tuple[At, At]:
        """The ends of the drawn line."""
        (x0, y0), (x1, y1) = self.one, self.other
        if self.way == "level":
            return (x0, y1 + self.offset_mm), (x1, y1 + self.offset_mm)
        if self.way == "upright":
            return (x1 + self.offset_mm, y0), (x1 + self.offset_mm, y1)
        long = math.dist(self.one, self.other)
        across = ((y0 - y1) / long * self.offset_mm, (x1 - x0) / long * self.offset_mm)
        return (x0 + across[0], y0 + across[1]), (x1 + across[0], y1 + across[1])

    def length_mm(self) -> float:
        """How long the drawn line is."""
        return math.dist(*self.ends())


@dataclass(frozen=True, slots=True, kw_only=True)
class Angle:
    """An angle at a landmark, from one direction to another, drawn as an arc between two thin lines."""

    at: At
    one: At
    other: At
    radius_mm: float

    def degrees(self) -> float:
        """How wide it is drawn, 0 to 180."""
        first, second = (math.atan2(p[1] - self.at[1], p[0] - self.at[0]) for p in (self.one, self.other))
        turn = math.degrees(second - first) % 360.0
        return min(turn, 360.0 - turn)

    def arc(self) -> Path:
        """Its arc, the short way round."""
        first, second = (math.atan2(p[1] - self.at[1], p[0] - self.at[0]) for p in (self.one, self.other))
        turn = (second - first + math.pi) % (2.0 * math.pi) - math.pi
        steps = max(6, round(abs(turn) / math.radians(5.0)))
        angles = [first + turn * step / steps for step in range(steps + 1)]
        return tuple(
            (self.at[0] + self.radius_mm * math.cos(a), self.at[1] + self.radius_mm * math.sin(a))
            for a in angles
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Loop:
    """A tape laid round: its visible run."""

    path: Path


Mark = Dimension | Angle | Loop | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """How one field is taped.

    key    : of a measure of `body_figures`, a field of `Person`, or a taped point
    view   : what the figure does: seated, driving, hand ...
    lines  : ground, wall, belts and the like, each a path
    mark   : what is measured; None where it is not a length
    dots   : the landmarks
    least, greatest : corners of the sheet; every path lies within
    says   : what is to be seen, read out in its place
    """

    key: str
    view: str
    label: str
    how: str
    says: str
    solids: tuple[Solid, ...]
    lines: tuple[Path, ...]
    mark: Mark
    dots: tuple[At, ...]
    least: At
    greatest: At
