"""Whether a thing that stands on the floor still does, after the floor or the thing has moved."""

from collections.abc import Iterator

import numpy as np

from floorpan.checks.check import Check, Group, Reading
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.footings import standing
from floorpan.checks.pairs import limit_for
from floorpan.derive import NO_FOOTING, Floor, Scene
from floorpan.items.states import NOTHING_MOVES
from floorpan.layout import Thing, record_of
from floorpan.limits import Limit


def _reads(scene: Scene) -> Iterator[Group]:
    floor = scene.floor
    if floor is None:
        return
    good_to = float(scene.layout.scan(floor.scan.id).good_to_mm)
    for thing in scene.layout.things():
        if thing.stands_on == "floor":
            rest = (floor, limit_for(scene, "stands"), good_to)

            def make(
                group: Group, thing: Thing = thing, rest: tuple[object, ...] = rest
            ) -> Iterator[Reading]:
                yield Reading(group.subjects, NOTHING_MOVES, (thing, *rest), group.pair)

            yield Group((thing.id, floor.scan.id), standing(scene, thing.id), NO_FOOTING, rest, make)


def _judge(reading: Reading) -> Finding:
    thing, floor, wanted, good_to = reading.inputs
    assert isinstance(floor, Floor)
    assert isinstance(wanted, Limit)
    assert isinstance(good_to, float)
    doubts = (Doubt("scan", standard=good_to / 2), Doubt("noise", standard=floor.rough.sigma_mm))
    u = combined(doubts)
    over = over_floor_mm(thing, floor)  # type: ignore[arg-type]
    value = None if over is None else abs(over)
    return Finding(
        check="stands",
        subjects=reading.subjects,
        state=reading.state,
        verdict="unseen" if value is None else verdict_of(value, u, wanted, is_gap=False),
        value=value,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        is_gap=False,
        met="floor",
        note=""
        if over is None
        else f"It stands {abs(over):.0f} mm {'over' if over > 0 else 'in'} the floor.",
    )


def over_floor_mm(thing: Thing, floor: Floor) -> float | None:
    """How far a thing's foot is over the highest floor under it [mm]; negative is in it; None where none was seen.

    Where several surfaces lie over one another the one nearest to the foot counts.
    """
    record = record_of(thing)
    foot = thing.place.z_mm - record.foot_below_mm(thing)
    heights = [
        min(found, key=lambda z: abs(z - foot))
        for found in floor.columns.heights_at_each(np.array(record.set_down_mm(thing), dtype=float))
        if found
    ]
    return foot - max(heights) if heights else None


CHECKS = (Check("stands", "live", _reads, _judge),)
