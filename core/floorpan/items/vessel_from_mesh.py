"""A vessel's outline from a scan of it: the body of revolution that lies just outside what was scanned.

The scan may lie any way round, have holes and noise, and need show one side only. What sticks out (a handle) is left
out and told. The outline errs to the outside, by no more than is told.
"""

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from floorpan.errors import ScanProblem
from floorpan.frames import Floats, Vector, vector_of
from floorpan.geometry.cut_edges import cut_where_coarse, is_coarse
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.normals import unit
from floorpan.geometry.revolution import Axis, Places, Turned, first_axes, turned
from floorpan.geometry.weld import weld
from floorpan.items.vessels import Profile
from floorpan.progress import Step, Work

OUTSIDE_MM = 0.5
"""How far the outline may lie outside the fitted skin, unless it would take too many points; default, edit me."""

MOST_RMS_SHARE, MOST_RMS_MM = 0.03, 1.0
"""Scatter from which on it is no body of revolution: of its radius, but no less than; common practice, no source."""
LEAST_USED = 0.6
"""Share of the upright skin that must lie on the body of revolution; common practice, no source."""
LEAST_SEEN_DEG = 75.0
"""How much of the way round must be seen for radius and axis to be told apart; common practice, no source."""
MOST_TURN_U_DEG = 1.0
"""How well the axis must be known (one sigma); common practice, no source."""
LARGEST_MM, WIDEST_MM, SLIMMEST_MM = 600.0, 150.0, 1.0
"""What a vessel's outline may be: height, and radius from and to."""

_AT_MOST = 12_000
_COARSE_SHARE, _CUT_AT_MOST = 1 / 16, 600_000
_CORNER_RMS = 4.0
_FEWEST = 200
_SMOOTHED = 3
_PROFILE_POINTS = 40
_FLAT, _UPRIGHT = 0.9, 0.3
_END_SHARE = 0.002
_END_MM = 3.0
_BALL_MM = 0.1
_FEW = 8
_HEAVIEST_KG = 6.0
_SECTORS = 48
_CAP_SHARE = 0.03
_HEIGHT_SHARE = 0.75


class NotRound(ScanProblem):
    """Raised for a scan that is no body of revolution, or shows too little of one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundVessel:
    """A vessel found in a mesh.

    profile    : (height over its base, radius) from the base up, outside of the skin [mm]
    outside_mm : the outline is nowhere farther outside the fitted skin than this, and nowhere inside it
    rms_mm, most_mm : how far the skin that was used scatters about the body of revolution, along its normal
    used_share : how much of the upright skin lies on it, 0 to 1; the rest (a handle, a hand) was left out
    seen_deg   : how much of the way round was seen
    base_mm, up : the middle of its base and the way up, in the mesh's own axes
    base_known : whether a closed base, or which way the scan stood, told what is up
    """

    profile: Profile
    outside_mm: float
    rms_mm: float
    most_mm: float
    used_share: float
    seen_deg: float
    base_mm: Vector
    up: Vector
    base_known: bool

    def upside_down(self) -> "RoundVessel":
        """The same with its other end as the base."""
        tall = self.profile[-1][0]
        turned_over = tuple((tall - height, radius) for height, radius in reversed(self.profile))
        top = np.array(self.base_mm) + tall * np.array(self.up)
        return replace(
            self,
            profile=turned_over,
            base_mm=vector_of(top),
            up=vector_of(-np.array(self.up)),
            base_known=True,
        )


def water_kg(profile: Profile) -> float:
    """What an outline weighs full of water, 6 kg at most: no less than any vessel with a drink in it."""
    volume = sum(
        math.pi * (high - low) * (a**2 + a * b + b**2) / 3.0
        for (low, a), (high, b) in itertools.pairwise(profile)
    )
    return round(min(volume * 1e-6, _HEAVIEST_KG), 2)


def vessel_from_mesh(mesh: Mesh, outside_mm: float = OUTSIDE_MM) -> Work[RoundVessel]:
    """The body of revolution that a mesh in mm is of.

    outside_mm : how far the outline may lie outside, in favour of fewer points
    Raises NotRound for what is none, shows too little of one, or is larger than a vessel is.
    """
    yield Step(0.0, "Looking at the skin")
    welded = weld(mesh).mesh
    places = _places(welded)
    yield Step(0.2, "Looking for its axis")
    told: list[tuple[float, Turned]] = []
    for number, start in enumerate(first_axes(places)):
        skin = _outer(places, start)
        if len(skin.points) >= _FEWEST / 4:
            found = turned(skin, start, rounds=4)
            told.append((_missed(places, skin, found), found))
        yield Step(0.3 + 0.1 * number, "Looking for its axis")
    if not told:
        raise _not_round("Its normals meet no common axis.")
    best = min(told, key=lambda one: one[0])[1]
    for number in range(2):
        skin = _outer(places, best.axis)
        best = turned(skin, best.axis)
        yield Step(0.7 + 0.1 * number, "Fitting the outline")
    _refuse(skin, best)
    return _vessel(places, skin, best, outside_mm, _stands_out_mm(welded, best))


def _places(mesh: Mesh) -> Places:
    """Points with smoothed normals and the area each stands for, of a welded mesh, in a number that is quick to fit.

    A mesh of triangles so large that their corners alone do not show its skin is cut up first.
    """
    if len(mesh.points) and not len(mesh.faces):
        raise _not_round("It holds points without triangles: export it as a mesh.")
    welded = cut_where_coarse(mesh, _COARSE_SHARE, _CUT_AT_MOST)
    if len(welded.faces) < _FEWEST / 4 or len(welded.points) < _FEWEST / 4:
        raise _not_round(f"The scan has {len(welded.points)} points, too few to find an outline in.")
    corners = welded.points[welded.faces]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(cross, axis=1) / 2.0
    normal = unit(cross)
    for _ in range(1 + _SMOOTHED):
        at_points = _gathered(welded, normal * area[:, None])
        at_points = unit(at_points)
        normal = unit(at_points[welded.faces].sum(axis=1))
    weight = _gathered(welded, np.repeat(area[:, None] / 3.0, 3, axis=1))[:, 0]
    points, normals, weights = _thinned(welded.points, at_points, weight)
    good = (weights > 0.0) & (np.abs(normals).max(axis=1) > 0.0)
    return Places(points[good], normals[good], weights[good] / weights[good].mean())


def _gathered(mesh: Mesh, of_faces: Floats) -> Floats:
    """Sums (N, 3) at the points of what their faces (M, 3) have."""
    corner = mesh.faces.ravel()
    spread = np.repeat(of_faces, 3, axis=0)
    found: Floats = np.column_stack([np.bincount(corner, spread[:, k], len(mesh.points)) for k in range(3)])
    return found


def _thinned(points: Floats, normals: Floats, weights: Floats) -> tuple[Floats, Floats, Floats]:
    if len(points) <= _AT_MOST:
        return points, normals, weights
    # By area, so that a finely meshed patch does not outvote the rest; always the same for the same mesh.
    order = np.random.default_rng(1).permutation(len(points))
    share = np.cumsum(weights[order])
    ranks = np.searchsorted(share, np.linspace(0.0, share[-1], _AT_MOST, endpoint=False))
    picked = order[np.unique(ranks)]
    return points[picked], normals[picked], np.ones(len(picked))


def _outer(places: Places, axis: Axis) -> Places:
    """What faces away from the axis, the inside of a cup left out; normals turned outward where the mesh is not."""
    _, radius, out = axis.cylindrical(places.points)
    away = (places.normals * out).sum(axis=1)
    # The outside is larger than the inside; of the same area, the one farther out.
    sign = 1.0 if (places.weights * radius * away).sum() >= 0.0 else -1.0
    facing = Places(places.points, sign * places.normals, places.weights)
    return facing.kept(sign * away > _UPRIGHT)


def _missed(places: Places, skin: Places, found: Turned) -> float:
    """How badly an axis tells of all places: how far the outer skin is off, and what is neither that nor level."""
    most = _CAP_SHARE * float(np.ptp(places.points, axis=0).max())
    off = float((skin.weights * np.minimum(np.abs(found.off_mm), most) ** 2).sum())
    level = float(places.weights[np.abs(places.normals @ found.axis.way) > _FLAT].sum())
    rest = max(float(places.weights.sum() - skin.weights.sum()) - level, 0.0)
    return (off + rest * most**2 / 2.0) / float(places.weights.sum())


def _refuse(skin: Places, found: Turned) -> None:
    """Raise NotRound where what was found is no vessel to rely on."""
    height, radius, _ = found.axis.cylindrical(skin.points)
    middle = float(np.average(radius, weights=skin.weights * found.weights))
    tall = float(np.ptp(height[found.weights > 0.0]))
    most = float(found.radii.max())
    if tall > LARGEST_MM or most > WIDEST_MM or middle < SLIMMEST_MM:
        raise _not_round(f"It would be {tall:.0f} mm tall and {2 * most:.0f} mm across. Look at the unit.")
    if found.rms_mm > max(MOST_RMS_SHARE * middle, MOST_RMS_MM):
        raise _not_round(f"Its skin scatters by {found.rms_mm:.1f} mm about the best axis.")
    used = _used(skin, found)
    if used < LEAST_USED:
        raise _not_round(f"Only {100 * used:.0f} percent of its skin lies on one body of revolution.")
    seen = _seen_deg(skin, found)
    if seen < LEAST_SEEN_DEG:
        raise _not_round(
            f"Only {seen:.0f} deg of the way round were scanned; {LEAST_SEEN_DEG:.0f} are needed."
        )
    if not found.turn_u_deg < MOST_TURN_U_DEG or _is_ball(skin, found):
        raise _not_round("A ball has no axis of its own: nothing tells which way it stands.")
    levels = np.unique(((height - found.heights[0]) / tall * _SECTORS).astype(int)[found.weights > 0.0])
    if len(levels) < _HEIGHT_SHARE * _SECTORS:
        raise _not_round("Too much of its height was not scanned.")


def _is_ball(skin: Places, found: Turned) -> bool:
    """Whether one ball fits the skin about as well as a body of revolution does."""
    weight = np.sqrt(skin.weights * found.weights)
    points = skin.points - found.axis.at_mm
    system = np.column_stack([2.0 * points, np.ones(len(points))]) * weight[:, None]
    held, *_ = np.linalg.lstsq(system, (points**2).sum(axis=1) * weight, rcond=None)
    radius = np.sqrt(max(float(held[3] + held[:3] @ held[:3]), 0.0))
    off = np.linalg.norm(points - held[:3], axis=1) - radius
    return bool(np.sqrt(np.average(off**2, weights=weight**2)) < 1.5 * found.rms_mm + _BALL_MM)


def _used(skin: Places, found: Turned) -> float:
    return float(skin.weights[found.weights > 0.0].sum() / skin.weights.sum())


def _seen_deg(skin: Places, found: Turned) -> float:
    """How much of the way round holds places, by sectors that hold at least a tenth of an even share."""
    kept = found.weights > 0.0
    _, _, out = found.axis.cylindrical(skin.points[kept])
    first = out[0] - (out[0] @ found.axis.way) * found.axis.way
    angle = np.arctan2(out @ np.cross(found.axis.way, first), out @ first)
    held = np.bincount(
        ((angle / (2 * np.pi) + 0.5) * _SECTORS).astype(int) % _SECTORS, skin.weights[kept], _SECTORS
    )
    return 360.0 * float((held > 0.1 * held.sum() / _SECTORS).mean())


def _stands_out_mm(welded: Mesh, found: Turned) -> float:
    """How far a drawn mesh's corners stand out of the body of revolution that lies between corners and flat sides."""
    if not is_coarse(welded, _COARSE_SHARE):
        return 0.0
    height, radius, _ = found.axis.cylindrical(welded.points)
    off = radius - np.interp(height, found.heights, found.radii)
    own = off[np.abs(off) <= _CORNER_RMS * found.rms_mm]
    return max(float(np.quantile(own, 0.9)), 0.0) if len(own) else 0.0


def _vessel(
    places: Places, skin: Places, found: Turned, outside_mm: float, stands_out_mm: float
) -> RoundVessel:
    up, known = _way_up(places, found)
    axis = Axis(found.axis.at_mm, found.axis.way * up)
    low, high = _ends(places, skin, found, axis)
    heights = up * found.heights
    radii = found.radii if up > 0.0 else found.radii[::-1]
    heights = heights if up > 0.0 else heights[::-1]
    inside = (heights > low) & (heights < high)
    at = np.concatenate([[low], heights[inside], [high]])
    outline = np.column_stack([at - low, np.interp(at, heights, radii) + stands_out_mm])
    profile, outside = _outside(_squared(outline), outside_mm)
    kept = found.weights > 0.0
    return RoundVessel(
        profile=profile,
        outside_mm=outside + stands_out_mm,
        rms_mm=found.rms_mm,
        most_mm=float(np.abs(found.off_mm[kept]).max()),
        used_share=_used(skin, found),
        seen_deg=_seen_deg(skin, found),
        base_mm=vector_of(axis.at_mm + low * axis.way),
        up=vector_of(axis.way),
        base_known=known,
    )


def _ends(places: Places, skin: Places, found: Turned, axis: Axis) -> tuple[float, float]:
    """Least and greatest height of what belongs to it: of its skin, or of a level end that closes it."""
    height, radius, _ = axis.cylindrical(places.points)
    own = radius <= float(found.radii.max()) + 3.0 * found.rms_mm
    level = own & (np.abs(places.normals @ axis.way) > _FLAT)
    used, _, _ = axis.cylindrical(skin.points[found.weights > 0.0])
    low, high = (float(at) for at in np.quantile(used, [_END_SHARE, 1.0 - _END_SHARE]))
    # Level skin far off the rest (a table top) is none of its own.
    reach = 0.1 * (high - low) + 3.0 * found.rms_mm
    below = level & (height < low + reach / 2.0) & (height > low - reach)
    above = level & (height > high - reach / 2.0) & (height < high + reach)
    if below.sum() >= _FEW:
        low = _face(height[below], low, -found.rms_mm)
    if above.sum() >= _FEW:
        high = _face(height[above], high, found.rms_mm)
    return low, high


def _face(heights: Floats, end: float, spread: float) -> float:
    """The height of a level end: the middle of what lies about the outermost of it, or the skin's end beyond it."""
    outermost = float(np.quantile(heights, 0.05 if spread <= 0.0 else 0.95))
    face = float(np.median(heights[np.abs(heights - outermost) <= 4.0 * abs(spread) + 0.2]))
    beyond = (end - face) * (1.0 if spread > 0.0 else -1.0)
    return end if beyond > 3.0 * abs(spread) else face


def _way_up(places: Places, found: Turned) -> tuple[float, bool]:
    """1 where the axis points from the base up, -1 where it points down; and whether anything told so.

    A closed end is the base; with both closed or both open, the way the scan stands decides where it stands upright,
    else the wider end.
    """
    height, radius, _ = found.axis.cylindrical(places.points)
    level = np.abs(places.normals @ found.axis.way) > _FLAT
    tall = float(np.ptp(found.heights)) or 1.0
    share = (height - found.heights[0]) / tall
    ends = [(share < 0.15, found.radii[:3].mean()), (share > 0.85, found.radii[-3:].mean())]
    closed = [
        float(places.weights[level & at & (radius < 0.9 * wide)].sum()) / max(wide**2, 1e-9)
        for at, wide in ends
    ]
    if max(closed) > 0.0 and min(closed) < 0.4 * max(closed):
        return (1.0 if closed[0] > closed[1] else -1.0), True
    for upright in (2, 1):
        along = float(found.axis.way[upright])
        if abs(along) > _FLAT:
            return (1.0 if along > 0.0 else -1.0), upright == 2
    return (1.0 if ends[0][1] >= ends[1][1] else -1.0), False


def _squared(outline: Floats) -> Floats:
    """The same, at both ends no narrower than it runs on straight from a little way in.

    There smoothed normals tell least of what is side and what is end, and the skin seems to draw in.
    """
    heights, radii = outline[:, 0], outline[:, 1].copy()
    tall = float(heights[-1])
    near = min(_END_MM, 0.05 * tall)
    for from_end in (heights, tall - heights):
        inner = (from_end >= near) & (from_end <= 3.0 * near)
        if inner.sum() >= 2:
            slope, start = np.polyfit(from_end[inner], outline[inner, 1], 1)
            at = from_end < near
            radii[at] = np.maximum(radii[at], start + slope * from_end[at])
    return np.column_stack([heights, radii])


def _outside(outline: Floats, outside_mm: float) -> tuple[Profile, float]:
    """As few points as lie outside an outline (K, 2) by outside_mm at most; more room where 40 would not do."""
    allowed = outside_mm
    while True:
        kept = _straightened(outline, allowed / 2.0)
        if kept.sum() <= _PROFILE_POINTS:
            break
        allowed *= 1.25
    chosen = outline[kept]
    short = np.maximum(outline[:, 1] - np.interp(outline[:, 0], chosen[:, 0], chosen[:, 1]), 0.0)
    # Every piece is lifted over what it cuts off, at both its ends.
    piece = np.searchsorted(chosen[:, 0], outline[:, 0], side="right").clip(1, len(chosen) - 1)
    cut = np.zeros(len(chosen) + 1)
    np.maximum.at(cut, piece, short)
    radii = np.clip(chosen[:, 1] + np.maximum(cut[:-1], cut[1:]), SLIMMEST_MM, WIDEST_MM)
    beyond = np.interp(outline[:, 0], chosen[:, 0], radii) - outline[:, 1]
    return tuple((float(h), float(r)) for h, r in zip(chosen[:, 0], radii, strict=True)), float(beyond.max())


def _straightened(outline: Floats, within_mm: float) -> NDArray[np.bool_]:
    """Which points of an outline are kept so that all others lie no farther than that from the straight."""
    kept = np.zeros(len(outline), dtype=bool)
    kept[[0, -1]] = True
    open_ = [(0, len(outline) - 1)]
    while open_:
        a, b = open_.pop()
        if b - a < 2:
            continue
        between = slice(a + 1, b)
        straight = np.interp(outline[between, 0], outline[[a, b], 0], outline[[a, b], 1])
        off = np.abs(outline[between, 1] - straight)
        if off.max() > within_mm:
            middle = a + 1 + int(off.argmax())
            kept[middle] = True
            open_ += [(a, middle), (middle, b)]
    return kept


def _not_round(what: str) -> NotRound:
    return NotRound(
        "not-round",
        f"No vessel was found in this scan. {what}",
        "Scan the vessel alone, from more sides, or type its outline on the Cup card.",
    )
