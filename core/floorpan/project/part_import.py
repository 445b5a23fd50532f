"""A part out of a mesh file: read, its unit said, its mesh looked at, its bytes kept as a scan's are."""

from dataclasses import replace
from pathlib import Path

from floorpan.errors import UnitNeeded, UnreadableScan
from floorpan.items import MeshPart
from floorpan.items.mesh_part import CountsAs
from floorpan.progress import Work, part
from floorpan.project.folder import Project, import_scan
from floorpan.project.starting import shown_name
from floorpan.scan.part_mesh import PartMesh, part_mesh, sides_in_file
from floorpan.scan.part_unit import part_unit
from floorpan.scan.read import RawScan, read_scan
from floorpan.units import show_number

_LONGEST_NAME = 60
_READING, _LOOKING = 0.5, 0.7


def importing_part(
    project: Project, source: Path, unit: str | None, counts_as: CountsAs = "other"
) -> Work[tuple[Project, MeshPart]]:
    """Copy a mesh file into a project: the project that has it, and the part for its layout, at the origin.

    unit : what the file's numbers mean; None takes what the file says, else raises UnitNeeded
    Raises ScanProblem where it holds no mesh that a part can be, BadValue where the part would be longer than any of a
    car, and what copying raises; nothing is copied then.
    """
    raw = yield from part(read_scan(source, unit), 0.0, _READING)
    if unit is None and raw.unit_written is not None:
        unit = raw.proposal.unit
    if unit is None:
        likely = part_unit(max(sides_in_file(raw)), counts_as)
        raise UnitNeeded(
            "unit-needed",
            f"No unit is written in {source.name}. {likely.why}",
            f"Say which it is; {likely.unit} is likely.",
            file=source.name,
            why=likely.why,
            proposed=likely.unit,
        )
    yield from part(part_mesh(raw, unit), _READING, _LOOKING)
    made = MeshPart(
        id="new",
        name=shown_name(source.stem)[:_LONGEST_NAME],
        sha256=raw.sha256,
        suffix=source.suffix.lower(),
        original_name=source.name,
        unit=unit,
        sides_in_file=sides_in_file(raw),
        counts_as=counts_as,
    )
    project, kept = yield from part(import_scan(project, source), _LOOKING, 1.0)
    if kept.sha256 != raw.sha256:
        raise UnreadableScan(
            "part-changed",
            f"{source.name} was written to while it was read.",
            "Place it from its file again.",
        )
    return project, replace(made, suffix=kept.suffix, original_name=kept.original_name)


def looked_at(raw: RawScan, unit: str) -> Work[tuple[str, ...]]:
    """What people should know of a mesh before it is placed: what was left out, and whether it is closed.

    Raises as `part_mesh` does.
    """
    found = yield from part_mesh(raw, unit)
    return tuple(_told(raw, found))


def _told(raw: RawScan, found: PartMesh) -> list[str]:
    left_out = [f"{show_number(count, 0)} {what}" for what, count in raw.dropped.items() if count]
    if found.collapsed:
        left_out.append(f"{show_number(found.collapsed, 0)} triangles with two corners in one place")
    told = [f"Left out: {', '.join(left_out)}."] if left_out else []
    if not found.closed:
        count = show_number(found.open_edges, 0)
        told.append(
            f"The mesh is not closed ({count} open edges): gaps to it are exact, but what lies in it whole is found "
            "only where it is more than half surrounded."
            if found.open_edges
            else "Its faces do not close to one skin: gaps to it are exact, what lies in it is told by what is round."
        )
    return told
