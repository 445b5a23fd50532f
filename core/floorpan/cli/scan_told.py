"""What is in a scan, for people and for programs."""

from collections.abc import Mapping
from typing import Any

from floorpan.cli import words
from floorpan.scan.prepare import ScanMesh
from floorpan.scan.read import RawScan
from floorpan.units import show_length, show_number

FORMAT = 1


def scan_document(raw: RawScan, prepared: ScanMesh) -> dict[str, Any]:
    """A scan as `floorpan scan --json` prints it; lengths in mm, read in the given unit or the proposed one."""
    facts = prepared.facts
    return {
        "format": FORMAT,
        "sha256": raw.sha256,
        "triangles": facts.triangles,
        "points": facts.points,
        "size_mm": list(facts.size_mm),
        "unit": {"given": raw.unit_given, "proposed": raw.proposal.unit, "why": raw.proposal.why},
        "islands": facts.islands,
        "holes": facts.holes,
        "longest_hole_mm": facts.longest_hole_mm,
        "noise_mm": facts.noise_mm,
        "dropped": facts.dropped,
        "notes": list(raw.notes),
    }


def scan_lines(name: str, raw: RawScan, prepared: ScanMesh) -> tuple[str, ...]:
    """A scan in a few lines for people."""
    facts = prepared.facts
    x, y, z = (show_length(length, digits=0) for length in facts.size_mm)
    size = words.SCAN_SIZE.format(x=x, y=y, z=z, unit=raw.unit_given or raw.proposal.unit)
    proposed = words.SCAN_PROPOSED.format(unit=raw.proposal.unit, why=raw.proposal.why)
    lines = (
        name,
        words.SCAN_COUNTS.format(
            triangles=show_number(facts.triangles, 0), points=show_number(facts.points, 0)
        ),
        size,
        "" if raw.unit_given or raw.unit_written else proposed,
        words.SCAN_ISLANDS.format(n=facts.islands),
        words.SCAN_HOLES.format(n=facts.holes, longest=show_length(facts.longest_hole_mm, digits=0)),
        words.SCAN_NOISE.format(noise=show_length(facts.noise_mm, digits=2)),
        dropped_text(facts.dropped),
        *(words.SCAN_NOTE.format(note=note) for note in raw.notes),
    )
    return tuple(line for line in lines if line)


def dropped_text(dropped: Mapping[str, int]) -> str:
    """What was left out of a scan, "" for nothing."""
    told = ", ".join(f"{show_number(n, 0)} {what}" for what, n in dropped.items())
    return words.SCAN_DROPPED.format(what=told) if told else ""
