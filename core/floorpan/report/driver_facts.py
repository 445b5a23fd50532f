"""What the papers tell of who drives, beyond the findings: gathered from the bench that judged them."""

from dataclasses import dataclass

from floorpan.advice.armrest_band import ArmrestBand, armrest_band
from floorpan.advice.knob_costs import Worse, worse_there
from floorpan.advice.knob_for_driver import KnobAdvice, where_the_knob_should_be
from floorpan.advice.lever_for_knob import LeverAnswer, lever_for_knob
from floorpan.advice.lever_freedom import usual_freedom
from floorpan.derive import ElbowAt, PopulationReach, Scene, elbow_locus, moved_since, population_reach
from floorpan.driver.hand_reach_plane import HandReachPlane, hand_reach_plane
from floorpan.driver.moved_away import MovedAway
from floorpan.errors import BadValue
from floorpan.frames import Vector
from floorpan.items import Armrest, Seat, Shifter, h_point
from floorpan.items.states import state_of
from floorpan.layout import Layout
from floorpan.progress import Work, part


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DriverFacts:
    """Of the design driver at the notch the seat rests at, belts tight, unless a field says otherwise.

    moved      : since the old seat; None where none was kept
    population : who else reaches; None where nothing is shifted
    knob       : where the knob should be, for every driver at every used notch; None where nothing is shifted
    worse      : what gets worse there
    lever      : what lever the knob's target needs, with what is usually free; None where there is none or no_lever
                 says why
    elbow      : the elbow in every gear that is reached
    armrests   : how high each armrest may be, for every driver at every used notch
    plane      : the published hand-reach plane; None without heel point and wheel, or where no_plane says why
    """

    notch: int
    moved: MovedAway | None = None
    population: PopulationReach | None = None
    knob: KnobAdvice | None = None
    worse: tuple[Worse, ...] = ()
    lever: LeverAnswer | None = None
    no_lever: str = ""
    elbow: tuple[ElbowAt, ...] = ()
    armrests: tuple[ArmrestBand, ...] = ()
    plane: HandReachPlane | None = None
    no_plane: str = ""


def gathering_driver(scene: Scene) -> Work[DriverFacts | None]:
    """The facts of a scene; None where nobody drives."""
    person = scene.layout.driver()
    seat = scene.seat_of(person) if person is not None else None
    if person is None or seat is None:
        return None
    notch = int(seat.notch_here) if int(seat.notch_here) in person.notches_used else person.notches_used[0]
    population = yield from part(population_reach(scene), 0.0, 0.4)
    knob = yield from part(where_the_knob_should_be(scene), 0.4, 0.8)
    worse: tuple[Worse, ...] = ()
    if knob is not None:
        worse = yield from part(worse_there(scene, knob.by_mm), 0.8, 1.0)
    shifter = next(iter(scene.layout.of(Shifter)), None)
    elbow: tuple[ElbowAt, ...] = ()
    if shifter is not None:
        shown = state_of({f"{person.id}.belts": "tight", f"{seat.id}.notch": str(notch)})
        elbow = elbow_locus(scene, person, seat, shifter, shown)
    lever, no_lever = _lever(shifter, scene.layout.knob_target_mm)
    plane, no_plane = plane_of(scene.layout, seat)
    return DriverFacts(
        notch=notch,
        moved=moved_since(scene, notch),
        population=population,
        knob=knob,
        worse=worse,
        lever=lever,
        no_lever=no_lever,
        elbow=elbow,
        armrests=tuple(filter(None, (armrest_band(scene, rest) for rest in scene.layout.of(Armrest)))),
        plane=plane,
        no_plane=no_plane,
    )


def _lever(shifter: Shifter | None, target: Vector | None) -> tuple[LeverAnswer | None, str]:
    if shifter is None or target is None:
        return None, ""
    try:
        return lever_for_knob(shifter, target, usual_freedom(shifter)), ""
    except BadValue as fault:
        return None, str(fault)


def plane_of(layout: Layout, seat: Seat) -> tuple[HandReachPlane | None, str]:
    """The published hand-reach plane of a driver's seat, or why there is none; neither without heel and wheel."""
    position = layout.driving_position
    if position.heel_mm is None or position.wheel_mm is None:
        return None, ""
    reference = h_point(seat, int(seat.notch_here))
    try:
        return hand_reach_plane(position.heel_mm, reference, position.wheel_mm, layout.driver_side), ""
    except BadValue as fault:
        return None, str(fault)
