"""What a report tells beyond layout and findings, as plain values that whoever writes it fills in."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Any, Literal

from floorpan.console import Envelope
from floorpan.fields import Range, rules
from floorpan.frames import Vector
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.solids import Body
from floorpan.items.states import State
from floorpan.layout import Acceptance, Layout, Thing, record_of
from floorpan.report.driver_facts import DriverFacts

Edition = Literal["myself", "customer", "inspector", "workshop"]
EDITIONS: tuple[Edition, ...] = ("myself", "customer", "inspector", "workshop")


@dataclass(frozen=True, slots=True, kw_only=True)
class ScanFacts:
    """What one scan is.

    size_mm    : extent along its own axes
    noise_mm   : one sigma of its roughness, None where it was not measured
    good_to_mm : what every gap carries for it, half-width at about 95 %
    cleaned    : what was dropped or mended in reading it, in words
    cleaning   : what each line of its cleaning list came to
    """

    id: str
    name: str
    file: str
    unit: str
    triangles: int
    points: int
    size_mm: Vector
    islands: int
    holes: int
    noise_mm: float | None
    good_to_mm: float
    good_to_note: str = ""
    cleaned: tuple[str, ...] = ()
    cleaning: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class AxesFacts:
    """How well one scan is set into car axes.

    residuals_mm      : (letter of the picked point, how far off it is)
    tilt_mm_over_900  : how far the axes' tilt may throw a point 900 mm away, None where it cannot be told
    mirror_can_be_told: whether the picks would show swapped sides
    """

    scan_id: str
    residuals_mm: tuple[tuple[str, float], ...] = ()
    tilt_mm_over_900: float | None = None
    mirror_can_be_told: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedFacts:
    """One placed thing: where it stands in car axes, how it is turned, and the sizes it was given."""

    id: str
    name: str
    kind: str
    at_mm: Vector
    turn_deg: float
    stands_on: str
    locked: bool
    sizes: tuple[tuple[str, float, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptanceFacts:
    """A step signed off; look_again where its inputs have changed since."""

    step: str
    date: str
    reason: str
    look_again: bool


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """A thing's stuff in car axes as it is drawn: what it is made of gives its colour."""

    id: str
    name: str
    material: str
    body: Body


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ReportFacts:
    """Everything a report needs besides layout and findings.

    date        : as it is printed; nothing here reads a clock
    project     : as it is printed, the layout's title where empty; layout_version : name of the version laid out
    edition     : for whom; it sets the order of the pages, never what is told
    drawn, floor: for the vector views; floor is the cropped scan in car axes, unseen its patched holes
    shown       : the state the drawn bodies stand in
    pictures    : (title, PNG bytes) made beforehand
    not_checked : sentences on what the checks do not cover, beyond those the layout tells
    driver      : what follows for who drives; None where it was not gathered, or nobody does
    """

    date: str
    version: str
    project: str = ""
    layout_version: str = ""
    edition: Edition = "myself"
    scans: tuple[ScanFacts, ...] = ()
    axes: tuple[AxesFacts, ...] = ()
    placed: tuple[PlacedFacts, ...] = ()
    acceptances: tuple[AcceptanceFacts, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    floor: Mesh | None = None
    unseen: Mesh | None = None
    shown: State = ()
    pictures: tuple[tuple[str, bytes], ...] = ()
    not_checked: tuple[str, ...] = ()
    driver: DriverFacts | None = None


def gather(
    layout: Layout,
    *,
    date: str,
    version: str,
    project: str = "",
    layout_version: str = "",
    edition: Edition = "myself",
    scans: tuple[ScanFacts, ...] = (),
    axes: tuple[AxesFacts, ...] = (),
    keys: Mapping[str, str] | None = None,
    placed: Callable[[str], Thing] | None = None,
    body: Callable[[str], Body] | None = None,
    floor: Mesh | None = None,
    unseen: Mesh | None = None,
    shown: State = (),
    pictures: tuple[tuple[str, bytes], ...] = (),
) -> ReportFacts:
    """Facts of a layout, from what the caller has at hand.

    keys   : today's key of each step, to tell which acceptance has to be looked at again
    placed : thing id -> the thing as it stands (a vessel in its well), e.g. `scene.placed`
    body   : id, `thing.part` or `person.hand` -> its stuff in car axes in the shown state; without it no
             vector views are drawn of things
    """
    stand = placed or layout.thing
    return ReportFacts(
        date=date,
        version=version,
        project=project or layout.title,
        layout_version=layout_version,
        edition=edition,
        scans=scans,
        axes=axes,
        placed=tuple(_placed(stand(thing.id)) for thing in layout.things()),
        acceptances=tuple(_acceptance(one, keys) for one in layout.accepted),
        drawn=tuple(_drawn(layout, body)) if body is not None else (),
        floor=floor,
        unseen=unseen,
        shown=shown,
        pictures=pictures,
    )


def _placed(thing: Thing) -> PlacedFacts:
    place = thing.place
    return PlacedFacts(
        id=thing.id,
        name=thing.name,
        kind=record_of(thing).label,
        at_mm=(place.x_mm, place.y_mm, place.z_mm),
        turn_deg=place.turn_deg,
        stands_on=getattr(thing, "stands_on", "none"),
        locked=thing.locked,
        sizes=tuple((label, numbers[0], unit) for label, numbers, unit in typed_numbers(thing)),
    )


def typed_numbers(value: Any) -> Iterator[tuple[str, tuple[float, ...], str]]:
    """(label, numbers, unit) of every number somebody typed into a dataclass value."""
    held = rules(value.__class__)
    for one in fields(value):
        rule, told = held.get(one.name), getattr(value, one.name)
        numbers = told if isinstance(told, tuple) else (told,)
        if isinstance(rule, Range) and all(isinstance(n, int | float) and math.isfinite(n) for n in numbers):
            yield rule.label, tuple(float(n) for n in numbers), rule.unit


def _acceptance(one: Acceptance, keys: Mapping[str, str] | None) -> AcceptanceFacts:
    now = "" if keys is None else keys.get(one.step, "")
    return AcceptanceFacts(
        step=one.step, date=one.date, reason=one.reason, look_again=bool(now and one.key and now != one.key)
    )


def _drawn(layout: Layout, body: Callable[[str], Body]) -> Iterator[Drawn]:
    for console in layout.of(Envelope):
        yield Drawn(console.id, console.name, "console", body(console.id))
    for thing in layout.things():
        if isinstance(thing, Envelope):
            continue
        for part in record_of(thing).parts(thing):
            id = f"{thing.id}.{part.name}"
            yield Drawn(id, f"{thing.name}, {part.label}", part.material, body(id))
    person = layout.driver()
    if person is not None and any(record_of(thing).kind == "shifter" for thing in layout.things()):
        yield Drawn(f"{person.id}.hand", "hand", "driver", body(f"{person.id}.hand"))
