"""What was measured, drawn and cleaned on a scan, for the papers: label and value, line by line."""

from collections.abc import Iterator

import numpy as np

from floorpan.frames import STILL
from floorpan.layout import Layout, ScanRef
from floorpan.report import paper_words as said
from floorpan.report.join_told import join_told
from floorpan.report.naming import place_text
from floorpan.scan.carpet import Carpet
from floorpan.scan.centre_lines import fit_line
from floorpan.scan.known_lengths import check_lengths
from floorpan.scan.straight_edges import check_edge
from floorpan.scan.twist import check_rackings, check_twists, up_in_scan
from floorpan.units import System, show_length, show_number


def scan_told(
    layout: Layout, scan: ScanRef, cleaning: tuple[str, ...], system: System
) -> Iterator[tuple[str, str]]:
    """Lines about one scan; nothing where nothing was measured, drawn or cleaned.

    cleaning : what each line of its cleaning list came to
    """
    yield from join_told(layout, scan, system)
    yield from _measured(scan, system)
    yield from _wound_and_racked(scan, system)
    if scan.factor != 1.0:
        yield said.MULTIPLIED, said.MULTIPLIED_BY.format(n=show_number(scan.factor, 5))
    if cleaning:
        yield said.CLEANING, "; ".join(cleaning)
    if scan.outlines:
        kept = sum(one.keep for one in scan.outlines)
        yield said.OUTLINES, said.OUTLINES_OF.format(keep=kept, drop=len(scan.outlines) - kept)
    for bridge in scan.bridges:
        yield said.BRIDGED, said.BRIDGED_OF.format(id=bridge.id)
    for probe in scan.probes:
        x, y, z = (scan.pose or STILL).apply(np.add(probe.at_mm, probe.offset_mm))
        where = place_text((float(x), float(y), float(z)), layout, system)
        u, reach = (_fine(one, system) for one in (probe.u_mm, probe.overrides_radius_mm))
        told = said.PROBE_OF.format(note=probe.note or probe.id, where=where, u=u, reach=reach)
        yield said.PROBE, told
    yield from _lines(layout, scan, system)
    for area in scan.areas:
        if area.carpet is not None:
            yield said.CARPET_ON.format(area=area.kind), carpet_words(area.carpet, system)


def carpet_words(carpet: Carpet, system: System) -> str:
    """A carpet layer by layer, and what it comes to."""
    if not carpet.layers:
        return said.BARE
    layers = ", ".join(
        said.LAYER_OF.format(
            kind=layer.kind, loose=_short(layer.loose_mm, system), squeezed=_short(layer.squeezed_mm, system)
        )
        for layer in carpet.layers
    )
    loose, squeezed = _short(carpet.loose_mm, system), _short(carpet.squeezed_mm, system)
    return said.CARPET_OF.format(layers=layers, loose=loose, squeezed=squeezed, unit=system)


def _measured(scan: ScanRef, system: System) -> Iterator[tuple[str, str]]:
    found = check_lengths(scan.lengths)
    for known, check in zip(scan.lengths, found.lengths if found is not None else (), strict=True):
        yield (
            said.KNOWN_LENGTH,
            said.LENGTH_OF.format(
                name=known.name or known.id,
                taped=_short(known.taped_mm, system),
                off=_signed(check.error_mm, system),
                u=_fine(check.u_mm, system),
                verdict=said.HELD[check.verdict],
            ),
        )
    if found is not None and not found.agrees:
        yield said.KNOWN_LENGTH, said.LENGTHS_BENT
    for edge in scan.edges:
        bow = check_edge(edge)
        yield (
            said.STRAIGHT_EDGE,
            said.EDGE_OF.format(
                name=edge.name or edge.id,
                bow=_fine(bow.bow_mm, system),
                over=_short(bow.length_mm, system),
                u=_fine(bow.u_mm, system),
                verdict=said.HELD[bow.verdict],
            ),
        )


def _wound_and_racked(scan: ScanRef, system: System) -> Iterator[tuple[str, str]]:
    """Every pair of levels, and every pair of diagonals."""
    names = {edge.id: edge.name or edge.id for edge in scan.edges}
    names |= {known.id: known.name or known.id for known in scan.lengths}
    for wound in check_twists(scan.edges, up=up_in_scan(scan.pose)):
        one, other = (names[id] for id in wound.ids)
        told = said.TWIST_OF.format(
            one=one,
            other=other,
            apart=_short(wound.apart_mm, system),
            off=_fine(wound.off_mm, system),
            over=_short(wound.span_mm, system),
            u=_fine(wound.u_mm, system),
            verdict=said.HELD[wound.verdict],
        )
        yield said.TWIST, told
    for racked in check_rackings(scan.lengths):
        one, other = (names[id] for id in racked.ids)
        off, u = _signed(racked.off_mm, system), _fine(racked.u_mm, system)
        yield (
            said.RACKING,
            said.RACKING_OF.format(one=one, other=other, off=off, u=u, verdict=said.HELD[racked.verdict]),
        )


def _lines(layout: Layout, scan: ScanRef, system: System) -> Iterator[tuple[str, str]]:
    """The centre lines, once the scan stands in car axes."""
    for line in scan.centre_lines if scan.pose is not None else ():
        assert scan.pose is not None
        fit = fit_line(line, scan.pose)
        front, rear = fit.ends_mm
        told = said.LINE_OF.format(
            front=_aside(fit.at(front), layout, system),
            rear=_aside(fit.at(rear), layout, system),
            u=_fine(max(fit.u_at(front), fit.u_at(rear)), system),
        )
        yield said.CENTRE_LINE[line.kind], told


def _aside(mm: float, layout: Layout, system: System) -> str:
    to_driver = (mm < 0.0) == (layout.driver_side == "left")
    side = said.DRIVER_SIDE if to_driver else said.PASSENGER_SIDE
    return f"{_short(abs(mm), system)} {side}"


def _short(mm: float, system: System) -> str:
    return show_length(mm, system, digits=1)


def _signed(mm: float, system: System) -> str:
    sign = "+" if mm >= 0.0 else "\u2212"
    return f"{sign}{_fine(abs(mm), system)}"


def _fine(mm: float, system: System) -> str:
    return show_length(mm, system, digits=1, parts=64, with_unit=True)
