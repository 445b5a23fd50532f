"""What is written over the picture, handed in as values; places in car axes [mm]."""

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from floorpan.frames import Pose
from floorpan.geometry.solids import Body
from floorpan_app.theme.record import Verdict
from floorpan_app.widgets.ticket import TicketText

Floats = NDArray[np.float64]
Vector = tuple[float, float, float]

Stroke = Literal["solid", "dashed", "centre"]
Face = Literal["x-least", "x-greatest", "y-least", "y-greatest", "z-least", "z-greatest"]
FACES: tuple[Face, ...] = ("x-least", "x-greatest", "y-least", "y-greatest", "z-least", "z-greatest")


@dataclass(frozen=True, slots=True, kw_only=True)
class GapLine:
    """One gap between two points, with its ticket.

    a_mm, b_mm  : nearest points; for an unseen gap a_mm is on the seen side; for a hit they are as deep apart
    u_mm        : give or take
    value_text  : as `−6`; u_text as `± 2`; part and doing as in a ticket
    ring        : marks the place with a ring; hits always have one
    """

    id: str
    verdict: Verdict
    a_mm: Vector
    b_mm: Vector
    u_mm: float = 0.0
    value_text: str = ""
    u_text: str = ""
    part: str = ""
    doing: str = ""
    stale: bool = False
    sentence: str = ""
    ring: bool = False

    def ticket(self) -> TicketText:
        """What its ticket says."""
        return TicketText(
            id=self.id,
            verdict=self.verdict,
            value=self.value_text,
            give_or_take=self.u_text,
            part=self.part,
            doing=self.doing,
            stale=self.stale,
            sentence=self.sentence,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PickMark:
    """A picked point: a cross with its letter and what is left over there."""

    letter: str
    at_mm: Vector
    text: str = ""
    verdict: Verdict | None = None
    lit: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CropBoxMark:
    """A box with a grip on each face.

    pose  : from the box's frame into car axes
    words : what stands beside each grip, as `front 180`, in the order of FACES
    lit   : the face in hand
    """

    least_mm: Vector
    greatest_mm: Vector
    words: tuple[str, str, str, str, str, str]
    pose: Pose = Pose()
    lit: Face | None = None

    def grips(self) -> dict[Face, Vector]:
        """The middle of each face in car axes [mm]."""
        low, high = np.asarray(self.least_mm), np.asarray(self.greatest_mm)
        places: dict[Face, Vector] = {}
        for number, face in enumerate(FACES):
            place = (low + high) / 2
            place[number // 2] = (low, high)[number % 2][number // 2]
            x, y, z = (float(value) for value in self.pose.apply(place))
            places[face] = (x, y, z)
        return places


@dataclass(frozen=True, slots=True, kw_only=True)
class Tripod:
    """Three axes with their words, while axes are being set."""

    at_mm: Vector
    words: tuple[str, str, str]
    pose: Pose = Pose()


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelRule:
    """A rule that lies beside the thing in hand; at_mm is its zero, along and across are unit."""

    at_mm: Vector
    along: Vector
    across: Vector
    text: str = "200 mm"
    length_mm: float = 200.0
    step_mm: float = 10.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Path:
    """A line through points (N, 3), or straight pieces (N, 2, 3) [mm], in the colour of a role, with its halo."""

    points_mm: Floats
    role: str = "ink"
    stroke: Stroke = "solid"
    width_px: float = 1.4

    def pieces(self) -> Floats:
        """Straight pieces (N, 2, 3)."""
        if self.points_mm.ndim == 3:
            return self.points_mm
        return np.stack([self.points_mm[:-1], self.points_mm[1:]], axis=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """A word on paper, tied to a place by a line where `away_px` is not nothing."""

    text: str
    at_mm: Vector
    role: str = "accent"
    away_px: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class JointMark:
    """A joint of a chain as a ring; small is a dot."""

    at_mm: Vector
    role: str = "ink"
    small: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A plain dimension between two points, its value breaking the line."""

    a_mm: Vector
    b_mm: Vector
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tether:
    """A string from a point of a thing to the tag it is tied to.

    to_px   : where the tag is tied; room_px : left, top, width and height of the tag, which no ticket covers
    """

    at_mm: Vector
    to_px: tuple[float, float]
    room_px: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ghost:
    """The outline of a body: dashed where it stood, or drawn out for what is not shown solid."""

    body: Body
    role: str = "accent"
    stroke: Stroke = "dashed"


@dataclass(frozen=True, slots=True, kw_only=True)
class SideWords:
    """What the six directions are called; before axes are set they have letters only."""

    front: str = "front"
    rear: str = "rear"
    left: str = "driver side"
    right: str = "passenger side"
    up: str = "up"
    down: str = "down"

    def along(self, direction: Floats) -> str:
        """The word for the car direction a unit vector points most along."""
        axis = int(np.abs(direction).argmax())
        least, greatest = ((self.front, self.rear), (self.left, self.right), (self.down, self.up))[axis]
        return greatest if direction[axis] > 0 else least


@dataclass(frozen=True, slots=True, kw_only=True)
class Legend:
    """What the colours on a scan say.

    stops : colours at equal steps; ticks : (share of the way, 0 to 1, and words); beyond : what the ends stand for
    """

    title: str
    stops: tuple[str, ...]
    ticks: tuple[tuple[float, str], ...]
    beyond: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """Everything written over the picture but the words of the view itself. Gaps stand worst first."""

    gaps: tuple[GapLine, ...] = ()
    picks: tuple[PickMark, ...] = ()
    crop_box: CropBoxMark | None = None
    tripod: Tripod | None = None
    rule: SteelRule | None = None
    paths: tuple[Path, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    tether: Tether | None = None
    words: tuple[Word, ...] = ()
    joints: tuple[JointMark, ...] = ()
    ghosts: tuple[Ghost, ...] = ()
    legend: Legend | None = None
    lit: frozenset[str] = field(default_factory=frozenset)
