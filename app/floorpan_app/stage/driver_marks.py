"""What is drawn of the driver over the picture: the chain of joints, how far the arm gets, the published plane."""

import math
from dataclasses import dataclass
from typing import Final, cast

import numpy as np

from floorpan.derive import Scene, elbow_locus, reach_in, sitting_in
from floorpan.driver import Belts, Person
from floorpan.driver.hand_reach_plane import HandReachPlane, hand_reach_plane
from floorpan.driver.person import BELT_STOPS
from floorpan.driver.reach_arcs import on_backrest_mm, reach_along_mm, reach_arc
from floorpan.driver.sitting import Sitting
from floorpan.errors import FloorpanError
from floorpan.frames import Vector
from floorpan.items import Seat, Shifter, h_point
from floorpan.items.shifter import GEAR
from floorpan.items.states import State, stops_of
from floorpan.layout import record_of
from floorpan.units import System, show_length
from floorpan_app.stage import words
from floorpan_app.stage.stand_in import StandIn
from floorpan_app.viewport.marks import JointMark, Path, Stroke, Word

# From over the sill of a window down to a knob beside the cushion, as seen from the shoulder.
_RISES_DEG: Final = np.linspace(-62.0, 12.0, 38)
_STROKES: Final[dict[Belts, Stroke]] = {"tight": "solid", "loose": "dashed"}
_AWAY_PX: Final[dict[Belts, tuple[float, float]]] = {"tight": (-112.0, 12.0), "loose": (112.0, 20.0)}
_SAME_PLACE_MM: Final = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class DriverMarks:
    """Lines, words and joints to draw."""

    paths: tuple[Path, ...] = ()
    words: tuple[Word, ...] = ()
    joints: tuple[JointMark, ...] = ()

    def __add__(self, other: "DriverMarks") -> "DriverMarks":
        return DriverMarks(
            paths=self.paths + other.paths,
            words=self.words + other.words,
            joints=self.joints + other.joints,
        )


def chain_marks(scene: Scene, state: State, driver: StandIn) -> DriverMarks:
    """The joints as they are taped, the shifting arm's with its elbow angle, and the heel point."""
    seat = cast(Seat, scene.seat_of(driver.person))
    hip, *arm = driver.chain
    reference = h_point(seat, int(stops_of(state, seat.id)["notch"]))
    at_reference = math.dist(hip, reference) < _SAME_PLACE_MM
    hip_word = words.SEAT_REFERENCE_POINT if at_reference else words.HIP_POINT
    told = [Word(text=hip_word, at_mm=hip, role="ink2", away_px=(-96.0, 40.0))]
    joints = [JointMark(at_mm=place) for place in driver.chain[:4]]
    if arm:
        shoulder, elbow, wrist, _ = arm
        told += [
            Word(text=words.SHOULDER, at_mm=shoulder, role="ink2", away_px=(-58.0, -18.0)),
            Word(text=_elbow_text(scene, state, driver), at_mm=elbow, role="ink2", away_px=(0.0, 34.0)),
            Word(text=words.WRIST, at_mm=wrist, role="ink2", away_px=(-46.0, 42.0)),
        ]
    heel = scene.layout.driving_position.heel_mm
    if heel is not None:
        joints.append(JointMark(at_mm=heel))
        told.append(Word(text=words.HEEL_POINT, at_mm=heel, role="ink2", away_px=(50.0, 30.0)))
    line = Path(points_mm=np.array(driver.chain), width_px=2.0)
    return DriverMarks(paths=(line,) if arm else (), words=tuple(told), joints=tuple(joints))


def reach_marks(
    scene: Scene, state: State, driver: StandIn, system: System, *, moving: bool = False
) -> DriverMarks:
    """How far the arm gets with tight and with loose belts, where the elbow goes, and the published plane.

    The arcs lie in the upright plane through the shoulder on the backrest and the knob in the shown gear. While
    something moves the elbows of the other gears wait until it stands.
    """
    shifters = scene.layout.of(Shifter)
    if not shifters:
        return DriverMarks()
    seat, shifter = cast(Seat, scene.seat_of(driver.person)), shifters[0]
    notch, grip = int(stops_of(state, seat.id)["notch"]), driver.chain[-1]
    sitting = sitting_in(driver.person, seat, notch)
    shown = stops_of(state, shifter.id)[GEAR]
    marks = scene.memory.get(
        ("reach arcs", notch, shown, system, scene.hand_side()),
        (driver.person, seat, shifter),
        lambda: _arcs(scene, sitting, grip, system),
    )
    marks += _plane(scene, h_point(seat, notch), grip)
    return marks if moving else marks + _locus(scene, state, driver.person, seat, shifter)


def _elbow_text(scene: Scene, state: State, driver: StandIn) -> str:
    seat = cast(Seat, scene.seat_of(driver.person))
    found = reach_in(driver.person, seat, scene.layout.of(Shifter)[0], state, scene.hand_side())
    if found.spare_mm < 0.0:
        return words.ELBOW_STRAIGHT
    return words.ELBOW.format(n=round(found.elbow_deg), u=math.ceil(found.elbow_u_deg - 1e-6))


def _arcs(scene: Scene, sitting: Sitting, grip: Vector, system: System) -> DriverMarks:
    """Both arcs, each named at its low end."""
    side, person = scene.hand_side(), sitting.person
    way = np.asarray(grip) - on_backrest_mm(sitting, side)
    way /= max(float(np.linalg.norm(way)), _SAME_PLACE_MM)
    goes_along = person.loose_forward_mm > 0.0 or person.loose_turn_deg > 0.0
    paths, told = [], []
    for belts in BELT_STOPS if goes_along else BELT_STOPS[:1]:
        arc = reach_arc(sitting, belts, side, grip, _RISES_DEG)
        length = float(reach_along_mm(sitting, belts, side, way[None])[0])
        text = words.ALONG_THE_ARM[belts].format(
            n=show_length(round(length), system, with_unit=system == "in")
        )
        paths.append(Path(points_mm=arc, role="accent", stroke=_STROKES[belts], width_px=2.2))
        told.append(Word(text=text, at_mm=_vector(arc[0]), away_px=_AWAY_PX[belts]))
    return DriverMarks(paths=tuple(paths), words=tuple(told))


def _locus(scene: Scene, state: State, person: Person, seat: Seat, shifter: Shifter) -> DriverMarks:
    """A dot for the elbow in each gear, and a line from one to another along the legs of the gate."""
    found = elbow_locus(scene, person, seat, shifter, state)
    elbows = {one.gear: one.posed.elbow_mm for one in found}
    legs = record_of(shifter).axes(shifter)[0].legs
    ways = [(elbows[a], elbows[b]) for a, b in legs if a in elbows and b in elbows]
    line = (Path(points_mm=np.array(ways), role="ink2", width_px=1.0),) if ways else ()
    shown = stops_of(state, shifter.id)[GEAR]
    # The elbow in the shown gear is a joint of the chain.
    dots = tuple(
        JointMark(at_mm=place, small=True, role="ink2") for gear, place in elbows.items() if gear != shown
    )
    return DriverMarks(paths=line, joints=dots)


def _plane(scene: Scene, reference: Vector, grip: Vector) -> DriverMarks:
    """The published plane where heel and wheel are known, and what it says of the knob."""
    plane = _published(scene, reference)
    if plane is None:
        return DriverMarks()
    corners = plane.corners_mm()
    rim = Path(points_mm=np.array([*corners, corners[0]]), role="ink2", stroke="dashed", width_px=1.2)
    told = [Word(text=words.PUBLISHED_PLANE, at_mm=corners[3], role="ink2", away_px=(90.0, 16.0))]
    cover = plane.covers(grip)
    if not cover.covered:
        text = words.NOT_COVERED.format(why=", ".join(cover.why))
        told.append(Word(text=text, at_mm=grip, role="ink2", away_px=(96.0, 46.0)))
    return DriverMarks(paths=(rim,), words=tuple(told))


def _published(scene: Scene, reference: Vector) -> HandReachPlane | None:
    position = scene.layout.driving_position
    if position.heel_mm is None or position.wheel_mm is None:
        return None
    try:
        return hand_reach_plane(position.heel_mm, reference, position.wheel_mm, scene.layout.driver_side)
    except FloorpanError:
        # The heel stands as high as the seat: the card says so where it is typed.
        return None


def _vector(values: np.ndarray) -> Vector:
    x, y, z = (float(value) for value in values)
    return x, y, z
