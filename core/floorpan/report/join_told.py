"""How scans were brought into one frame, for the papers and the card: what joined them, and what stays open."""

from collections.abc import Iterator

import numpy as np

from floorpan.errors import BadValue
from floorpan.frames import Pose
from floorpan.geometry.registration import LooseWay
from floorpan.layout import Layout, ScanRef
from floorpan.report import paper_words as said
from floorpan.scan.joining import fit_targets
from floorpan.units import System, show_length, show_number

# A way this near an axis of the car goes by its name.
_NEAR = 0.9
# About the length of a console.
_OUT_MM = 900.0


def join_told(layout: Layout, scan: ScanRef, system: System) -> Iterator[tuple[str, str]]:
    """Lines about one scan; nothing for one that others are joined to."""
    if len(layout.scans) > 1:
        yield said.SHOWS, said.ROLES[scan.role]
    joined = scan.joined
    if joined is None:
        return
    onto = layout.scan(joined.onto)
    fit = None
    try:
        fit = fit_targets(scan.targets)
    except BadValue as fault:
        yield said.JOINED, fault.what
    if fit is not None:
        rms = _fine(fit.rms_mm, system)
        told = said.TARGETS_OF.format(n=len(scan.targets), name=onto.name, rms=rms)
        yield said.JOINED, told if fit.can_tell_mirror else f"{told} {said.TARGETS_FLAT}"
    if joined.by == "surfaces":
        places, rms = show_number(joined.places, 0), _fine(joined.rms_mm, system)
        yield said.JOINED, said.SURFACES_OF.format(name=onto.name, places=places, rms=rms)
    if joined.loose:
        ways = said.AND.join(way_text(way, onto.pose) for way in joined.loose)
        yield said.JOINED, said.LOOSE_OF.format(ways=ways, u=_fine(joined.u_mm, system))
    middle = np.array(joined.centre_mm)
    near, far = (2.0 * joined.doubt_mm(middle + np.array([out, 0.0, 0.0])) for out in (0.0, _OUT_MM))
    over = show_length(_OUT_MM, system, digits=0, with_unit=True)
    told = said.JOIN_CARRIES.format(u=_fine(near, system), far=_fine(far, system), over=over)
    yield said.JOINED, told


def way_text(way: LooseWay, pose: Pose | None) -> str:
    """A move that surfaces leave open, by the car's own words where it lies along an axis; pose of the fixed scan."""
    along = np.array(way.along)
    if pose is not None:
        along = np.reshape(pose.rotation, (3, 3)) @ along
        axis = int(np.abs(along).argmax())
        if abs(along[axis]) > _NEAR:
            return (said.WAYS if way.kind == "slide" else said.TURNS)[axis]
    x, y, z = (show_number(float(value), 2) for value in way.along)
    return (said.WAY_ALONG if way.kind == "slide" else said.TURN_ABOUT).format(x=x, y=y, z=z)


def _fine(mm: float, system: System) -> str:
    return show_length(mm, system, digits=2, parts=64, with_unit=True)
