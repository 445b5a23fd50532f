"""What a builder can change about a scan: unit, axes, crop, areas, what was pointed at on it."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from floorpan.edits.ids import new_id
from floorpan.errors import BadValue
from floorpan.frames import STILL, Vector
from floorpan.layout import (
    Area,
    Box,
    Layout,
    ScanRef,
)
from floorpan.scan.area_shapes import AreaShape
from floorpan.scan.axes import AxisPick
from floorpan.scan.bridges import Bridge
from floorpan.scan.centre_lines import CentreLine, fit_line
from floorpan.scan.cleaning_list import CleaningDeed
from floorpan.scan.known_lengths import KnownLength
from floorpan.scan.outlines import Outline
from floorpan.scan.probes import Probe
from floorpan.scan.straight_edges import StraightEdge


def add_scan(layout: Layout, scan: ScanRef) -> Layout:
    """A scan more; its id is given here, whatever it carried."""
    layout, id = new_id(layout, "scan")
    return replace(layout, scans=(*layout.scans, replace(scan, id=id)))


def change_scan(layout: Layout, id: str, **changes: Any) -> Layout:
    """A scan with other fields; a new unit drops what was pointed at in the old one, and joins of others to it."""
    scan = layout.scan(id)
    others = layout.scans
    if "unit" in changes and changes["unit"] != scan.unit:
        changes = {
            "picks": (),
            "centre_lines": (),
            "pose": None,
            "cleaned": (),
            "crop": None,
            "outlines": (),
            "areas": (),
            "bridges": (),
            "probes": (),
            "lengths": (),
            "edges": (),
            "targets": (),
            "joined": None,
            "factor": 1.0,
        } | changes
        others = tuple(
            replace(one, targets=(), joined=None, pose=None)
            if one.joined is not None and one.joined.onto == id
            else one
            for one in others
        )
    changed = replace(scan, **changes)
    return replace(layout, scans=tuple(changed if s.id == id else s for s in others))


def set_picks(layout: Layout, id: str, picks: Sequence[AxisPick]) -> Layout:
    """The points picked for the axes; the pose set from earlier picks stays until `set_axes`."""
    letters = [pick.id for pick in picks]
    if len(set(letters)) != len(letters):
        raise BadValue("pick-twice", "Two points carry the same letter.", "Pick one of them again.")
    return change_scan(layout, id, picks=tuple(picks))


def set_centre_line(layout: Layout, id: str, line: CentreLine) -> Layout:
    """Pick a centre line of a scan, in place of the one of its kind."""
    fit_line(line, layout.scan(id).pose or STILL)
    others = tuple(held for held in layout.scan(id).centre_lines if held.kind != line.kind)
    return change_scan(layout, id, centre_lines=(*others, line))


def forget_centre_line(layout: Layout, id: str, kind: str) -> Layout:
    """Forget a scan's centre line of a kind."""
    lines = tuple(line for line in layout.scan(id).centre_lines if line.kind != kind)
    return change_scan(layout, id, centre_lines=lines)


def crop(layout: Layout, id: str, box: Box | None) -> Layout:
    """Crop a scan to a box in its own coordinates, or take the crop away."""
    if box is not None and not all(
        low < high for low, high in zip(box.least_mm, box.greatest_mm, strict=True)
    ):
        raise BadValue("crop-inside-out", "The crop leaves nothing.", "Move a grip, or start the crop again.")
    return change_scan(layout, id, crop=box)


def uncrop(layout: Layout, id: str) -> Layout:
    """Take the whole crop of a scan away, box and outlines."""
    return change_scan(layout, id, crop=None, outlines=())


def crop_along(layout: Layout, id: str, outline: Outline) -> Layout:
    """Keep or drop what lies inside a drawn outline, after everything that was cropped before."""
    return change_scan(layout, id, outlines=(*layout.scan(id).outlines, outline))


def forget_outline(layout: Layout, id: str, number: int) -> Layout:
    """Take one outline of a scan's crop back, counted from 0; those after it stay."""
    outlines = layout.scan(id).outlines
    if not 0 <= number < len(outlines):
        raise BadValue("no-such-outline", "There is no such outline.", "Look which ones the scan has.")
    return change_scan(layout, id, outlines=(*outlines[:number], *outlines[number + 1 :]))


def clean(layout: Layout, id: str, deed: CleaningDeed) -> Layout:
    """One deed more on a scan's cleaning list; the file stays as it is."""
    return change_scan(layout, id, cleaned=(*layout.scan(id).cleaned, deed))


def change_cleaning(layout: Layout, id: str, number: int, deed: CleaningDeed | None) -> Layout:
    """Another deed in place of one on the cleaning list, counted from 0, or none in its place."""
    done = layout.scan(id).cleaned
    if not 0 <= number < len(done):
        raise BadValue("no-such-deed", "There is no such line.", "Look what the scan's cleaning list says.")
    held = () if deed is None else (deed,)
    return change_scan(layout, id, cleaned=(*done[:number], *held, *done[number + 1 :]))


def add_length(
    layout: Layout, scan_id: str, ends_mm: tuple[Vector, Vector], taped_mm: float, **fields: Any
) -> Layout:
    """A length that was taped between two picked places of a scan [mm]."""
    layout, id = new_id(layout, "length")
    known = KnownLength(id=id, ends_mm=ends_mm, taped_mm=taped_mm, **fields)
    return change_scan(layout, scan_id, lengths=(*layout.scan(scan_id).lengths, known))


def set_length(layout: Layout, scan_id: str, id: str, known: KnownLength | None) -> Layout:
    """Another known length in place of the one with that id, or none."""
    held = () if known is None else (known,)
    before = layout.scan(scan_id).lengths
    return change_scan(
        layout, scan_id, lengths=tuple(new for one in before for new in (held if one.id == id else (one,)))
    )


def add_edge(layout: Layout, scan_id: str, points_mm: tuple[Vector, ...], name: str = "") -> Layout:
    """Something straight that lay in the scan, picked along [mm]."""
    layout, id = new_id(layout, "edge")
    edge = StraightEdge(id=id, name=name, points_mm=points_mm)
    return change_scan(layout, scan_id, edges=(*layout.scan(scan_id).edges, edge))


def set_edge(layout: Layout, scan_id: str, id: str, edge: StraightEdge | None) -> Layout:
    """Another straight edge in place of the one with that id, or none."""
    held = () if edge is None else (edge,)
    before = layout.scan(scan_id).edges
    return change_scan(
        layout, scan_id, edges=tuple(new for one in before for new in (held if one.id == id else (one,)))
    )


def add_bridge(layout: Layout, scan_id: str, at_mm: Vector, **fields: Any) -> Layout:
    """A small hole to be closed, meant by a place near it in the scan's own coordinates [mm]."""
    layout, id = new_id(layout, "bridge")
    bridge = Bridge(id=id, at_mm=at_mm, **fields)
    return change_scan(layout, scan_id, bridges=(*layout.scan(scan_id).bridges, bridge))


def set_bridge(layout: Layout, scan_id: str, id: str, bridge: Bridge | None) -> Layout:
    """Another bridge in place of the one with that id, or none: the hole is unseen again."""
    held = () if bridge is None else (bridge,)
    before = layout.scan(scan_id).bridges
    return change_scan(
        layout, scan_id, bridges=tuple(new for one in before for new in (held if one.id == id else (one,)))
    )


def add_probe(
    layout: Layout, scan_id: str, *, at_mm: Vector, offset_mm: Vector = (0.0, 0.0, 0.0), **fields: Any
) -> Layout:
    """A place measured by hand, from a picked point and how far from it, in the scan's own coordinates [mm]."""
    layout, id = new_id(layout, "probe")
    probe = Probe(id=id, at_mm=at_mm, offset_mm=offset_mm, **fields)
    return change_scan(layout, scan_id, probes=(*layout.scan(scan_id).probes, probe))


def set_probe(layout: Layout, scan_id: str, probe: Probe) -> Layout:
    """A probe point in place of the one with its id."""
    probes = tuple(probe if one.id == probe.id else one for one in layout.scan(scan_id).probes)
    return change_scan(layout, scan_id, probes=probes)


def forget_probe(layout: Layout, scan_id: str, id: str) -> Layout:
    """Forget a probe point."""
    probes = tuple(one for one in layout.scan(scan_id).probes if one.id != id)
    return change_scan(layout, scan_id, probes=probes)


def add_area(
    layout: Layout,
    scan_id: str,
    kind: str,
    box: Box | None = None,
    stands_for: str = "",
    *,
    shapes: tuple[AreaShape, ...] = (),
) -> Layout:
    """Name a part of a scan by a box, or by what was drawn on it."""
    scan = layout.scan(scan_id)
    slug, number = kind.replace(" ", "-"), 1
    taken = {area.id for area in scan.areas}
    while (id := f"{scan_id}.{slug}" + (f"-{number}" if number > 1 else "")) in taken:
        number += 1
    area = Area(id=id, kind=kind, box=box, shapes=shapes, stands_for=stands_for)
    return change_scan(layout, scan_id, areas=(*scan.areas, area))


def draw_area(layout: Layout, scan_id: str, area_id: str, shape: AreaShape) -> Layout:
    """Put one shape more to a named part of a scan, or take it away from it, as the shape says."""
    areas = tuple(
        replace(area, shapes=(*area.shapes, shape)) if area.id == area_id else area
        for area in layout.scan(scan_id).areas
    )
    return change_scan(layout, scan_id, areas=areas)


def remove_area(layout: Layout, scan_id: str, area_id: str) -> Layout:
    """Forget a named part of a scan."""
    areas = tuple(area for area in layout.scan(scan_id).areas if area.id != area_id)
    return change_scan(layout, scan_id, areas=areas)
