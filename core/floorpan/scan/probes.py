"""Probe points: places measured by hand in the car, typed in where the scan saw nothing or saw wrongly.

A probe on a surface vouches for a small disc about it and no more. There it stands in for the scan: a plug whose
face is the disc, so that what is behind it is in the metal. A hole wider than the disc stays unseen around it. A
probe on an edge (a lip, a stud's tip) adds a point of metal and takes nothing away.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import BadValue
from floorpan.fields import Choice, Range, Text, check_fields
from floorpan.frames import Pose, Vector
from floorpan.geometry.clearance import body_gap
from floorpan.geometry.mesh import Floats, Mesh
from floorpan.geometry.near import NOTHING_NEAR, Near, vector
from floorpan.geometry.polygons import plane_axes
from floorpan.geometry.solids import Body, Hull, Solid, ball

Bools = NDArray[np.bool_]

# Common practice, no source: a depth gauge's foot, and how steep a floor may lie under it unnoticed.
USUAL_RADIUS_MM = 15.0
SLOPE_SHARE = 0.1
# A patch over a hole is no surface: a probe reaches it so far along its facing, either way [mm].
REACH_MM = 50.0
_PLUG_MM = 100.0
_SIDES = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Probe:
    """A place measured by hand. Raises BadValue for numbers that are none, or a facing without length.

    at_mm     : typed, or picked, in the scan's own coordinates [mm]
    offset_mm : from there to the place that was measured, in the same coordinates [mm]
    u_mm      : how well it is known, half-width at about 95 %
    facing    : which way the surface looks there, any length, in the same coordinates; None for the car's up
    overrides_radius_mm : how far round it vouches for; nothing for an edge
    """

    id: str
    at_mm: Vector
    offset_mm: Vector = (0.0, 0.0, 0.0)
    kind: Annotated[str, Choice(("surface", "edge"), "Measured on")] = "surface"
    u_mm: Annotated[float, Range(0.1, 20.0, "mm", "Good to", "1 for a rule held in place")] = 1.0
    facing: Vector | None = None
    overrides_radius_mm: Annotated[
        float, Range(0.0, 60.0, "mm", "Vouches for", "around it; the scan and its holes beyond stay")
    ] = USUAL_RADIUS_MM
    note: Annotated[str, Text(120, "Where")] = ""

    def __post_init__(self) -> None:
        check_fields(self)
        if not np.isfinite([*self.at_mm, *self.offset_mm, *(self.facing or ())]).all():
            raise BadValue("not-finite", "A probe point is three plain numbers.", "Type them again.")
        if self.facing is not None and math.hypot(*self.facing) < 1e-9:
            raise BadValue(
                "no-facing", "The way this surface looks has no length.", "Pick the surface again."
            )


@dataclass(frozen=True, slots=True, eq=False)
class StandingProbe:
    """A probe in car axes: place (3,) [mm], unit facing (3,), radius it vouches for [mm] (0 for an edge)."""

    id: str
    at_mm: Floats
    facing: Floats
    radius_mm: float
    u_mm: float

    @property
    def rise_mm(self) -> float:
        """What the surface may rise over the probe within its disc, one-sided [mm]."""
        return SLOPE_SHARE * self.radius_mm

    def reached(self, points: Floats, along_mm: float) -> Bools:
        """Which points (N, 3) lie over or under its disc, no farther than along_mm along its facing."""
        off = points - self.at_mm
        along = off @ self.facing
        aside = np.einsum("ij,ij->i", off, off) - along**2
        held: Bools = (aside <= self.radius_mm**2 * (1.0 + 1e-12)) & (np.abs(along) <= along_mm)
        return held


@dataclass(frozen=True, slots=True, kw_only=True)
class ProbeGap:
    """The gap to the probe that leaves least once its own doubt is taken off.

    probe   : its id, empty where there is none within the limit
    near    : the gap [mm]; negative: the least move that parts the body from the plug under the probe
    u_mm    : how well the probe is known, half-width at about 95 %; rise_mm : one-sided, for its disc's slope
    """

    probe: str = ""
    near: Near = NOTHING_NEAR
    u_mm: float = 0.0
    rise_mm: float = 0.0


def standing(probe: Probe, pose: Pose) -> StandingProbe:
    """A probe where it stands once the scan is set into car axes by a pose."""
    facing = np.array([0.0, 0.0, 1.0])
    if probe.facing is not None:
        facing = np.reshape(pose.rotation, (3, 3)) @ np.asarray(probe.facing)
        facing = facing / np.linalg.norm(facing)
    at = pose.apply(np.asarray(probe.at_mm) + np.asarray(probe.offset_mm))
    radius = probe.overrides_radius_mm if probe.kind == "surface" else 0.0
    return StandingProbe(probe.id, at, facing, radius, probe.u_mm)


def gap_to_probes(body: Body, probes: Sequence[StandingProbe], *, limit_mm: float = math.inf) -> ProbeGap:
    """The gap of a body in car axes to probes; the one that leaves least once its own doubt is taken off."""
    best, least = ProbeGap(), math.inf
    for probe in probes:
        near = body_gap(body, (_plug(probe),))
        worst = near.distance_mm - probe.u_mm - probe.rise_mm
        if near.distance_mm <= limit_mm and worst < least:
            best, least = ProbeGap(probe=probe.id, near=near, u_mm=probe.u_mm, rise_mm=probe.rise_mm), worst
    return best


def overridden(mesh: Mesh, probes: Sequence[StandingProbe]) -> Bools:
    """Faces (M,) of a scan in car axes that probes stand in for: those wholly within a probe's radius of it."""
    over = np.zeros(len(mesh.faces), dtype=bool)
    for probe in probes:
        away = np.linalg.norm(mesh.points - probe.at_mm, axis=1)
        over |= (away <= probe.radius_mm)[mesh.faces].all(axis=1)
    return over


def still_unseen(unseen: Mesh, probes: Sequence[StandingProbe]) -> Mesh:
    """What of unseen patches and rims in car axes is left once probes vouch for their discs.

    Triangles across a disc's border are halved down to a sixth of its radius and kept where any part lies outside,
    so that no more is taken away than the probe reaches. A rim is a triangle that names a point twice.
    """
    for probe in probes:
        if probe.radius_mm > 0.0 and len(unseen.faces):
            unseen = _without_disc(unseen, probe)
    return unseen


def _plug(probe: StandingProbe) -> Solid:
    """What a probe makes certain: its disc, drawn around the true circle, with metal behind it; or a point."""
    if probe.radius_mm <= 0.0:
        return Solid(ball(np.zeros(3), 0.0), Pose(shift_mm=vector(probe.at_mm)))
    turn = np.linspace(0.0, 2.0 * math.pi, _SIDES, endpoint=False)
    one, two = plane_axes(probe.facing)
    wide = probe.radius_mm / math.cos(math.pi / _SIDES)
    ring = wide * (np.cos(turn)[:, None] * one + np.sin(turn)[:, None] * two)
    hull = Hull(np.vstack([ring, ring - _PLUG_MM * probe.facing]), 0.0, wide - probe.radius_mm)
    return Solid(hull, Pose(shift_mm=vector(probe.at_mm)))


def _without_disc(unseen: Mesh, probe: StandingProbe) -> Mesh:
    left = unseen.points[unseen.faces]
    kept: list[Floats] = []
    step = max(probe.radius_mm / 6.0, 0.25)
    while len(left):
        within = probe.reached(left.reshape(-1, 3), REACH_MM).reshape(-1, 3).all(axis=1)
        side = np.linalg.norm(left - np.roll(left, -1, axis=1), axis=2)
        longest = side.max(axis=1)
        split = ~within & _may_meet(left, probe) & (longest > step)
        kept.append(left[~within & ~split])
        left = _halved(left[split], side[split].argmax(axis=1))
    corners = np.concatenate(kept)
    return Mesh(corners.reshape(-1, 3), np.arange(3 * len(corners), dtype=np.int32).reshape(-1, 3))


def _may_meet(triangles: Floats, probe: StandingProbe) -> Bools:
    """Triangles whose ball reaches the probe's cylinder."""
    middle = triangles.mean(axis=1)
    size = np.linalg.norm(triangles - middle[:, None], axis=2).max(axis=1)
    off = middle - probe.at_mm
    along = off @ probe.facing
    aside = np.sqrt(np.maximum(np.einsum("ij,ij->i", off, off) - along**2, 0.0))
    near: Bools = (aside <= probe.radius_mm + size) & (np.abs(along) <= REACH_MM + size)
    return near


def _halved(triangles: Floats, longest: NDArray[np.intp]) -> Floats:
    """Triangles (K, 3, 3) cut across their longest side; (2 K, 3, 3). One without area stays a segment."""
    row = np.arange(len(triangles))
    a, b = triangles[row, longest], triangles[row, (longest + 1) % 3]
    c = triangles[row, (longest + 2) % 3]
    middle = (a + b) / 2.0
    segment = (np.minimum(np.abs(c - a).max(axis=1), np.abs(c - b).max(axis=1)) == 0.0)[:, None]
    first = np.stack([a, middle, np.where(segment, middle, c)], axis=1)
    second = np.stack([middle, b, np.where(segment, b, c)], axis=1)
    halves: Floats = np.concatenate([first, second])
    return halves
