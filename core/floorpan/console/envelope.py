"""The console's envelope: trapezoid sections at a few stations, joined by straight pieces.

Own axes: origin at the foot on the centre line, X rearward, Y right, Z up.
"""

import itertools
import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from floorpan.errors import BadValue
from floorpan.fields import Range, check_fields
from floorpan.frames import Floats, Vector
from floorpan.geometry.solids import Body, Solid
from floorpan.items.placing import (
    ID,
    NAME,
    ORIGIN,
    Part,
    Place,
    Point,
    StandsOnField,
    Stops,
    no_such_part,
)
from floorpan.items.shapes import convex
from floorpan.items.still import still_kind

_FEWEST, _MOST = 2, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A cross-section: where along the length, how wide at the foot, how high, how far its sides lean in."""

    x_mm: Annotated[float, Range(-3000, 3000, "mm", "Station", "Rearward of the console's own place.")]
    width_mm: Annotated[float, Range(10, 1200, "mm", "Width at the foot", "Outside to outside.")]
    height_mm: Annotated[float, Range(5, 900, "mm", "Height", "Foot to top.")]
    side_lean_deg: Annotated[
        float, Range(-30, 60, "deg", "Side lean", "Inward from upright, going up; 0 for upright sides.")
    ] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)
        if self.top_width_mm() < 0.0:
            raise BadValue(
                "sides-cross",
                f"At station {self.x_mm:g} the sides meet below the top.",
                "Make it wider or lower, or lean the sides less.",
                x_mm=self.x_mm,
            )

    def top_width_mm(self) -> float:
        """Width at the top."""
        return self.width_mm - 2 * self.height_mm * math.tan(math.radians(self.side_lean_deg))


@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """The room the console takes; place is its foot on the centre line. 2 to 12 stations run rearward."""

    id: Annotated[str, ID]
    name: Annotated[str, NAME] = "Console"
    place: Place = ORIGIN
    stations: tuple[Station, ...] = (
        Station(x_mm=0.0, width_mm=200.0, height_mm=180.0, side_lean_deg=5.0),
        Station(x_mm=800.0, width_mm=220.0, height_mm=240.0, side_lean_deg=5.0),
    )
    stands_on: StandsOnField = "floor"
    locked: bool = False
    wall_mm: Annotated[float, Range(0.5, 30, "mm", "Wall", "Thickness of the shell.")] = 3.0

    def __post_init__(self) -> None:
        check_fields(self)
        if not _FEWEST <= len(self.stations) <= _MOST:
            raise BadValue(
                "station-count", f"A console has {_FEWEST} to {_MOST} stations.", "Add or remove a station."
            )
        if any(b.x_mm - a.x_mm < 1.0 for a, b in itertools.pairwise(self.stations)):
            raise BadValue(
                "station-order",
                "Stations run rearward, at least 1 mm apart.",
                "Move one of the two stations along.",
            )


def section(station: Station) -> tuple[Vector, ...]:
    """The corners of a station in the envelope's own axes: foot left, foot right, top right, top left."""
    foot, top = station.width_mm / 2, station.top_width_mm() / 2
    x, z = station.x_mm, station.height_mm
    return ((x, -foot, 0.0), (x, foot, 0.0), (x, top, z), (x, -top, z))


def outline_xy(envelope_: Envelope) -> tuple[Point, ...]:
    """The foot's outline in car X and Y: rearward along the left side, forward along the right."""
    left = [(station.x_mm, -station.width_mm / 2, 0.0) for station in envelope_.stations]
    right = [(station.x_mm, station.width_mm / 2, 0.0) for station in reversed(envelope_.stations)]
    stood = envelope_.place.pose().apply(np.array(left + right))
    return tuple((float(x), float(y)) for x, y, _ in stood)


def footprint(envelope_: Envelope) -> Floats:
    """The foot's outline as an array (2 * stations, 2) in car X and Y [mm], in the order of `outline_xy`."""
    return np.array(outline_xy(envelope_), dtype=float)


def station_at(envelope_: Envelope, along_mm: float) -> Station | None:
    """The section at a length along the envelope's own X, blended evenly; None beyond the ends."""
    for a, b in itertools.pairwise(envelope_.stations):
        if a.x_mm <= along_mm <= b.x_mm:
            share = (along_mm - a.x_mm) / (b.x_mm - a.x_mm)
            width = (1 - share) * a.width_mm + share * b.width_mm
            height = (1 - share) * a.height_mm + share * b.height_mm
            top = (1 - share) * a.top_width_mm() + share * b.top_width_mm()
            lean = math.degrees(math.atan2((width - top) / 2, height))
            return Station(x_mm=along_mm, width_mm=width, height_mm=height, side_lean_deg=lean)
    return None


def top_z_at(envelope_: Envelope, x_mm: float, y_mm: float | None = None) -> float | None:
    """Car Z of the upper surface over a point (x, y); None beside it. y left out: on the centre line."""
    pose = envelope_.place.pose()
    y = envelope_.place.y_mm if y_mm is None else y_mm
    along, across, _ = (float(v) for v in pose.inverse().apply(np.array([x_mm, y, envelope_.place.z_mm])))
    if y_mm is None:
        along = (x_mm - envelope_.place.x_mm) / pose.rotation[0] if abs(pose.rotation[0]) > 1e-6 else along
        across = 0.0
    here = station_at(envelope_, along)
    if here is None:
        return None
    foot, top = here.width_mm / 2, here.top_width_mm() / 2
    beside = abs(across)
    if beside <= top:
        return envelope_.place.z_mm + here.height_mm
    if beside > foot:
        return None
    return envelope_.place.z_mm + here.height_mm * (foot - beside) / (foot - top)


def parts(envelope_: Envelope) -> tuple[Part, ...]:
    """The shell."""
    return (Part(name="shell", label="console shell", material="console"),)


def envelope(envelope_: Envelope, part_name: str, stops: Stops) -> Body:
    """One hull in car axes per pair of neighbouring stations."""
    if part_name != "shell":
        raise no_such_part(part_name)
    pose = envelope_.place.pose()
    return tuple(
        Solid(convex((*section(a), *section(b))), pose) for a, b in itertools.pairwise(envelope_.stations)
    )


KIND = still_kind(
    kind="console",
    label="Console",
    model=Envelope,
    parts=parts,
    envelope=envelope,
    set_down_mm=outline_xy,
)
