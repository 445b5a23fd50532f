"""The opening a lever needs as an outline in true size, and its boot, in words."""

from collections.abc import Iterator, Sequence

from floorpan.advice.lever_sums import usual_margin
from floorpan.checks.lever import opening_limit
from floorpan.errors import BadValue
from floorpan.items import Shifter
from floorpan.items.boot import boot_table, has_boot, room_for_ring_mm
from floorpan.items.opening_outline import OpeningOutline, opening_outline
from floorpan.layout import Layout
from floorpan.report import opening_words as said
from floorpan.report.blocks import Block, Picture, Prose
from floorpan.report.display import Drawing, Mark, Point, Words, line
from floorpan.report.naming import gear_name
from floorpan.report.palette import ACCENT, EDGE, INK, INK2, colour
from floorpan.units import System, show_length, show_number

_EDGE_MM, _FOOT_MM, _TYPE_MM, _CROSS_MM, _BAR_MM = 4.0, 9.0, 3.2, 4.0, 50.0
_HIGHEST_MM = 220.0


def margin_of(layout: Layout, shifter: Shifter) -> tuple[float, str]:
    """What the opening has beyond the lever [mm] and where that comes from, as the project has it."""
    changed = next((one for one in layout.limits if one.id == opening_limit(shifter)), None)
    if changed is None:
        return usual_margin(shifter)
    return changed.value, changed.note or "set in this project"


def needed_outline(layout: Layout, shifter: Shifter) -> OpeningOutline | None:
    """The outline at the opening's height; None where the lever lies too flat for one."""
    try:
        return opening_outline(shifter, shifter.opening_mm, margin_of(layout, shifter)[0])
    except BadValue:
        return None


def needed_text(layout: Layout, shifter: Shifter, outline: OpeningOutline, system: System) -> str:
    """How large it is, where, and what is round it."""
    margin, source = margin_of(layout, shifter)
    rock = said.ROCK.format(rock=_length(shifter.rock_mm, system)) if shifter.rock_mm else ""
    return said.NEEDED.format(
        length=_length(outline.length_mm, system),
        width=_length(outline.width_mm, system),
        height=_length(outline.height_mm, system),
        margin=_length(margin, system),
        source=source,
        rock=rock,
    )


def boot_texts(shifter: Shifter, system: System) -> tuple[str, ...]:
    """What the boot has to spare where it has least, and the room under the knob for a lift ring."""
    told = []
    if has_boot(shifter):
        least = min(boot_table(shifter), key=lambda one: one.slack)
        told.append(
            said.BOOT.format(
                slack=said.PERCENT.format(n=show_number(least.slack, 0)),
                gear=gear_name(least.gear),
                needs=_length(least.needs_mm, system),
                ring=_length(2 * shifter.ring_radius_mm, system),
            )
        )
    if shifter.ring_lift_mm:
        room = room_for_ring_mm(shifter)
        form = said.RING_ROOM if room >= 0.0 else said.RING_BUNCHED
        told.append(form.format(room=_length(abs(room), system)))
    return tuple(told)


def opening_blocks(layout: Layout, system: System, width_mm: float) -> Iterator[Block]:
    """The outline of every shifter's opening, as large as it is cut."""
    for shifter in layout.of(Shifter):
        outline = needed_outline(layout, shifter)
        if outline is None:
            continue
        drawing = outline_drawing(shifter, outline, system)
        needed = needed_text(layout, shifter, outline, system)
        if drawing.width_mm > width_mm or drawing.height_mm > _HIGHEST_MM:
            yield Prose(text=f"{needed} {said.TOO_LARGE}")
        else:
            yield Picture(
                title=said.TITLE.format(name=shifter.name), drawing=drawing, note=f"{needed} {said.DRAWN}"
            )
        for text in boot_texts(shifter, system):
            yield Prose(text=text, role="second")


def outline_drawing(shifter: Shifter, outline: OpeningOutline, system: System) -> Drawing:
    """The outline in true size seen from above, front up, with the entered rectangle, the foot's cross and a bar."""
    half_long, half_wide = shifter.opening_length_mm / 2, shifter.opening_width_mm / 2
    back = shifter.opening_back_mm
    cut = [
        (back + along * half_long, across * half_wide)
        for along, across in ((-1, -1), (-1, 1), (1, 1), (1, -1))
    ]
    needed = [(float(x), float(y)) for x, y in outline.points_mm]
    everything = [*cut, *needed, (-_CROSS_MM, -_CROSS_MM), (_CROSS_MM, _CROSS_MM)]
    least = min(y for _, y in everything), max(x for x, _ in everything)
    width = max(max(y for _, y in everything) - least[0], _BAR_MM) + 2 * _EDGE_MM
    height = least[1] - min(x for x, _ in everything) + 2 * _EDGE_MM + _FOOT_MM

    def at(place: Point) -> Point:
        x, y = place
        return y - least[0] + _EDGE_MM, least[1] - x + _EDGE_MM + _FOOT_MM

    def path(places: Sequence[Point]) -> list[Point]:
        return [at(one) for one in places]

    cross = ([(-_CROSS_MM, 0.0), (_CROSS_MM, 0.0)], [(0.0, -_CROSS_MM), (0.0, _CROSS_MM)])
    bar = [(_EDGE_MM, _EDGE_MM), (_EDGE_MM + _BAR_MM, _EDGE_MM)]
    marks: list[Mark] = [
        line(path(cut), colour(EDGE), 0.3, dash=(2.0, 1.2), closed=True),
        line(path(needed), colour(INK), 0.35, closed=True),
        *(line(path(one), colour(ACCENT), 0.3) for one in cross),
        line(bar, colour(INK2), 0.5),
        *(line([(x, y - 1.2), (x, y + 1.2)], colour(INK2), 0.3) for x, y in bar),
        Words(
            text=said.BAR.format(length=_length(_BAR_MM, system)),
            at=(_EDGE_MM + _BAR_MM / 2, _EDGE_MM + 1.4),
            size_mm=_TYPE_MM,
            colour=colour(INK2),
            anchor="middle",
        ),
    ]
    return Drawing(
        width_mm=width,
        height_mm=height,
        marks=tuple(marks),
        says=said.SAYS.format(
            length=_length(outline.length_mm, system), width=_length(outline.width_mm, system)
        ),
    )


def _length(mm: float, system: System) -> str:
    return show_length(mm, system, digits=0, with_unit=True)
