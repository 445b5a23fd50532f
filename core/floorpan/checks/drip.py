"""Where what drips off a vessel falls, on its way out and into its well: on nothing that must not be wetted.

Switches, buckles and the shifter's opening with its boot must not be; of a shifter without a console over it the box.
What lands on a seat, a console, a handbrake or the floor is told and nothing more.
"""

from collections.abc import Iterator

from floorpan.checks.check import Check, Reading
from floorpan.checks.doubts import facets, tape
from floorpan.checks.finding import Doubt, Finding, Point, combined, verdict_of
from floorpan.checks.pairs import limit_for, states
from floorpan.derive import Scene
from floorpan.derive.dripping import FLOOR, KEPT_DRY, Drips, Landing, drips, landings, opening_body, shares
from floorpan.derive.lifting import Lifting
from floorpan.geometry.solids import Body
from floorpan.items import Shifter, Vessel
from floorpan.items.states import State, state_of
from floorpan.items.vessels import PLACE
from floorpan.limits import Limit

OPENING = "opening"


def _falling(scene: Scene) -> Iterator[tuple[Vessel, str, Drips]]:
    """(vessel, stop, what drips off it) of every vessel in a well, to everybody who lifts it."""
    for vessel in scene.layout.of(Vessel):
        for stop in Lifting(scene.layout, scene.memory).stops():
            found = drips(scene, vessel, stop)
            if found is not None:
                yield vessel, stop, found


def _wetted(scene: Scene) -> Iterator[tuple[str, State, Body]]:
    """(id, state, body) of all that must not be wetted."""
    for kind in KEPT_DRY:
        for thing in scene.layout.of(kind):
            for state in states(scene, thing.id):
                yield thing.id, state, scene.body(thing.id, state)
    for shifter in scene.layout.of(Shifter):
        if scene.layout.consoles:
            made = scene.memory.get(OPENING, (shifter,), lambda shifter=shifter: opening_body(shifter))  # type: ignore[misc]
            yield f"{shifter.id}.{OPENING}", (), made
        else:
            yield f"{shifter.id}.box", (), scene.body(f"{shifter.id}.box", ())


def _reads_gaps(scene: Scene) -> Iterator[Reading]:
    wanted = limit_for(scene, "drip-path")
    for vessel, stop, falls in _falling(scene):
        for id, stood, body in _wetted(scene):
            # What stands higher than the drops fall from stays dry.
            if any(solid.box()[0][2] - solid.hull.radius_mm < falls.height_mm for solid in body):
                state = state_of({**dict(stood), f"{vessel.id}.{PLACE}": stop})
                yield Reading((vessel.id, id), state, (falls, body, wanted))


def _judge_gap(reading: Reading) -> Finding:
    falls, body, wanted = reading.inputs
    assert isinstance(falls, Drips)
    assert isinstance(body, tuple)
    assert isinstance(wanted, Limit)
    near = falls.level_gap(body)
    assert near is not None
    doubts = (tape("taped places", 2), *facets(body))
    u = combined(doubts)
    return Finding(
        check="drip-path",
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(near.distance_mm, u, wanted, is_gap=False),
        value=near.distance_mm,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        is_gap=False,
        at_mm=_level(near.on_body, near.on_surface, body),
        note="It falls straight down, from the way out or past the well.",
    )


def _level(first: Point, second: Point, body: Body) -> tuple[Point, Point]:
    """The two nearest places seen from above, both as high as the body."""
    top = max(float(solid.box()[1][2]) + solid.hull.radius_mm for solid in body)
    return (first[0], first[1], top), (second[0], second[1], top)


def _reads_shares(scene: Scene) -> Iterator[Reading]:
    wanted = limit_for(scene, "drip-lands")
    floor = "carpet" if scene.layout.carpet().loose_mm > 0.0 else FLOOR
    for vessel, stop, falls in _falling(scene):
        inputs = (falls, wanted, floor, *landings(scene, vessel))
        yield Reading((vessel.id,), state_of({f"{vessel.id}.{PLACE}": stop}), inputs)


def _told(found: dict[str, float], floor: str) -> str:
    """What drops land on, most first."""
    held = sorted(found.items(), key=lambda one: -one[1])
    listed = (f"{floor if name == FLOOR else name} {max(round(100.0 * share), 1)} %" for name, share in held)
    return f"Drips fall on: {', '.join(listed)}."


def _judge_shares(reading: Reading) -> Finding:
    falls, wanted, floor, *on = reading.inputs
    assert isinstance(falls, Drips)
    assert isinstance(wanted, Limit)
    met = tuple(one for one in on if isinstance(one, Landing))
    found = shares(falls, met)
    value = 100.0 * sum(found.get(name, 0.0) for name in {one.called for one in met if one.wets})
    # What no drop landed on stays dry; of the rest a row of drops more or less may land beside it.
    doubts = (Doubt("grid of drops", standard=value / 20.0),) if value > 0.0 else ()
    return Finding(
        check="drip-lands",
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(value, combined(doubts), wanted, is_gap=False),
        value=value,
        uncertainty=combined(doubts),
        doubts=doubts,
        limit=wanted,
        is_gap=False,
        note=_told(found, str(floor)),
    )


CHECKS = (
    Check("drip-path", "settled", _reads_gaps, _judge_gap),
    Check("drip-lands", "settled", _reads_shares, _judge_shares),
)
