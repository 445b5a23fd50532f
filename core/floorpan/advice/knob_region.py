"""Where the knob should be: every place from which all gears stay within easy reach, and what bounds it where.

A question (arms at their notches, gears, limits) is answered over voxels. The room at a voxel is exact, and room
changes by the question's steepness for each mm at most (1, or sqrt(3) with a sampled surface among the limits).
So anywhere within a voxel's own cube, that is within sqrt(3) / 2 of the spacing, the room differs from the voxel's
by no more than that way times the steepness: 8.7 mm for voxels of 10 mm without sampled limits. A voxel with more
than that has its whole cube inside; one that misses more has all of it outside.
"""

import math
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from floorpan.advice.knob_field import KnobField, knob_field
from floorpan.advice.knob_question import Cause, Judged, KnobQuestion
from floorpan.advice.knob_search import most_room, nearest_room
from floorpan.errors import BadValue
from floorpan.frames import Floats, Vector, vector_of
from floorpan.progress import Step, Work

# Causes that lack as much as the worst, to so many mm, take part in a clash.
CLASH_MM = 1.0

_ROUND_FIRST, _ROUND_FURTHER = 3, 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Roomiest:
    """The place with the most room that was found.

    place_mm   : in car axes; the least bad place where the region is empty
    margin_mm  : the room there, exact
    at_most_mm : no place has more than this
    causes     : what limits there, all within CLASH_MM of the worst, worst first; of an empty region: what clashes
    """

    place_mm: Vector
    margin_mm: float
    at_most_mm: float
    causes: tuple[Cause, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KnobSide:
    """One side of the region: all of its boundary that one name limits.

    name     : of the causes; cause the one of them that limits most of this side
    at_mm    : a voxel of the side near its middle, for a label; within one spacing of the boundary
    share    : of the whole boundary's area, 0 to 1
    """

    name: str
    cause: Cause
    at_mm: Vector
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KnobMove:
    """How to get the knob from where it is into the region.

    inside        : whether it already is; then nothing is to be moved
    margin_mm     : the room where the knob is now, exact; cause what limits there
    place_mm      : the nearest place found, exact room room_mm or more; away_mm how far that is
    at_least_mm   : no place with that room is nearer than this
    move_mm       : whole mm rearward, to the right, up; None where no whole move near the place ends inside
    moved_margin_mm : the exact room after the whole move; never below room_mm
    """

    inside: bool
    margin_mm: float
    cause: Cause
    place_mm: Vector
    away_mm: float
    at_least_mm: float
    move_mm: tuple[int, int, int] | None
    moved_margin_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KnobRegion:
    """Places of the knob in neutral from which every gear is in reach and clear of every limit.

    question, field : what was asked, and the room over voxels
    causes          : what field.cause points into
    empty           : no place was found; roomiest.at_most_mm says how sure that is (below 0: there is none)
    volume_litres   : by how far voxels are filled; right to the second order of the spacing on a smooth boundary
    low_mm, high_mm : a box that the region fills from face to face at least; a tip may stick out of it by less than
                      a voxel's diagonal. None where no voxel lies inside.
    """

    question: KnobQuestion
    field: KnobField
    empty: bool
    roomiest: Roomiest
    volume_litres: float
    low_mm: Vector | None
    high_mm: Vector | None

    @property
    def causes(self) -> tuple[Cause, ...]:
        return tuple(term.cause for term in self.question.terms)

    @property
    def between_mm(self) -> float:
        """How far the room anywhere in a voxel's cube may differ from the voxel's own [mm]."""
        return math.sqrt(3.0) / 2.0 * self.field.spacing_mm * self.question.steepness

    def margin_at(self, place: Vector) -> Judged:
        """The exact room at any place, inside the field or out, and what limits there."""
        return self.question.margin_at(place)


def knob_region(question: KnobQuestion, spacing_mm: float = 10.0) -> Work[KnobRegion]:
    """Work out where the knob may be, in voxels of spacing_mm. Raises BadValue for a spacing below 0.5 mm."""
    if not 0.5 <= spacing_mm < math.inf:
        raise BadValue("voxels-too-fine", "Voxels are half a mm or more.", "Ask for larger voxels.")
    field = yield from knob_field(question, spacing_mm)
    inside = np.argwhere(field.margin >= 0.0)
    room = field.margin[tuple(inside.T)]
    yield Step(0.97, "Looking for the roomiest place")
    roomiest = _roomiest(question, field, inside, room)
    empty = roomiest.margin_mm < 0.0
    low = high = None
    if len(inside):
        # A ball of that room about a voxel is inside as well.
        places, about = field.places(inside), (room / question.steepness)[:, None]
        low, high = vector_of((places - about).min(axis=0)), vector_of((places + about).max(axis=0))
    filled = np.clip(field.margin / field.spacing_mm + 0.5, 0.0, 1.0).sum() * field.spacing_mm**3 / 1e6
    return KnobRegion(
        question=question,
        field=field,
        empty=empty,
        roomiest=roomiest,
        volume_litres=0.0 if empty else float(filled),
        low_mm=low,
        high_mm=high,
    )


def sides(region: KnobRegion) -> tuple[KnobSide, ...]:
    """The sides of the region, largest first; none of an empty one, nor of one that slips between the voxels.

    Areas are those of the thin layer within a voxel's spacing of the boundary, which does not mind how the boundary
    lies to the voxels.
    """
    field = region.field
    if region.low_mm is None:
        return ()
    layer = np.argwhere(np.abs(field.margin) < field.spacing_mm)
    index = field.cause[tuple(layer.T)]
    names = np.array([cause.name for cause in region.causes], dtype=object)[index]
    found = []
    for name in dict.fromkeys(cause.name for cause in region.causes):
        mine = names == name
        if not mine.any():
            continue
        most = int(np.bincount(index[mine]).argmax())
        places = field.places(layer[mine])
        off = np.linalg.norm(places - places.mean(axis=0), axis=1)
        share = float(mine.mean())
        at = vector_of(places[int(np.argmin(off))])
        found.append(KnobSide(name=name, cause=region.causes[most], at_mm=at, share=share))
    return tuple(sorted(found, key=lambda side: -side.share))


def nearest(region: KnobRegion, present_mm: Vector | None = None, room_mm: float = 0.0) -> KnobMove | None:
    """The least move that brings the knob into the region; None where no place has room_mm.

    present_mm : where the knob is; the question's own place unless given
    room_mm    : how much room it shall have there
    """
    question = region.question
    present = question.present_mm if present_mm is None else present_mm
    start = np.array(present, dtype=float)
    now = question.margin_at(present)
    if now.margin_mm >= room_mm:
        return KnobMove(
            inside=True,
            margin_mm=now.margin_mm,
            cause=now.cause,
            place_mm=vector_of(start),
            away_mm=0.0,
            at_least_mm=0.0,
            move_mm=(0, 0, 0),
            moved_margin_mm=now.margin_mm,
        )
    known = _known(region, start, room_mm)
    if known is None:
        return None
    low, high = question.reach_box()
    found = nearest_room(question, low, high, start, room_mm, known)
    move, margin = _whole_move(question, start, found.place, room_mm)
    return KnobMove(
        inside=False,
        margin_mm=now.margin_mm,
        cause=now.cause,
        place_mm=vector_of(found.place),
        away_mm=found.away_mm,
        at_least_mm=found.at_least_mm,
        move_mm=move,
        moved_margin_mm=margin,
    )


def _roomiest(question: KnobQuestion, field: KnobField, inside: NDArray[np.intp], room: Floats) -> Roomiest:
    if len(inside):
        place, margin = field.places(inside[int(np.argmax(room))]), float(room.max())
        # The middle of no voxel is further than this from any place.
        at_most = margin + math.sqrt(3.0) / 2.0 * field.spacing_mm * question.steepness
    else:
        low, high = question.reach_box()
        # Where arms share no place at all, the box grows until the present knob, and so all that beat it, are in.
        lacking = max(-question.margin_at(question.present_mm).margin_mm, 0.0)
        found = most_room(question, low - lacking, high + lacking)
        place, margin, at_most = found.place, found.margin_mm, found.at_most_mm
    each = question.room_of_each(vector_of(place))
    order = np.argsort(each, kind="stable")
    clash = tuple(question.terms[row].cause for row in order if each[row] <= each.min() + CLASH_MM)
    return Roomiest(place_mm=vector_of(place), margin_mm=margin, at_most_mm=at_most, causes=clash)


def _known(region: KnobRegion, start: Floats, room_mm: float) -> Floats | None:
    """The nearest voxel with room_mm, or else any place that has it."""
    voxels = np.argwhere(region.field.margin >= max(room_mm, 0.0))
    if len(voxels):
        places = region.field.places(voxels)
        ranked = places[np.argsort(np.linalg.norm(places - start, axis=1), kind="stable")]
        # What the field says is exact but for rounding in the place; nearly every first one is taken.
        for begin in range(0, len(ranked), 64):
            held = ranked[begin : begin + 64][region.question.margins(ranked[begin : begin + 64]) >= room_mm]
            if len(held):
                return np.asarray(held[0], dtype=float)
    place = np.array(region.roomiest.place_mm)
    return place if region.question.margins(place)[0] >= room_mm else None


def _whole_move(
    question: KnobQuestion, start: Floats, place: Floats, room_mm: float
) -> tuple[tuple[int, int, int] | None, float | None]:
    """The shortest whole move about a place that ends with room_mm, judged where it ends."""
    rounded = np.round(place - start).astype(int)
    for further in (_ROUND_FIRST, _ROUND_FURTHER):
        about = np.array(list(product(range(-further, further + 1), repeat=3)), dtype=int)
        moves = rounded + about
        room = question.margins(start + moves)
        held = np.flatnonzero(room >= room_mm)
        if len(held):
            shortest = held[np.argmin((moves[held] ** 2).sum(axis=1))]
            x, y, z = (int(value) for value in moves[shortest])
            return (x, y, z), float(room[shortest])
    return None, None
