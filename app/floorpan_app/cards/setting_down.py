"""Setting a new thing down: by a click on the scan, or without a mouse where one usually is, to be typed then."""

from functools import partial

from floorpan import edits
from floorpan.frames import Vector
from floorpan.layout import Layout, Thing
from floorpan_app.cards import words
from floorpan_app.cards.card import Offer
from floorpan_app.cards.tried import tried
from floorpan_app.desk import Desk
from floorpan_app.stage.new_things import new_thing

_SIDE = 0.25
_GONE_BY = ("seat", "shifter", "console")


def offers(desk: Desk, kind: str, icon: str, *, at_side: int = 0) -> tuple[Offer, ...]:
    """Both ways; at_side is -1 for something that stands left of the middle, 1 for right."""
    return (
        Offer(word=words.ON_THE_SCAN, does=lambda: desk.use_tool(f"place {kind}"), icon=icon),
        Offer(
            word=words.IN_THE_MIDDLE if kind in _GONE_BY else words.WHERE_USUAL,
            does=lambda: set_down(desk, kind, at_side=at_side),
            icon="place",
        ),
    )


def set_down(desk: Desk, kind: str, *, at_side: int = 0) -> str:
    """Stand a thing of a kind where one usually is and take it in hand; answers its id, "" where it cannot.

    Seats, shifters and consoles are what the others go by: they stand in the middle of the floor, or to a side of it.
    """
    layout, middle = desk.layout, floor_middle(desk, at_side)
    if middle is None:
        return ""
    if kind in _GONE_BY:
        return set_down_thing(desk, new_thing(kind, layout, middle, None))
    things: list[Thing] = []
    for at, on in edits.first_places(kind, layout, middle, partial(_height, desk)):
        things.append(new_thing(kind, layout, at, on))
        if edits.is_free(things[-1], layout):
            return set_down_thing(desk, things[-1])
    return set_down_thing(desk, things[0])


def set_down_thing(desk: Desk, thing: Thing) -> str:
    """Stand a thing where it says and take it in hand; answers its id, "" where it cannot."""
    given: list[str] = []

    def add(before: Layout) -> Layout:
        after, id = edits.add(before, thing)
        given.append(id)
        return after

    if tried(desk, words.PLACE_ENTRY.format(name=thing.name), add):
        return ""
    desk.select(given[-1])
    return given[-1]


def floor_middle(desk: Desk, at_side: int = 0) -> Vector | None:
    """A place on the floor near its middle; None, and told why, where the floor is not ready or nothing was seen."""
    if not desk.judging.bench.floors_ready(desk.layout):
        desk.hinted.emit(words.BEING_MADE_READY)
        return None
    at = _middle(desk, at_side)
    if at is None:
        desk.hinted.emit(words.NOTHING_SEEN)
    return at


def _height(desk: Desk, x: float, y: float) -> float | None:
    """The floor under a place, the lowest of what lies over one another; None where nothing was seen."""
    floor = desk.judging.bench.floor(desk.layout)
    heights = floor.columns.heights_at(x, y) if floor is not None else ()
    return heights[0] if len(heights) else None


def _middle(desk: Desk, at_side: int) -> Vector | None:
    """A place on the floor near its middle, a quarter of its width to a side if asked; None where nothing was seen."""
    floor = desk.judging.bench.floor(desk.layout)
    if floor is None or not len(floor.mesh.points):
        return None
    (x0, y0, _), (x1, y1, _) = floor.mesh.bounds.tolist()
    y = (y0 + y1) / 2 + at_side * _SIDE * (y1 - y0)
    for share in (0.5, 0.45, 0.55, 0.4, 0.6, 0.3, 0.7):
        x = x0 + share * (x1 - x0)
        heights = floor.columns.heights_at(x, y)
        if heights:
            # The lowest of what lies over one another is the floor.
            return x, y, heights[0]
    return None
