"""Findings of some states only, as a builder asks: with the bottle in, the seat full back, the handbrake up.

What is named is a state of some axes; everything else stays free. A pair that a named axis does not move is judged
the same at each of its stops, so it stays. A pair that was judged on the way past the stop only, as a seat over the
whole of its rails, is told by that way.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from floorpan.checks.finding import Finding
from floorpan.items.states import State, is_leg, state_of, touches
from floorpan.layout import Layout
from floorpan.report import words
from floorpan.report.axis_words import axis_title, stop_rank
from floorpan.report.naming import axis_name, axis_rank, called, stop_words
from floorpan.report.rows import Pair, pair_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One stop of an axis, as it is said: `in reverse`, `handbrake up`, `bottle in`.

    short : under the title of its axis, where its owner need not be named again: `in notch 6`
    """

    axis: str
    stop: str
    words: str
    short: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What an axis can be held to, besides to nothing."""

    axis: str
    title: str
    stops: tuple[Stop, ...]


def choices(findings: Iterable[Finding], layout: Layout) -> tuple[Choice, ...]:
    """Every axis that occurs in the findings with its stops, ends of ways among them, in the order of the work."""
    stops: dict[str, set[str]] = {}
    for finding in findings:
        for axis, stop in finding.state:
            stops.setdefault(axis, set()).update(stop.split("-") if is_leg(stop) else (stop,))
    names = [axis_name(axis) for axis in stops]
    return tuple(
        Choice(
            axis=axis,
            title=axis_title(axis, layout, several=names.count(axis_name(axis)) > 1),
            stops=tuple(
                Stop(
                    axis=axis,
                    stop=stop,
                    words=_words(axis, stop, layout, several=names.count(axis_name(axis)) > 1),
                    short=stop_words(axis, stop, layout, about=axis.rpartition(".")[0]),
                )
                for stop in sorted(stops[axis], key=stop_rank)
            ),
        )
        for axis in sorted(stops, key=axis_rank)
    )


def _words(axis: str, stop: str, layout: Layout, *, several: bool) -> str:
    owner = called(axis.rpartition(".")[0], layout).bare
    if axis_name(axis) == "place" and stop in words.ONLY_PLACE:
        return words.ONLY_PLACE[stop].format(name=owner)
    told = stop_words(axis, stop, layout)
    return told if not several or owner in told else words.AXIS_OF.format(axis=told, name=owner)


def in_effect(findings: Iterable[Finding], only: State) -> State:
    """Of what is named, what something was judged at; the rest asks for nothing any more."""
    judged = {pair for finding in findings for pair in finding.state}
    return tuple(
        (axis, stop)
        for axis, stop in only
        if any(axis == other and touches(at, stop) for other, at in judged)
    )


def holding(findings: Iterable[Finding], only: State) -> tuple[Finding, ...]:
    """The findings that hold while every named axis is at its stop, in their order."""
    told = tuple(findings)
    named = dict(in_effect(told, only))
    if not named:
        return told
    exact = {finding.id for finding in told if _stands(finding, named)}
    stood = {pair_of(finding) for finding in told if finding.id in exact}
    return tuple(
        finding
        for finding in told
        if finding.id in exact or (pair_of(finding) not in stood and _passes(finding, named))
    )


def not_judged(findings: Iterable[Finding], only: State) -> frozenset[Pair]:
    """Pairs that are judged in other states only, so that nothing is known of them in those that are named."""
    told = tuple(findings)
    held = {pair_of(finding) for finding in holding(told, only)}
    return frozenset(pair_of(finding) for finding in told) - held


def with_stop(only: State, axis: str, stop: str) -> State:
    """The same with an axis held to a stop, or to none where it is empty."""
    others = {name: at for name, at in only if name != axis}
    return state_of(others | {axis: stop}) if stop else state_of(others)


def only_words(offered: Iterable[Choice], only: State) -> tuple[str, ...]:
    """What is named, in words, in the order the axes are offered."""
    return tuple(stop.words for choice in offered for stop in choice.stops if (stop.axis, stop.stop) in only)


def _stands(finding: Finding, named: dict[str, str]) -> bool:
    return all(named.get(axis, stop) == stop for axis, stop in finding.state)


def _passes(finding: Finding, named: dict[str, str]) -> bool:
    return all(axis not in named or touches(stop, named[axis]) for axis, stop in finding.state)
