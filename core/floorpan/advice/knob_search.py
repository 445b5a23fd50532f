"""The place with the most room, and the nearest place with room enough: by cutting boxes, sure of what is left out.

Room changes by no more than its steepness for each mm. So the middle of a box bounds the room all through it; boxes
that cannot hold anything better are dropped, the others cut in eight.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from floorpan.advice.knob_field import Flags, most_and_live, term_margins
from floorpan.advice.knob_question import KnobQuestion, Term
from floorpan.frames import Floats

# Boxes are cut until no place in them is further than this from the middle [mm].
FINE_MM = 0.05
TIE_MM = 0.02

_FIRST_CUTS = 8
_MOST_BOXES = 3000
_WALKERS = 48
_STRIDES = 40
_EIGHTHS = np.array(list(product((-0.5, 0.5), repeat=3)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Most:
    """The place found with the most room, its margin, and what no place in the box can exceed [mm]."""

    place: Floats
    margin_mm: float
    at_most_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The nearest place found with room enough, how far it is away, and what none can be nearer than [mm]."""

    place: Floats
    away_mm: float
    at_least_mm: float


def most_room(question: KnobQuestion, low: Floats, high: Floats) -> Most:
    """Where in a box the room is most; as sure as at_most_mm says (where many places tie, less so).

    Of places that tie within TIE_MM it is the one where least is missing in all, so that only what cannot be helped
    is missing there.
    """
    middles, half = _first_boxes(low, high)
    terms, best, dropped = question.terms, -np.inf, -np.inf
    held, margin, missing = middles[0], -np.inf, np.inf
    while True:
        found = term_margins(terms, middles)
        radius = float(np.linalg.norm(half))
        most, live = most_and_live(terms, found, radius)
        room = found.min(axis=0)
        best = max(best, float(room.max()))
        tied = np.flatnonzero(room >= best - TIE_MM)
        if len(tied):
            lacks = _missing(term_margins(question.terms, middles[tied]))
            if margin < best - TIE_MM or lacks.min() < missing:
                least = int(np.argmin(lacks))
                held, margin, missing = middles[tied[least]], float(room[tied[least]]), float(lacks[least])
        worth = np.flatnonzero(most > best)
        if radius < FINE_MM or not len(worth):
            return Most(place=held, margin_mm=margin, at_most_mm=max(best, dropped, float(most.max())))
        worth = worth[np.lexsort((_missing(found[:, worth]), -np.round(4.0 * most[worth] / radius)))]
        if len(worth) > _MOST_BOXES:
            dropped = max(dropped, float(most[worth[_MOST_BOXES:]].max()))
            worth = worth[:_MOST_BOXES]
        terms = _still_live(terms, live[:, worth])
        middles, half = _cut(middles[worth], half)


def _missing(found: Floats) -> Floats:
    missing: Floats = np.maximum(-found, 0.0).sum(axis=0)
    return missing


def nearest_room(
    question: KnobQuestion, low: Floats, high: Floats, start: Floats, room_mm: float, known: Floats
) -> Nearest:
    """The place in a box nearest to `start` with room_mm or more, given one that is known to have that.

    Every place that is answered was judged exactly. Raises nothing; `known` is the answer where nothing is nearer.
    """
    terms, dropped = question.terms, np.inf
    # However one goes, the room grows by the steepness for each mm at most.
    missing = (room_mm - float(question.margins(start)[0])) / question.steepness
    place = _walked(question, terms, known[None], start, room_mm)[0]
    best = float(np.linalg.norm(place - start))
    # No place further away than the known one is of any use.
    middles, half = _first_boxes(np.maximum(low, start - best), np.minimum(high, start + best))
    while True:
        found = term_margins(terms, middles)
        radius = float(np.linalg.norm(half))
        most, live = most_and_live(terms, found, radius)
        inside = np.flatnonzero(found.min(axis=0) >= room_mm)
        if len(inside):
            far = np.linalg.norm(middles[inside] - start, axis=1)
            walkers = middles[inside[np.argsort(far, kind="stable")[:_WALKERS]]]
            walked = _walked(question, terms, walkers, start, room_mm)
            away = np.linalg.norm(walked - start, axis=1)
            if away.min() < best:
                best, place = float(away.min()), walked[int(np.argmin(away))]
        least = np.linalg.norm(np.maximum(np.abs(middles - start) - half, 0.0), axis=1)
        worth = np.flatnonzero((most >= room_mm) & (least < best))
        if radius < FINE_MM or not len(worth):
            left = min(best, dropped, float(least[worth].min()) if len(worth) else best)
            return Nearest(place=place, away_mm=best, at_least_mm=min(best, max(left, missing)))
        worth = worth[np.argsort(least[worth], kind="stable")]
        if len(worth) > _MOST_BOXES:
            dropped = min(dropped, float(least[worth[_MOST_BOXES]]))
            worth = worth[:_MOST_BOXES]
        terms = _still_live(terms, live[:, worth])
        middles, half = _cut(middles[worth], half)


def _walked(
    question: KnobQuestion, terms: tuple[Term, ...], places: Floats, start: Floats, room_mm: float
) -> Floats:
    """Places (N, 3) brought towards `start` as far as they keep room_mm.

    A stride is the room at hand over its steepness, which cannot lead out.
    """
    steepness = max(term.steepness for term in terms)
    here = places.copy()
    for _ in range(_STRIDES):
        spare = term_margins(terms, here).min(axis=0) - room_mm
        away = np.linalg.norm(start - here, axis=1)
        share = np.clip(spare / steepness / np.maximum(away, 1e-12), 0.0, 1.0)
        if (share * away).max() < FINE_MM / 10.0:
            break
        here = here + share[:, None] * (start - here)
    # Rounding may have led out by a hair, and a box's terms are not all terms: where so, the start of the walk.
    kept = question.margins(here) >= room_mm
    walked: Floats = np.where(kept[:, None], here, places)
    return walked


def _still_live(terms: tuple[Term, ...], live: Flags) -> tuple[Term, ...]:
    return tuple(terms[row] for row in np.flatnonzero(live.any(axis=1)))


def _first_boxes(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    half = np.maximum(high - low, 0.0) / 2.0 / _FIRST_CUTS
    shares = (2.0 * np.arange(_FIRST_CUTS) + 1.0) / (2.0 * _FIRST_CUTS)
    cells = np.stack(np.meshgrid(shares, shares, shares, indexing="ij"), axis=-1).reshape(-1, 3)
    return low + cells * np.maximum(high - low, 0.0), half


def _cut(middles: Floats, half: Floats) -> tuple[Floats, Floats]:
    cut = (middles[:, None, :] + _EIGHTHS * half).reshape(-1, 3)
    return cut, half / 2.0
