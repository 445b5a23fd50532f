"""How hard a corner a vessel is held to, in its well or standing free, and when an open cup spills."""

import math
from collections.abc import Iterator
from dataclasses import replace

from floorpan.checks.check import Check, Reading
from floorpan.checks.cup import CALIPER_MM
from floorpan.checks.doubts import TAPE_MM
from floorpan.checks.finding import Doubt, Finding, combined, verdict_of
from floorpan.checks.pairs import limit_for
from floorpan.derive import Scene
from floorpan.items import CupHolder, Vessel
from floorpan.items.finger_hold import MOST_G
from floorpan.items.held import (
    Held,
    fingers_of,
    held_free,
    held_in_well,
    leans_in_well_deg,
    spills_in_well_g,
)
from floorpan.items.spill import spills_g
from floorpan.items.states import state_of
from floorpan.limits import Limit

_SHELF = "shelf"
_CENTRE_SHARE = 0.03
"""How much higher a centre of gravity may lie than told, as a share: wall, fill and taping; default, edit me."""


def _reads(scene: Scene, limit: str, *, open_only: bool) -> Iterator[Reading]:
    for vessel in scene.layout.of(Vessel):
        if open_only and not vessel.open_top:
            continue
        holder = scene.layout.thing(vessel.stands_in) if vessel.stands_in else None
        subjects = (vessel.id, holder.id) if holder is not None else (vessel.id,)
        state = state_of({f"{vessel.id}.place": "in"})
        yield Reading(subjects, state, (vessel, holder, limit_for(scene, limit)))


def _inputs(reading: Reading) -> tuple[Vessel, CupHolder | None, Limit]:
    vessel, holder, wanted = reading.inputs
    assert isinstance(vessel, Vessel)
    assert holder is None or isinstance(holder, CupHolder)
    assert isinstance(wanted, Limit)
    return vessel, holder, wanted


def _held(vessel: Vessel, holder: CupHolder | None) -> Held:
    return held_free(vessel) if holder is None else held_in_well(holder, vessel)


def _judge_held(reading: Reading, *, check: str) -> Finding:
    vessel, holder, wanted = _inputs(reading)
    held = _held(vessel, holder)
    worse = _held(*_a_little_worse(vessel, holder))
    value, low = (
        (held.cornering_g, worse.cornering_g) if check == "cup-corner" else (held.braking_g, worse.braking_g)
    )
    # Nothing harder is asked about: what is held there, and is even a little looser, has no number of its own.
    at_least = min(value, low) >= MOST_G
    doubts = (
        Doubt("taped sizes", bound=max(value - low, 0.0)),
        Doubt("centre of gravity", bound=_CENTRE_SHARE * min(value, wanted.value)),
    )
    lean = _lean_note(vessel, holder, held, wanted.value)
    note = f"{_note(held, vessel, stays=value >= MOST_G)}{lean}"
    return _finding(check, reading, wanted, value, () if at_least else doubts, note, at_least=at_least)


def _judge_spill(reading: Reading) -> Finding:
    vessel, holder, wanted = _inputs(reading)
    value = spills_g(vessel) if holder is None else spills_in_well_g(holder, vessel)
    # The fill line is taped; a millimetre of it is so much of a corner.
    doubts = (Doubt("fill line", standard=TAPE_MM / vessel.profile[-1][1]),)
    least = value - combined(doubts) >= MOST_G
    return _finding(
        "cup-spill", reading, wanted, min(value, MOST_G), () if least else doubts, "", at_least=least
    )


def _a_little_worse(vessel: Vessel, holder: CupHolder | None) -> tuple[Vessel, CupHolder | None]:
    """The same pair with every taped size off to the loose side by twice its standard uncertainty."""
    caliper, tape = 2.0 * CALIPER_MM, 2.0 * TAPE_MM
    slimmer = tuple((height, max(radius - caliper / 2.0, 1.0)) for height, radius in vessel.profile)
    if holder is None:
        return replace(vessel, profile=slimmer), None
    looser = replace(
        holder,
        depth_mm=max(holder.depth_mm - tape, 10.0),
        mouth_mm=min(holder.mouth_mm + caliper, 160.0),
        base_mm=min(holder.base_mm + caliper, 160.0),
    )
    return replace(vessel, profile=slimmer), looser


def _note(held: Held, vessel: Vessel, *, stays: bool) -> str:
    """What happens that way, for the ledger's second line."""
    if stays:
        return f"It stays put up to {MOST_G:g} g, the hardest that is asked about."
    told = {
        "leans out": "It leans out of its well there",
        "stays": "It leans out of its well there",
        "does not go in": "It does not go in and stands on the mouth",
        "tips": "It stands free and tips there",
        "slides": "It stands free and slides there",
    }[held.how]
    if vessel.full_kg <= 0.0:
        return f"{told}."
    fill = (
        "full" if held.fill >= 1.0 else "empty" if held.fill <= 0.0 else f"{100 * held.fill:.0f} percent full"
    )
    return f"{told}, {fill}."


def _lean_note(vessel: Vessel, holder: CupHolder | None, held: Held, corner_g: float) -> str:
    """How far it leans at the wanted corner without leaving, in a stiff well; nothing below a degree."""
    if holder is None or fingers_of(holder) is not None or held.how not in ("leans out", "stays"):
        return ""
    lean = leans_in_well_deg(holder, vessel, corner_g, fill=held.fill)
    return f" It leans {lean:.0f} deg at {corner_g:.1f} g." if 1.0 <= lean < 89.0 else ""


def _finding(
    check: str,
    reading: Reading,
    wanted: Limit,
    value: float,
    doubts: tuple[Doubt, ...],
    note: str,
    *,
    at_least: bool = False,
) -> Finding:
    u = combined(doubts)
    return Finding(
        check=check,
        subjects=reading.subjects,
        state=reading.state,
        verdict=verdict_of(value, u, wanted, is_gap=False),
        value=value if math.isfinite(value) else MOST_G,
        uncertainty=u,
        doubts=doubts,
        limit=wanted,
        is_gap=False,
        met="well" if len(reading.subjects) > 1 else _SHELF,
        note=note,
        at_least=at_least,
    )


CHECKS = (
    Check(
        "cup-corner",
        "live",
        lambda scene: _reads(scene, "cup-corner", open_only=False),
        lambda reading: _judge_held(reading, check="cup-corner"),
    ),
    Check(
        "cup-brake",
        "live",
        lambda scene: _reads(scene, "cup-brake", open_only=False),
        lambda reading: _judge_held(reading, check="cup-brake"),
    ),
    Check("cup-spill", "live", lambda scene: _reads(scene, "cup-spill", open_only=True), _judge_spill),
)
