"""What is said of a vessel: its row, what it does on a shelf, when it spills, how it fits."""

import math
from collections.abc import Mapping

from floorpan.checks import Finding
from floorpan.checks.cup import CALIPER_MM
from floorpan.checks.finding import Verdict, rank
from floorpan.items import Vessel, WellFit
from floorpan.items.entering import Room
from floorpan.items.finger_hold import MOST_G
from floorpan.items.held import held_free
from floorpan.items.spill import freeboard_mm, surface_slope_deg
from floorpan.limits import LIMITS
from floorpan.report.amounts import number, step_of, worse
from floorpan.report.sentences import give_or_take_text, value_text
from floorpan.units import THIN, System, show_length, show_number
from floorpan_app.cards import cup_words as said
from floorpan_app.cards import words
from floorpan_app.cards.cup_lean import LeanDrawn
from floorpan_app.cards.cup_rows import HoldRow, Lane
from floorpan_app.widgets.hold_rule import HoldReading

_WAYS = (("cup-corner", said.SIDEWAYS), ("cup-brake", said.FORE_AFT), ("cup-spill", said.SPILLS))
Holds = Mapping[str, Finding]

# Two diameters read off a caliper.
_ROOM_U_MM = 2.0 * math.hypot(CALIPER_MM, CALIPER_MM)


def g_text(value: float) -> str:
    """A number of g with its unit."""
    return f"{show_number(value, 2)}{THIN}g"


def holds_of(findings: tuple[Finding, ...]) -> dict[str, dict[str, Finding]]:
    """What was found of how hard each vessel is held: vessel id -> check -> finding."""
    held: dict[str, dict[str, Finding]] = {}
    wanted = {check for check, _ in _WAYS}
    for finding in findings:
        if finding.check in wanted:
            held.setdefault(finding.subjects[0], {})[finding.check] = finding
    return held


def hold_row(
    vessel: Vessel, holds: Holds, fit_words: str, corner_g: float, end: float, *, spoken: str
) -> HoldRow:
    """A vessel's row; what was not found yet is being worked out."""
    worst = min(holds.values(), key=rank, default=None)
    corner = holds.get("cup-corner")
    checks = [way for way in _WAYS if way[0] != "cup-spill" or vessel.open_top]
    word: Verdict = worst.verdict if worst is not None else "pending"
    note = corner.note if corner is not None else ""
    return HoldRow(
        id=vessel.id,
        title=vessel.name,
        mark=word,
        word=word,
        second=first_sentence(note) if note else fit_words,
        spoken=f"{spoken} {note}".strip() or f"{vessel.name}: {word}, {fit_words}",
        lanes=tuple(_lane(name, holds.get(check), corner_g) for check, name in checks),
        end=end,
    )


def _lane(name: str, found: Finding | None, corner_g: float) -> Lane:
    if found is None:
        pending = HoldReading(verdict="pending", value=None, give_or_take=0.0, wanted=corner_g)
        return Lane(name=name, reading=pending, value="")
    stays = found.at_least and found.value is not None and found.value >= MOST_G
    return Lane(
        name=name,
        reading=HoldReading(
            verdict=found.verdict,
            value=found.value,
            give_or_take=found.uncertainty,
            wanted=found.limit.value,
        ),
        value=said.STAYS if stays else value_text(found).removesuffix(f"{THIN}g"),
        # What is known to better than a hundredth has nothing beside it.
        trust="" if stays or found.uncertainty <= 0.0 else give_or_take_text(found),
        stale=found.stale,
    )


def first_sentence(text: str) -> str:
    """A text up to the end of its first sentence, without the full stop."""
    return text.partition(". ")[0].removesuffix(".")


def fill_text(fill: float) -> str:
    """A fill level in words."""
    if fill >= 1.0:
        return said.FULL
    return said.EMPTY if fill <= 0.0 else said.PART_FULL.format(n=show_number(100 * fill, 0))


def vessel_texts(vessel: Vessel, holds: Holds, system: System) -> tuple[str, ...]:
    """What one vessel does: in its well, on a flat shelf, and its drink."""
    corner = holds.get("cup-corner")
    free = held_free(vessel)
    shelf = said.ON_A_SHELF.format(
        does=said.DOES[free.how], g=g_text(free.cornering_g), fill=fill_text(free.fill)
    )
    return tuple(
        text
        for text in (corner.note if corner is not None else "", shelf, spill_text(vessel, holds, system))
        if text
    )


def spill_text(vessel: Vessel, holds: Holds, system: System) -> str:
    """When it spills; empty while that is being worked out."""
    if not vessel.open_top:
        return said.NEVER_SPILLS
    found = holds.get("cup-spill")
    if found is None or found.value is None:
        return ""
    return said.SPILLS_ABOVE.format(
        g=g_text(math.floor(found.value * 100) / 100),
        room=show_length(freeboard_mm(vessel), system, with_unit=True),
        slope=degrees(surface_slope_deg(found.value)),
    )


def degrees(value: float) -> str:
    """An angle with its sign."""
    return f"{show_number(value, 1)}\u00b0"


# --- the fit ----------------------------------------------------------------------------------------------------


def room_text(room: Room, system: System, *, with_unit: bool = True) -> str:
    """The room across at one height, rounded towards the worse as the finding of it is."""
    shown = worse(room.across_mm, _ROOM_U_MM, LIMITS["well-side"], system)
    text = number(shown, "mm", system, step_of(_ROOM_U_MM, "mm", system))
    return f"{text} {system}" if with_unit else text


def lean_text(fit: WellFit) -> str:
    """How far it leans, for the picture."""
    if not fit.enters:
        return said.NO_ENTRY
    if fit.free_tilt_deg >= 89.5:
        return said.LEANS_OUT
    return said.LEANS.format(deg=degrees(fit.free_tilt_deg)) if fit.free_tilt_deg >= 0.05 else said.NO_LEAN


def fit_text(well: str, vessel: Vessel | None, drawn: LeanDrawn | None, system: System) -> str:
    """How a vessel fits its well, in sentences; well is its name within one."""
    if vessel is None or drawn is None:
        return said.NO_VESSEL.format(well=well)
    if drawn.tightest is None:
        gates = (drawn.well.mouth[1], *((drawn.well.ring[1],) if drawn.well.ring is not None else ()))
        return said.NO_FIT.format(
            vessel=vessel.name,
            well=well,
            across=show_length(2.0 * vessel.profile[0][1], system, with_unit=True),
            mouth=show_length(2.0 * min(gates), system, with_unit=True),
        )
    tilt = drawn.fit.free_tilt_deg
    lean = said.FITS_LOOSE if tilt >= 89.5 else said.FITS_SNUG
    if 0.05 <= tilt < 89.5:
        lean = said.FITS_LEAN.format(deg=degrees(tilt))
    return said.FITS.format(
        vessel=vessel.name,
        well=well,
        sits=show_length(drawn.fit.deep_mm, system, with_unit=True),
        lean=lean,
        room=room_text(drawn.tightest, system),
        height=show_length(drawn.tightest.height_mm, system, with_unit=True),
    )


def fit_words(fit: WellFit, system: System) -> str:
    """How deep it sits and how far it leans, in a few words."""
    if not fit.enters:
        return words.DOES_NOT_ENTER
    sits = show_length(fit.deep_mm, system, with_unit=True)
    return words.SITS_AND_LEANS.format(sits=sits, lean=degrees(fit.free_tilt_deg))
