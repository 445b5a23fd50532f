"""The car on paper without a renderer: from three sides, and cut at a station."""

from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely.geometry import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from floorpan.checks.finding import Finding, Point
from floorpan.geometry.mesh import Mesh
from floorpan.layout import Layout
from floorpan.report import words
from floorpan.report.display import Drawing, Mark
from floorpan.report.facts import Drawn, ReportFacts
from floorpan.report.outlines import (
    Floats,
    Side,
    carpet_band,
    cut_of_body,
    cut_of_mesh,
    footprint,
    silhouette,
)
from floorpan.report.palette import EDGE, INK, INK2, colour, thing_colour
from floorpan.report.rows import NOT_CLEAR, pair_of, worst_first
from floorpan.report.sentences import pair_title
from floorpan.report.sheet import Sheet, ground, head
from floorpan.report.tickets import MOST, Gap, gap_marks
from floorpan.units import System, show_length

_ROOM_MM = 60.0
_HIGHEST_MM = 105.0
_NEAR_STATION_MM = 60.0
_SMALLEST_CONTOUR_MM = 150.0
_CELL_MM = {"driver": 6.0, "above": 15.0, "rear": 6.0}
_SEE_THROUGH = {"console": 0.45, "driver": 0.7, "vessel": 0.9}
_ORDER = ("seat", "console", "liner", "steel", "knob", "vessel", "driver")


def sides(layout: Layout) -> tuple[tuple[Side, str, str], ...]:
    """The three sides with the words at the left and right edge; the side view is from the driver's side."""
    left_hand = layout.driver_side == "left"
    along = 1.0 if left_hand else -1.0
    names = (words.DRIVER_EDGE, words.PASSENGER_EDGE)
    low, high = names if left_hand else names[::-1]
    ends = (words.FRONT_EDGE, words.REAR_EDGE)
    return (
        (
            Side(name="driver", right=(along, 0.0, 0.0), up=(0.0, 0.0, 1.0)),
            *(ends if left_hand else ends[::-1]),
        ),
        (Side(name="above", right=(1.0, 0.0, 0.0), up=(0.0, 1.0, 0.0)), *ends),
        (Side(name="rear", right=(0.0, 1.0, 0.0), up=(0.0, 0.0, 1.0)), low, high),
    )


def three_views(
    layout: Layout, findings: Iterable[Finding], facts: ReportFacts, width_mm: float, system: System = "mm"
) -> tuple[tuple[str, Drawing], ...]:
    """(title, drawing) from the driver's side, above and the rear; empty where there is nothing to draw."""
    if not facts.drawn and facts.floor is None:
        return ()
    told = shown_gaps(findings)
    return tuple(
        (words.VIEW_TITLES[side.name], _view(side, edges, layout, told, facts, width_mm, system))
        for side, *edges in sides(layout)
    )


def shown_gaps(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The worst state of each pair that has a place; what is clear only while there is room for tickets."""
    found: dict[object, Finding] = {}
    for finding in worst_first(findings):
        if finding.at_mm is not None and (finding.is_gap or finding.verdict == "unseen"):
            found.setdefault(pair_of(finding), finding)
    ordered = tuple(found.values())
    open_ones = tuple(finding for finding in ordered if finding.verdict in NOT_CLEAR)
    return open_ones if len(open_ones) >= MOST else ordered[:MOST]


def _view(
    side: Side,
    edges: Sequence[str],
    layout: Layout,
    told: Sequence[Finding],
    facts: ReportFacts,
    width_mm: float,
    system: System,
) -> Drawing:
    outlines = [(one, silhouette(one.body, side)) for one in _in_order(facts.drawn)]
    scan = footprint(facts.floor, side, _CELL_MM[side.name]) if facts.floor is not None else None
    points = [side.flat(np.asarray(finding.at_mm)) for finding in told]
    low, high = _region([outline for _, outline in outlines], points, scan)
    sheet = Sheet.fitted(low, high, width_mm, _HIGHEST_MM)
    window = shapely.box(sheet.left, sheet.bottom, sheet.right, sheet.top)
    marks = ground(sheet, sum(side.right), system)
    if scan is not None and facts.floor is not None:
        marks += sheet.filled(scan.intersection(window), thing_colour("scan"), opacity=0.55)
        marks += _scan_lines(side, facts.floor, told, sheet, window)
    for one, outline in outlines:
        see_through = _SEE_THROUGH.get(one.material, 1.0)
        cut = outline.intersection(window)
        marks += sheet.filled(cut, thing_colour(one.material), stroke=colour(INK2), opacity=see_through)
    gaps = tuple(_gap(finding, side.flat(np.asarray(finding.at_mm)), sheet, layout) for finding in told)
    marks += gap_marks(gaps, sheet.frame, system)
    marks += head(sheet, edges[0], edges[1], system)
    return _finished(sheet, marks, words.VIEW_TITLES[side.name], told, layout)


def _in_order(drawn: Iterable[Drawn]) -> list[Drawn]:
    def rank(one: Drawn) -> int:
        return _ORDER.index(one.material) if one.material in _ORDER else 0

    return sorted(drawn, key=rank)


def _region(
    outlines: Sequence[BaseGeometry], points: Sequence[Floats], scan: BaseGeometry | None
) -> tuple[tuple[float, float], tuple[float, float]]:
    boxes = [outline.bounds for outline in outlines if not outline.is_empty]
    boxes += [(*flat.min(axis=0), *flat.max(axis=0)) for flat in points]
    if not boxes and scan is not None and not scan.is_empty:
        boxes = [scan.bounds]
    if not boxes:
        return (0.0, 0.0), (1000.0, 600.0)
    held = np.asarray(boxes, dtype=float)
    low, high = held[:, :2].min(axis=0) - _ROOM_MM, held[:, 2:].max(axis=0) + _ROOM_MM
    if scan is not None and not scan.is_empty:
        low[1] = min(low[1], max(scan.bounds[1] - _ROOM_MM / 2, low[1] - 300.0))
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def _scan_lines(
    side: Side, floor: Mesh, told: Sequence[Finding], sheet: Sheet, window: BaseGeometry
) -> list[Mark]:
    """Where the scan is cut: by the plane of the worst place, or of the car's centre; from above, its contours."""
    if side.name == "above":
        return _contours(floor, sheet, window)
    axis = 0 if side.name == "rear" else 1
    station = _station(told, axis)
    turned = np.array([-1.0 if side.right[0] < 0.0 else 1.0, 1.0])
    marks: list[Mark] = []
    for cut in cut_of_mesh(floor, station, axis):
        marks += _parts_of(cut * turned, sheet, window, colour(INK), 0.4, ())
    return marks


def _contours(floor: Mesh, sheet: Sheet, window: BaseGeometry) -> list[Mark]:
    """Lines of one height, 50 mm apart; what is smaller than a hand is left out as roughness."""
    low, high = floor.bounds[:, 2]
    step = max(50.0, (high - low) / 12.0)
    marks: list[Mark] = []
    for index in range(int(np.ceil(low / step)), int(np.floor(high / step)) + 1):
        for cut in cut_of_mesh(floor, index * step, axis=2):
            if float(np.linalg.norm(np.ptp(cut, axis=0))) >= _SMALLEST_CONTOUR_MM:
                marks += _parts_of(cut, sheet, window, colour(EDGE), 0.15, ())
    return marks


def _station(told: Sequence[Finding], axis: int) -> float:
    worst = next((finding.at_mm for finding in told if finding.at_mm is not None), None)
    return 0.0 if worst is None else (worst[0][axis] + worst[1][axis]) / 2


def _gap(finding: Finding, flat: Floats, sheet: Sheet, layout: Layout) -> Gap:
    a, b = (sheet.at((float(x), float(y))) for x, y in flat)
    return Gap(finding=finding, title=pair_title(finding, layout), ends=(a, b), per_mm=1.0 / sheet.one_to)


def _finished(
    sheet: Sheet, marks: Sequence[Mark], title: str, told: Sequence[Finding], layout: Layout
) -> Drawing:
    named = [pair_title(finding, layout) for finding in told]
    says = f"{title}. {words.SHOWN_GAPS.format(pairs='; '.join(named))}" if named else title
    return Drawing(width_mm=sheet.width_mm, height_mm=sheet.height_mm, marks=tuple(marks), says=says)


# --- the section ------------------------------------------------------------------------------------------------


def section_station(layout: Layout, findings: Iterable[Finding], facts: ReportFacts) -> float | None:
    """Where the section is cut [car X, mm]: at the tightest place, else at the first placed thing,
    else amid the scan.
    """
    told = shown_gaps(findings)
    if told:
        return float(round(_station(told, 0)))
    for thing in layout.things():
        return float(round(thing.place.x_mm))
    if facts.floor is not None:
        return float(round(float(facts.floor.bounds[:, 0].mean())))
    return None


def station_section(
    layout: Layout,
    findings: Iterable[Finding],
    facts: ReportFacts,
    width_mm: float,
    system: System = "mm",
    station_mm: float | None = None,
) -> tuple[str, Drawing] | None:
    """(title, drawing) of the cut at a station, looking forward; None where there is nothing to cut."""
    held = tuple(findings)
    station = section_station(layout, held, facts) if station_mm is None else station_mm
    if station is None or (not facts.drawn and facts.floor is None):
        return None
    side, left_word, right_word = sides(layout)[2]
    told = tuple(f for f in shown_gaps(held) if f.at_mm is not None and _near(f.at_mm, station))
    cuts = [(one, cut_of_body(one.body, station)) for one in _in_order(facts.drawn)]
    floor = cut_of_mesh(facts.floor, station) if facts.floor is not None else ()
    points = [side.flat(np.asarray(finding.at_mm)) for finding in told]
    low, high = _region([cut for _, cut in cuts], points, MultiLineString([*floor]) if floor else None)
    sheet = Sheet.fitted(low, high, width_mm, _HIGHEST_MM)
    window = shapely.box(sheet.left, sheet.bottom, sheet.right, sheet.top)
    marks = ground(sheet, 1.0, system)
    marks += _floor_section(floor, layout.carpet_mm, sheet, window)
    if facts.unseen is not None:
        for line in cut_of_mesh(facts.unseen, station):
            marks += _parts_of(line, sheet, window, colour("unseen"), 0.5, (0.5, 0.9))
    for one, cut in cuts:
        ink = thing_colour("console_line") if one.material == "console" else colour(INK2)
        thick = 0.8 if one.material == "console" else 0.4
        see_through = min(_SEE_THROUGH.get(one.material, 1.0), 0.6)
        marks += sheet.filled(
            cut.intersection(window),
            thing_colour(one.material),
            stroke=ink,
            width_mm=thick,
            opacity=see_through,
        )
    gaps = tuple(_gap(finding, side.flat(np.asarray(finding.at_mm)), sheet, layout) for finding in told)
    marks += gap_marks(gaps, sheet.frame, system)
    marks += head(sheet, left_word, right_word, system)
    title = words.SECTION_TITLE.format(station=show_length(station, system, digits=0))
    return title, _finished(sheet, marks, title, told, layout)


def _near(at_mm: tuple[Point, Point], station: float) -> bool:
    return abs((at_mm[0][0] + at_mm[1][0]) / 2 - station) <= _NEAR_STATION_MM


def _floor_section(
    floor: Sequence[Floats], carpet_mm: float, sheet: Sheet, window: BaseGeometry
) -> list[Mark]:
    marks: list[Mark] = []
    for line in floor:
        band = carpet_band(line, carpet_mm).intersection(window)
        marks += sheet.filled(band, thing_colour("carpet"), opacity=0.35)
    for line in floor:
        marks += _parts_of(line, sheet, window, colour(INK), 0.55, ())
    return marks


def _parts_of(
    line: Floats, sheet: Sheet, window: BaseGeometry, ink: str, width_mm: float, dash: tuple[float, ...]
) -> list[Mark]:
    shown = LineString(line).intersection(window)
    return [
        sheet.drawn([(x, y) for x, y in part.coords], ink, width_mm, dash=dash)
        for part in shapely.get_parts(shown)
        if part.geom_type == "LineString" and part.length > 0.0
    ]
