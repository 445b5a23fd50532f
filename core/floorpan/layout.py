"""The one value: everything a builder has decided, and nothing that can be worked out from it.

No arrays live here; a scan is named by the hash of its bytes and its mesh is in the store. Whatever was pointed
at on a scan is kept in that scan's own coordinates, placed things in car axes.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal, TypeVar

from floorpan.console import KIND as CONSOLE_KIND
from floorpan.console import Envelope
from floorpan.driver import DrivingPosition, Person
from floorpan.errors import BadValue, NoSuchThing
from floorpan.fields import Choice, Range, Text, check_fields
from floorpan.frames import Pose, Vector
from floorpan.items import (
    Armrest,
    Buckle,
    Control,
    CupHolder,
    DashEdge,
    Door,
    Flap,
    Handbrake,
    KeepOut,
    MeshPart,
    Seat,
    Shifter,
    Vessel,
    Wheel,
)
from floorpan.items.catalogue import KINDS as ITEM_KINDS
from floorpan.items.placing import ItemKind
from floorpan.scan.area_shapes import AreaShape, BoxShape
from floorpan.scan.axes import AxisPick
from floorpan.scan.bridges import Bridge
from floorpan.scan.carpet import SQUEEZED_SHARE, Carpet, Layer
from floorpan.scan.centre_lines import CentreLine
from floorpan.scan.cleaning_list import CleaningDeed
from floorpan.scan.joining import Joined, Target
from floorpan.scan.known_lengths import KnownLength
from floorpan.scan.outlines import Outline
from floorpan.scan.probes import Probe
from floorpan.scan.straight_edges import StraightEdge

T = TypeVar("T")

Side = Literal["left", "right"]
Step = Literal["scan", "axes", "floor", "driver", "controls", "cup", "console", "pieces", "check", "report"]
STEPS: tuple[Step, ...] = (
    "scan",
    "axes",
    "floor",
    "driver",
    "controls",
    "cup",
    "console",
    "pieces",
    "check",
    "report",
)
AREA_KINDS = (
    "floor",
    "tunnel top",
    "tunnel flank",
    "dash",
    "seat",
    "handbrake",
    "wheel rim",
    "belt",
    "keep-out",
    "scan",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """An upright box in a frame of its own.

    frame       : from box coordinates to the scan's own coordinates
    least_mm    : least corner in box coordinates [mm]
    greatest_mm : greatest corner [mm]
    """

    frame: Pose = Pose()
    least_mm: Vector
    greatest_mm: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A named part of a scan: its box first, then what was drawn, each shape put to it or taken away.

    box        : None where it was only drawn
    shapes     : outlines and strokes of the brush, in the order they were drawn
    stands_for : id of a placed thing that takes this area's place in every check ("" = the scan itself counts)
    carpet     : what lies on it, None for the same as on the rest of the floor
    """

    id: str
    kind: Annotated[str, Choice(AREA_KINDS, "What it is")]
    box: Box | None = None
    shapes: tuple[AreaShape, ...] = ()
    stands_for: str = ""
    carpet: Carpet | None = None

    def __post_init__(self) -> None:
        check_fields(self)
        if self.box is None and not self.shapes:
            raise BadValue("area-nowhere", f"This {self.kind} lies nowhere.", "Draw it, or give it a box.")

    def drawn(self) -> tuple[AreaShape, ...]:
        """Everything that says where it lies, in the order it counts."""
        if self.box is None:
            return self.shapes
        box = self.box
        shape = BoxShape(frame=box.frame, least_mm=box.least_mm, greatest_mm=box.greatest_mm)
        return (AreaShape(box=shape), *self.shapes)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanRef:
    """One scan of the project.

    sha256 : of the very bytes that were read; suffix : of that file, with its dot
    cleaned : what is cleaned away, in the order it is done; the file stays as it is
    pose   : from the scan's own coordinates (mm) into car axes; None until axes are set
    crop, outlines : what of it counts, the box first, then each outline in the order it was drawn
    bridges : small holes that count as closed
    targets, joined : places that another scan shows too, and how this one is joined to it; the pose follows from that
    factor : what the scan was multiplied by since it was read, so that known lengths agree
    good_to_mm : what the builder says every gap must carry for this scan, as a half-width at about 95 %
    """

    id: str
    name: Annotated[str, Text(120, "Name")]
    sha256: str
    suffix: str
    original_name: Annotated[str, Text(260, "File")]
    unit: Annotated[str, Choice(("mm", "cm", "m", "in", "ft"), "Read as")]
    role: Annotated[str, Choice(("bare", "carpet", "seats", "other"), "What it shows")] = "bare"
    shown: bool = True
    flipped: bool = False
    cleaned: tuple[CleaningDeed, ...] = ()
    pose: Pose | None = None
    picks: tuple[AxisPick, ...] = ()
    centre_lines: tuple[CentreLine, ...] = ()
    crop: Box | None = None
    outlines: tuple[Outline, ...] = ()
    areas: tuple[Area, ...] = ()
    bridges: tuple[Bridge, ...] = ()
    probes: tuple[Probe, ...] = ()
    lengths: tuple[KnownLength, ...] = ()
    edges: tuple[StraightEdge, ...] = ()
    targets: tuple[Target, ...] = ()
    joined: Joined | None = None
    factor: Annotated[float, Range(0.9, 1.1, "", "Multiplied by", "on the builder's word")] = 1.0
    good_to_mm: Annotated[
        float,
        Range(
            0.05, 20.0, "mm", "Scan good to", "2 where nothing was measured; less once known lengths agree"
        ),
    ] = 2.0
    good_to_note: Annotated[str, Text(200, "Why")] = ""

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitChange:
    """A limit that this project judges differently, and why."""

    id: str
    value: float
    upper: float | None = None
    note: Annotated[str, Text(200, "Why")] = ""

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """A step signed off. `key` is a hash of the step's inputs then, so that "look again" is derived."""

    step: Step
    date: str
    reason: Annotated[str, Text(400, "Why")] = ""
    key: str = ""

    def __post_init__(self) -> None:
        check_fields(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """The old seat and knob, for comparison; never checked."""

    seat: Seat | None = None
    knob_mm: Vector | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unknown:
    """A thing of a kind this version does not know, kept word for word."""

    id: str
    kind: str
    name: str
    extra: str


Item = (
    Shifter
    | Handbrake
    | Buckle
    | Armrest
    | Wheel
    | KeepOut
    | Flap
    | DashEdge
    | Door
    | MeshPart
    | Control
    | CupHolder
    | Vessel
)
Thing = Seat | Item | Envelope
KINDS: tuple[ItemKind[Any], ...] = (*ITEM_KINDS, CONSOLE_KIND)


def record_of(thing: Thing) -> ItemKind[Any]:
    """Everything the program can ask of a placed thing's kind."""
    return _RECORDS[type(thing)]


_RECORDS: dict[type, ItemKind[Any]] = {record.model: record for record in KINDS}


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Everything that was decided. See the module's first line.

    layers : of the carpet, where somebody told them apart; carpet_mm is their sum then
    knob_target_mm : where the knob shall be in neutral, in car axes; None while nobody decided
    """

    title: Annotated[str, Text(120, "Project")] = "Untitled"
    driver_side: Annotated[Side, Choice(("left", "right"), "Driver sits")] = "left"
    carpet_mm: Annotated[
        float, Range(0.0, 40.0, "mm", "Carpet, loose", "pile, backing and underlay together, not squeezed")
    ] = 12.0
    layers: tuple[Layer, ...] = ()
    scans: tuple[ScanRef, ...] = ()
    people: tuple[Person, ...] = ()
    driving_position: DrivingPosition = field(default_factory=DrivingPosition)
    men_percent: Annotated[
        float,
        Range(0.0, 100.0, "", "Men of a hundred drivers", "The mix that shares of drivers are told for."),
    ] = 50.0
    seats: tuple[Seat, ...] = ()
    items: tuple[Item, ...] = ()
    consoles: tuple[Envelope, ...] = ()
    before: Before = field(default_factory=Before)
    knob_target_mm: Vector | None = None
    limits: tuple[LimitChange, ...] = ()
    absent: tuple[str, ...] = ()
    accepted: tuple[Acceptance, ...] = ()
    unknown: tuple[Unknown, ...] = ()
    last_number: tuple[tuple[str, int], ...] = ()

    def __post_init__(self) -> None:
        check_fields(self)

    def carpet(self) -> Carpet:
        """What lies on the floor wherever an area does not say otherwise."""
        if self.layers or self.carpet_mm <= 0.0:
            return Carpet(layers=self.layers)
        squeezed = SQUEEZED_SHARE * self.carpet_mm
        return Carpet(layers=(Layer(loose_mm=self.carpet_mm, squeezed_mm=squeezed),))

    def carpet_on(self, area_id: str) -> Carpet:
        """What lies on a named area of a scan, or on the rest of the floor."""
        areas = (area for scan in self.scans for area in scan.areas)
        own = next((area.carpet for area in areas if area.id == area_id), None)
        return self.carpet() if own is None else own

    def things(self) -> Iterator[Thing]:
        """Everything placed, in menu order."""
        yield from self.seats
        yield from self.items
        yield from self.consoles

    def thing(self, id: str) -> Thing:
        """The placed thing of that id; raises NoSuchThing."""
        for thing in self.things():
            if thing.id == id:
                return thing
        raise NoSuchThing(
            "no-such-thing", f"There is no {id} in this layout.", "Pick a part from the ledger.", id=id
        )

    def scan(self, id: str) -> ScanRef:
        """The scan of that id; raises NoSuchThing."""
        for scan in self.scans:
            if scan.id == id:
                return scan
        raise NoSuchThing(
            "no-such-scan", f"There is no {id} in this layout.", "Start from a scan first.", id=id
        )

    def driver(self) -> Person | None:
        """The design driver: the first person who drives."""
        return next((person for person in self.people if person.role == "driver"), None)

    def of(self, kind: type[T]) -> tuple[T, ...]:
        """Placed things of one class."""
        return tuple(thing for thing in self.things() if isinstance(thing, kind))
