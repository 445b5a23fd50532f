"""How many drivers reach every gear from the design driver's seat: bodies drawn of either sex, belts tight."""

from dataclasses import dataclass

import numpy as np

from floorpan.derive.people import sitting_in
from floorpan.derive.scene import Scene
from floorpan.driver import SEXES, Person
from floorpan.driver.bodies import draw
from floorpan.driver.body_figures import place_of
from floorpan.driver.filling import HIP_OVER_CUSHION_MM
from floorpan.driver.population import Bodies, Shares, mixed, reach_margins, shares
from floorpan.frames import Floats
from floorpan.items import Shifter
from floorpan.items.shifter import GEAR
from floorpan.layout import record_of
from floorpan.progress import Step, Work

DRAWN = 20_000
"""Bodies of each sex: a share's standard error is 0.35 of a hundred at most."""

_SEED = 2012


@dataclass(frozen=True, slots=True, kw_only=True)
class PopulationReach:
    """Shares of drivers who reach, with their standard errors.

    gears   : in gate order, neutral left out; `each` of the shares is in this order
    notches : the seat notches that count: a driver picks the best of them
    drawn   : bodies of each sex that were counted
    mix     : men_percent of men, the rest women
    """

    gears: tuple[str, ...]
    notches: tuple[int, ...]
    drawn: int
    men_percent: float
    men: Shares
    women: Shares
    mix: Shares


def population_reach(scene: Scene, drawn: int = DRAWN) -> Work[PopulationReach | None]:
    """Who reaches the gears of the first shifter, belts tight, from the design driver's seat at its used notches.

    Everybody sits on the seat reference point as the seat gives it, without jacket. None where nobody drives or
    nothing is shifted.
    """
    person = scene.layout.driver()
    seat = scene.seat_of(person) if person is not None else None
    shifter = next(iter(scene.layout.of(Shifter)), None)
    if person is None or seat is None or shifter is None:
        return None
    record = record_of(shifter)
    gears = tuple(stop for stop in record.axes(shifter)[0].stops if stop != record.axes(shifter)[0].rest)
    grips = np.array([record.grips(shifter, {GEAR: gear})[0].at_mm for gear in gears])
    notches = tuple(sorted(person.notches_used))
    # Whoever else drives sits as the seat gives it, not in the design driver's own way.
    anybody = Person(id=person.id, seat_id=seat.id)
    counted: list[Shares] = []
    for place, sex in enumerate(SEXES):
        bodies = bodies_of(draw(sex, drawn, _SEED + place))
        margins = []
        for number, notch in enumerate(notches):
            yield Step((place + number / len(notches)) / len(SEXES), "Counting who reaches")
            plain = sitting_in(anybody, seat, notch)
            margins.append(
                reach_margins(
                    bodies, plain.h_point, plain.back_deg, scene.hand_side(), grips, "tight", plain.turn_deg
                )
            )
        counted.append(shares(*margins))
    men, women = counted
    mix = mixed(men, women, scene.layout.men_percent / 100.0)
    return PopulationReach(
        gears=gears,
        notches=notches,
        drawn=drawn,
        men_percent=scene.layout.men_percent,
        men=men,
        women=women,
        mix=mix,
    )


def bodies_of(drawn: Floats) -> Bodies:
    """Drawn bodies (N, M), columns as `measures()`, as reach is worked out from them.

    The hip lies over the cushion by HIP_OVER_CUSHION_MM, the shoulder point half the breadth between them out.
    """
    return Bodies(
        shoulder_to_grip_mm=drawn[:, place_of("shoulder_to_grip_mm")],
        shoulder_mm=drawn[:, place_of("shoulder_height_mm")] - HIP_OVER_CUSHION_MM,
        shoulder_out_mm=drawn[:, place_of("acromion_breadth_mm")] / 2.0,
    )
