"""Which cautions a layout calls for."""

from collections.abc import Iterable
from dataclasses import dataclass

from floorpan.checks.finding import Finding
from floorpan.items import NEUTRAL, REVERSE, CupHolder, Shifter, Vessel
from floorpan.items.lever import PARK, straight_slots
from floorpan.layout import Layout
from floorpan.report.amounts import number, step_of, trust
from floorpan.report.caution_words import CAUTIONS, FIRST, FIRST_NO_SCAN
from floorpan.units import System

_ALWAYS = ("restraints", "approval", "others", "record")


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution of the trade."""

    key: str
    title: str
    text: str


def scan_doubt_mm(layout: Layout) -> float | None:
    """What the worst scan in use is good to [mm, half-width at about 95 %]; None without a scan."""
    used = [scan for scan in layout.scans if scan.pose is not None] or list(layout.scans)
    return max((scan.good_to_mm for scan in used), default=None)


def scan_doubt_text(layout: Layout, system: System = "mm") -> str:
    """The scan's give or take, bare: `1.5`; empty without a scan."""
    doubt = scan_doubt_mm(layout)
    if doubt is None:
        return ""
    return number(trust(doubt, "mm", system), "mm", system, step_of(doubt, "mm", system))


def first_line(layout: Layout, system: System = "mm") -> str:
    """What every report opens with."""
    doubt = scan_doubt_text(layout, system)
    return FIRST.format(u=doubt, unit=system) if doubt else FIRST_NO_SCAN


def cautions(layout: Layout, findings: Iterable[Finding] = ()) -> tuple[Caution, ...]:
    """The cautions that apply, in the order they are read; unseen comes first because it changes the verdicts."""
    wanted = _wanted(layout, any(finding.verdict == "unseen" for finding in findings))
    return tuple(
        Caution(key=key, title=title, text=text) for key, (title, text) in CAUTIONS.items() if key in wanted
    )


def _wanted(layout: Layout, unseen: bool) -> set[str]:
    shifters, wells = layout.of(Shifter), (*layout.of(CupHolder), *layout.of(Vessel))
    console = bool(layout.consoles)
    wanted = set(_ALWAYS)
    if unseen or layout.scans:
        wanted.add("unknown")
    if shifters or console:
        wanted |= {"airbags", "drilling", "loads", "crash", "dust"}
    if shifters:
        wanted |= {"gears", "driving"}
    straight = [shifter for shifter in shifters if shifter.gate == "straight"]
    if straight:
        wanted.add("automatic")
    if any(not in_usual_order(shifter.places) for shifter in straight):
        wanted.add("order")
    if any(shifter.family == "gearbox" and shifter.rock_mm == 0.0 for shifter in shifters):
        wanted.add("rock")
    if "handbrake" not in layout.absent and (console or _has_area(layout, "handbrake")):
        wanted.add("handbrake")
    if console or wells:
        wanted |= {"pedals", "crash", "heat"}
    if console:
        wanted.add("fire")
    if wells:
        wanted |= {"drinks", "driving"}
    return wanted


def in_usual_order(places: str) -> bool:
    """Whether a straight gate's places lie as 49 CFR 571.102 has them.

    Neutral lies between reverse and every forward place; park, where there is one, at the end beside reverse.
    """
    at = {slot.gear: slot.detent for slot in straight_slots(places)}
    reverse, park = at.pop(REVERSE, None), at.pop(PARK, None)
    forward = [detent for gear, detent in at.items() if gear != NEUTRAL]
    if reverse is None:
        return park is None or all(park * detent < 0 for detent in forward)
    ends = park is None or (park * reverse > 0 and abs(park) > abs(reverse))
    return ends and all(detent * reverse < 0 for detent in forward)


def _has_area(layout: Layout, kind: str) -> bool:
    return any(area.kind == kind for scan in layout.scans for area in scan.areas)
