"""What every placed thing shares: place, state axes, parts, grips, and the record of its kind.

A state axis has named stops and legs between them. A leg is called `from-to` ("N-3"). Along a leg a share
from 0 to 1 runs evenly in the mechanism's own angles or travel: between two shares s and t no point of the
part moves farther than motion_mm * |t - s|.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated, Generic, Literal, Protocol, TypeVar

from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, Text, check_fields
from floorpan.frames import Pose, Vector, vector_of
from floorpan.geometry.solids import Body

StandsOn = Literal["floor", "console", "none"]
Material = Literal["steel", "knob", "seat", "vessel", "liner", "console", "driver"]
Stops = Mapping[str, str]
Point = tuple[float, float]

ID = Text(60, "Id", "Kind and number, never used twice.")
NAME = Text(60, "Name", "What you call it.")
STANDS_ON = Choice(("floor", "console", "none"), "Stands on", "What it is set down on.")

StandsOnField = Annotated[StandsOn, STANDS_ON]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a thing stands in car axes: a point, and a turn about Z by the right hand rule."""

    x_mm: Annotated[float, Range(-10000, 10000, "mm", "X", "Rearward of the car's origin.")] = 0.0
    y_mm: Annotated[float, Range(-10000, 10000, "mm", "Y", "Right of the car's centre plane.")] = 0.0
    z_mm: Annotated[float, Range(-10000, 10000, "mm", "Z", "Over the car's origin.")] = 0.0
    turn_deg: Annotated[
        float, Range(-360, 360, "deg", "Turn", "About the upright, anticlockwise seen from above.")
    ] = 0.0

    def __post_init__(self) -> None:
        check_fields(self)

    def pose(self) -> Pose:
        """The pose from the thing's own axes into car axes."""
        if not self.turn_deg:
            return Pose(shift_mm=(self.x_mm, self.y_mm, self.z_mm))
        turn = Pose.turned((0.0, 0.0, 1.0), self.turn_deg)
        return Pose(rotation=turn.rotation, shift_mm=(self.x_mm, self.y_mm, self.z_mm))


ORIGIN = Place()


@dataclass(frozen=True, slots=True, kw_only=True)
class StateAxis:
    """One way a thing can stand differently.

    name  : "gear", "notch", "place"
    stops : the named positions
    legs  : pairs of stops with a continuous way between them, called "from-to"
    rest  : the stop it has when nobody touches it
    """

    name: str
    stops: tuple[str, ...]
    legs: tuple[tuple[str, str], ...] = ()
    rest: str

    def leg_names(self) -> tuple[str, ...]:
        """The legs as stop names, "N-3"."""
        return tuple(f"{a}-{b}" for a, b in self.legs)

    def leg(self, name: str) -> tuple[str, str] | None:
        """The pair of stops of a leg name, None where the name is a stop or unknown."""
        return next((pair for pair in self.legs if f"{pair[0]}-{pair[1]}" == name), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One piece of a thing; moved_by names the axes that move it."""

    name: str
    label: str
    material: Material
    moved_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """Where a hand goes: the centre of the grip in car axes and the bare hand's ball about it [mm].

    knuckles_mm, knuckles_deep_mm : how broad the row of knuckles is across the car and how deep, beside the ball;
                                    0 where the ball is all that is counted
    """

    name: str
    at_mm: Vector
    radius_mm: float
    moved_by: tuple[str, ...] = ()
    knuckles_mm: float = 0.0
    knuckles_deep_mm: float = 0.0


class Placed(Protocol):
    """What every placed thing can be asked."""

    @property
    def id(self) -> str: ...
    @property
    def name(self) -> str: ...
    @property
    def place(self) -> Place: ...
    @property
    def locked(self) -> bool: ...


Item = TypeVar("Item", bound=Placed)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ItemKind(Generic[Item]):
    """Everything the program can ask of one kind of placed thing. Angles in deg, lengths in mm, car axes.

    axes             : its state axes
    parts            : its parts, in drawing order
    envelope         : (item, part name, stops) -> the part's stuff; an axis left out of stops stands at rest
    envelope_between : (item, part name, stops, axis, from, to, share) -> the same along a leg
    motion_mm        : (item, part name, axis, from, to) -> no point of the part travels farther over the leg
    grips            : (item, stops) -> where a hand goes
    grips_between    : (item, stops, axis, from, to, share) -> the same along a leg
    grip_motion_mm   : (item, grip name, axis, from, to) -> as motion_mm, for a grip
    set_down_mm      : footprint points (x, y) that find the floor under it
    foot_below_mm    : how far under its place it stands on the floor
    moved            : (item, place) -> the item there
    """

    kind: str
    label: str
    model: type[Item]
    axes: Callable[[Item], tuple[StateAxis, ...]]
    parts: Callable[[Item], tuple[Part, ...]]
    envelope: Callable[[Item, str, Stops], Body]
    envelope_between: Callable[[Item, str, Stops, str, str, str, float], Body]
    motion_mm: Callable[[Item, str, str, str, str], float]
    grips: Callable[[Item, Stops], tuple[Grip, ...]]
    grips_between: Callable[[Item, Stops, str, str, str, float], tuple[Grip, ...]]
    grip_motion_mm: Callable[[Item, str, str, str, str], float]
    set_down_mm: Callable[[Item], tuple[Point, ...]]
    foot_below_mm: Callable[[Item], float]
    moved: Callable[[Item, Place], Item]


def stop_of(axis: StateAxis, stops: Stops) -> str:
    """The stop of an axis, its rest where none is named; raises BadValue for a strange one."""
    stop = stops.get(axis.name, axis.rest)
    if stop not in axis.stops:
        raise BadValue("no-such-stop", f"{axis.name}: there is no {stop}.", f"Use {', '.join(axis.stops)}.")
    return stop


def check_whole(value: object, names: tuple[str, ...]) -> None:
    """Raise BadValue where a field of a value that counts something is no whole number."""
    for name in names:
        held = getattr(value, name)
        if isinstance(held, float) and not held.is_integer():
            raise BadValue("not-whole", f"{held:g} is no whole number.", "Type a whole number.", field=name)


def no_such_part(name: str) -> BadValue:
    """What is raised for a part name the thing does not have."""
    return BadValue("no-such-part", f"There is no part {name}.", "Use a name from its list of parts.")


point = vector_of
"""Three plain floats of an array (3,), by the name kinds know it."""
