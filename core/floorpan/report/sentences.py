"""A finding in words: the thing first, then the number, then what it means."""

from dataclasses import dataclass, replace

from floorpan.checks.finding import Finding, margin
from floorpan.items.states import State
from floorpan.layout import Layout
from floorpan.report import words
from floorpan.report.amounts import (
    amount,
    bound_of,
    exact,
    give_or_take_text,
    step_of,
    trust_text,
    value_text,
    wanted_text,
    worse,
)
from floorpan.report.naming import (
    Called,
    axis_name,
    capital,
    first_of,
    gear_name,
    place_text,
    second_of,
    state_title,
    state_words,
)
from floorpan.units import System

__all__ = [
    "give_or_take_text",
    "pair_title",
    "place_text",
    "remark",
    "second_line",
    "sentence",
    "short_title",
    "state_words",
    "value_text",
    "wanted_text",
]

_GRIP_CHECKS = ("reach", "elbow", "reach-for")
_REACH_CHECKS = ("reach", "reach-for")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Parts:
    """The pieces a template is filled with."""

    first: Called
    second: Called
    where: str
    also: str
    grip: str


def sentence(finding: Finding, layout: Layout, system: System = "mm") -> str:
    """A finding as one sentence, lengths in the shown system."""
    parts = _parts(finding, layout)
    if finding.check in _REACH_CHECKS:
        return _reach(finding, parts, system)
    if finding.check == "drip-path":
        return _drips(finding, parts, system)
    if finding.is_gap and finding.check not in words.LEADS:
        return _gap(finding, parts, system)
    return _measured(finding, parts, system)


def _parts(finding: Finding, layout: Layout) -> _Parts:
    gears = tuple(pair for pair in finding.state if axis_name(pair[0]) == "gear")
    others = tuple(pair for pair in finding.state if pair not in gears)
    if finding.check in _GRIP_CHECKS:
        return _Parts(
            first=first_of(finding, layout),
            second=second_of(finding, layout),
            where="",
            also=_also(finding, others, layout, _for_whom(finding, layout)),
            grip=_grip(gears, layout) if finding.check != "reach-for" else second_of(finding, layout).head,
        )
    where = state_words(gears, layout)
    first, second = _who(finding, layout)
    return _Parts(
        first=first,
        second=second,
        where=f" {where}" if where else "",
        also=_also(finding, others, layout, ""),
        grip="",
    )


def _who(finding: Finding, layout: Layout) -> tuple[Called, Called]:
    """Who meets whom: a room is not what moves, so that what enters it is told first."""
    first, second = first_of(finding, layout), second_of(finding, layout)
    return (second, first) if finding.check in words.ROOMS else (first, second)


def _grip(gears: State, layout: Layout) -> str:
    stops = [stop for _, stop in gears]
    if not stops:
        return words.GRIP_UNNAMED
    if "-" in stops[0]:
        return capital(state_words(gears[:1], layout))
    return capital(gear_name(stops[0]))


def _for_whom(finding: Finding, layout: Layout) -> str:
    drivers = [person for person in layout.people if person.role == "driver"]
    if len(drivers) < 2 or not finding.subjects:
        return ""
    owner = _owner(finding)
    return next((words.FOR_WHOM.format(name=person.name) for person in drivers if person.id == owner), "")


def _owner(finding: Finding) -> str:
    return finding.subjects[0].partition(".")[0] if finding.subjects else ""


def _met(finding: Finding) -> str:
    return finding.subjects[1].partition(".")[0] if len(finding.subjects) > 1 else ""


def _also(finding: Finding, others: State, layout: Layout, for_whom: str) -> str:
    told = ", ".join(
        text for text in (for_whom, state_words(others, layout, _owner(finding), _met(finding))) if text
    )
    return f", {told}" if told else ""


def _missing(finding: Finding, system: System) -> tuple[float, float, bool]:
    """How far the shown value is from the bound it breaks, that bound, and whether it is over rather than under."""
    limit = finding.limit
    shown = _shown(finding, system)
    over = limit.sense == "at_most" or (limit.upper is not None and shown > limit.upper)
    bound = limit.upper if limit.upper is not None and over else limit.value
    return abs(shown - bound), bound, over


def _shown(finding: Finding, system: System) -> float:
    value = 0.0 if finding.value is None else finding.value
    return worse(value, finding.uncertainty, finding.limit, system)


def _gap(finding: Finding, parts: _Parts, system: System) -> str:
    template, shown = finding.verdict, _shown(finding, system)
    if finding.stale:
        template_text = words.GAP["stale" if finding.value is not None else "pending"]
    elif template == "hits":
        template_text = words.GAP["hits" if shown < 0 else "touch"]
    elif template == "short" and (shown <= 0.0 or margin(shown, finding.limit) >= 0.0):
        template_text = words.GAP["maybe" if shown > 0.0 else "may touch"]
    else:
        template_text = words.GAP[template]
    verbs = {key: forms[1 if parts.first.plural else 0] for key, forms in words.VERBS.items()}
    size = abs(shown) if template == "hits" and not finding.stale else shown
    return template_text.format(
        first=parts.first.head,
        second=parts.second.inside,
        where=parts.where,
        also=parts.also,
        value=_amount(size, finding, system),
        missing=_amount(_missing(finding, system)[0], finding, system),
        wanted=exact(finding.limit.value, finding.limit.unit, system),
        u=trust_text(finding, system),
        **verbs,
    )


def _reach(finding: Finding, parts: _Parts, system: System) -> str:
    shown = _shown(finding, system)
    key: str = finding.verdict
    if finding.value is None:
        key = "pending" if finding.stale or finding.verdict != "unseen" else "unseen"
    elif finding.stale:
        key = "stale"
    elif finding.verdict == "close" and shown < 0.0:
        key = "close-past"
    elif finding.verdict == "short" and shown >= 0.0:
        key = "short-spare"
    size = shown if key in ("clear", "stale") else abs(shown)
    return words.REACH[key].format(
        grip=parts.grip,
        value=_amount(size, finding, system),
        missing=_amount(_missing(finding, system)[0], finding, system),
        wanted=wanted_text(finding.limit, system),
        also=parts.also,
        **_trust(finding, system),
    )


def _drips(finding: Finding, parts: _Parts, system: System) -> str:
    shown = _shown(finding, system)
    key: str = finding.verdict
    if finding.value is None:
        key = "pending" if finding.stale or finding.verdict != "unseen" else "unseen"
    elif finding.stale:
        key = "stale"
    elif finding.value <= 0.0:
        key = "on"
    return words.DRIPS[key].format(
        inside=parts.first.inside,
        second=parts.second.inside,
        value=_amount(abs(shown), finding, system),
        missing=_amount(_missing(finding, system)[0], finding, system),
        wanted=wanted_text(finding.limit, system),
        also=parts.also,
        **_trust(finding, system),
    )


def _measured(finding: Finding, parts: _Parts, system: System) -> str:
    missing, bound, over = _missing(finding, system)
    named = finding.check if finding.check in words.LEADS else ""
    too_wide = finding.is_gap and finding.verdict == "hits" and not finding.stale
    fields = {
        "first": parts.first.head,
        "second": parts.second.inside,
        "inside": parts.first.inside,
        "grip": parts.grip,
        "check": finding.check.replace("-", " "),
        "value": _amount(_shown(finding, system), finding, system),
        "least": _plain(_shown(finding, system), finding, system),
        "to_second": _to_second(finding, parts),
    }
    key: str = finding.verdict
    if finding.value is None:
        key = "pending" if finding.stale or finding.verdict != "unseen" else "unseen"
    elif finding.stale:
        key = "stale"
    elif finding.verdict in ("short", "hits"):
        key = "over" if over else "under"
    if too_wide:
        wide = _shown(finding, system)
        fields["value"] = _amount(abs(wide), finding, system)
        template = words.TOO_WIDE if wide < 0.0 else words.TOO_WIDE_TOUCH
        return template.format(**fields, also=parts.also, **_trust(finding, system))
    lead = (finding.at_least and words.LEADS_UP_TO.get(named)) or words.LEADS[named]
    if _shown(finding, system) < 0.0 and f"{named}-sunk" in words.LEADS:
        lead = words.LEADS[f"{named}-sunk"]
        fields["value"] = _amount(abs(_shown(finding, system)), finding, system)
    return words.TAILS[key].format(
        lead=lead.format(**fields),
        subject=words.SUBJECTS[named].format(**fields),
        where=parts.where,
        also=parts.also,
        missing=_amount(missing, finding, system),
        wanted=wanted_text(finding.limit, system),
        bound=exact(bound, finding.limit.unit, system),
        **_trust(finding, system),
    )


def _to_second(finding: Finding, parts: _Parts) -> str:
    named = bool(finding.met) or len(finding.subjects) > 1
    return words.TO_SECOND.format(second=parts.second.inside) if named else ""


def _amount(value: float, finding: Finding, system: System) -> str:
    return words.PROVEN_SAID[bound_of(finding)].format(value=_plain(value, finding, system))


def _plain(value: float, finding: Finding, system: System) -> str:
    unit = finding.limit.unit
    return amount(value, unit, system, step_of(finding.uncertainty, unit, system))


def _trust(finding: Finding, system: System) -> dict[str, str]:
    """The give or take in its two forms, empty where a value is counted and has none."""
    if finding.uncertainty <= 0.0:
        return {"trust": "", "trust_bare": ""}
    u = trust_text(finding, system)
    return {"trust": words.TRUST.format(u=u), "trust_bare": words.TRUST_BARE.format(u=u)}


# --- short forms ------------------------------------------------------------------------------------------------


def pair_title(finding: Finding, layout: Layout, *, met: bool = True) -> str:
    """Who meets whom, without the state: `Knuckles \u2013 bottle`; met=False names the second subject only."""
    told = finding if met else replace(finding, met="")
    first, second = _who(told, layout)
    template = words.TITLES.get(finding.check)
    if template is None and len(finding.subjects) < 2 and not told.met:
        template = words.LONE_TITLE
    title = (template or words.PAIR).format(
        first=first.first, second=second.bare, inside=first.inside, check=finding.check.replace("-", " ")
    )
    whom = _for_whom(finding, layout) if finding.check in _GRIP_CHECKS else ""
    return f"{title} {whom}" if whom else title


def short_title(finding: Finding, layout: Layout) -> str:
    """A row's name: `Knuckles \u2013 bottle, reverse`."""
    state = state_title(finding.state, layout, _owner(finding), _met(finding))
    return f"{pair_title(finding, layout)}, {state}" if state else pair_title(finding, layout)


def second_line(finding: Finding, layout: Layout, system: System = "mm") -> str:
    """What is wanted and who says so, then the check's own remark."""
    line = words.SECOND_LINES.get(finding.check, words.SECOND_LINE).format(
        wanted=wanted_text(finding.limit, system), source=finding.limit.source
    )
    note = remark(finding)
    return f"{line}. {note}" if note else line


def remark(finding: Finding) -> str:
    """The check's own remark as a sentence; empty where it has none."""
    return words.NOTES.get(finding.note, finding.note)
