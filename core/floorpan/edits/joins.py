"""Scans brought into one frame: common targets, the join they make, and what follows when a scan moves."""

from dataclasses import replace

from floorpan.edits.ids import new_id
from floorpan.edits.scans import change_scan
from floorpan.errors import BadValue
from floorpan.frames import Pose, Vector
from floorpan.layout import Layout, ScanRef
from floorpan.scan.joining import FEWEST_TARGETS, Joined, Target, fit_targets


def add_target(layout: Layout, scan_id: str, *, here_mm: Vector, there_mm: Vector, name: str = "") -> Layout:
    """A place that a scan and the one it is joined to both show, each in its own coordinates [mm]."""
    layout, id = new_id(layout, "target")
    target = Target(id=id, name=name, here_mm=here_mm, there_mm=there_mm)
    return change_scan(layout, scan_id, targets=(*layout.scan(scan_id).targets, target))


def set_target(layout: Layout, scan_id: str, id: str, target: Target | None) -> Layout:
    """Another target in place of the one with that id, or none. A join that was made stays until it is made again."""
    held = () if target is None else (target,)
    before = layout.scan(scan_id).targets
    return change_scan(
        layout, scan_id, targets=tuple(new for one in before for new in (held if one.id == id else (one,)))
    )


def join_by_targets(layout: Layout, scan_id: str, onto: str) -> Layout:
    """Join a scan to another by their common targets. Raises BadValue where these do not tell."""
    fit = fit_targets(layout.scan(scan_id).targets)
    if fit is None:
        raise BadValue(
            "targets-few",
            f"It takes {FEWEST_TARGETS} common targets to join two scans.",
            "Pick more, far apart and not on one line.",
        )
    if fit.mirrored:
        raise BadValue(
            "targets-mirrored",
            "One of these scans is a mirror image of the other.",
            "Look how it was exported; a scan is never mirrored here.",
        )
    return join(layout, scan_id, fit.joined(onto))


def join(layout: Layout, scan_id: str, joined: Joined) -> Layout:
    """Join a scan to another one; once that one has axes, this one has them too."""
    onto = layout.scan(joined.onto)
    if onto.id == scan_id or onto.joined is not None:
        raise BadValue(
            "join-in-a-ring",
            f"{onto.name} cannot carry this scan.",
            "Join every scan to one that is not joined itself.",
        )
    if any(one.joined is not None and one.joined.onto == scan_id for one in layout.scans):
        raise BadValue(
            "join-carries-others",
            "Other scans are joined to this one.",
            "Take them apart first, or join them to the same scan.",
        )
    return change_scan(layout, scan_id, joined=joined, pose=_carried(onto, joined))


def take_apart(layout: Layout, scan_id: str) -> Layout:
    """Undo a scan's join; its targets stay."""
    return change_scan(layout, scan_id, joined=None, pose=None)


def set_axes(layout: Layout, id: str, pose: Pose) -> Layout:
    """Set a scan into car axes. It moves, and the scans that are joined to it; what was picked and placed does not."""
    if layout.scan(id).joined is not None:
        raise BadValue(
            "axes-of-joined", "This scan stands as it is joined.", "Set the axes of the scan it is joined to."
        )
    return carried_along(change_scan(layout, id, pose=pose), id)


def carried_along(layout: Layout, id: str) -> Layout:
    """The layout with every scan that is joined to one standing where that one takes it."""
    onto = layout.scan(id)
    scans = tuple(
        replace(one, pose=_carried(onto, one.joined))
        if one.joined is not None and one.joined.onto == id
        else one
        for one in layout.scans
    )
    return replace(layout, scans=scans)


def remove_scan(layout: Layout, id: str) -> Layout:
    """Take a scan out of the layout; its file stays in the project. Scans that were joined to it are taken apart."""
    layout.scan(id)
    scans = tuple(
        replace(one, joined=None, pose=None) if one.joined is not None and one.joined.onto == id else one
        for one in layout.scans
        if one.id != id
    )
    return replace(layout, scans=scans)


def _carried(onto: ScanRef, joined: Joined) -> Pose | None:
    return None if onto.pose is None else onto.pose.after(joined.pose)
