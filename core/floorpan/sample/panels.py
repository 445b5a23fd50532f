"""The car's sheet metal, left-hand drive: floor, tunnel with its lever hole, lips, studs, cross-members."""

import math

from floorpan.sample.plan import CarSizes
from floorpan.sample.prisms import Pair, RoundedPrism, rounded_prism
from floorpan.sample.shapes import Placement, RoundedBox, RoundedCylinder, Shape, Triple, turned

_SIDES = (-1.0, 1.0)
# How far solids reach past what a scan sees: into one another, under the floor and out of the picture.
_BEYOND = 160.0


def panels(sizes: CarSizes) -> tuple[Shape, ...]:
    """The metal of a left-hand drive car."""
    return (
        *_tunnel(sizes),
        _floor(sizes),
        *(_lip(sizes, side) for side in _SIDES),
        *(_swage(sizes, side * y) for side in _SIDES for y in sizes.swage_y_mm),
        *_studs(sizes),
        *_members(sizes),
        *_ends(sizes),
        *(_sill(sizes, side) for side in _SIDES),
    )


def side_view(y_mm: float, x_mm: float = 0.0, z_mm: float = 0.0) -> Placement:
    """A placement for a prism drawn in side view, outline (X, Z), and drawn out across the car."""
    return Placement(origin_mm=(x_mm, y_mm, z_mm), axes=((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0)))


def rear_view(x_mm: float, y_mm: float) -> Placement:
    """A placement for a prism drawn as seen from behind, outline (Y, Z), and drawn out along the car."""
    return Placement(origin_mm=(x_mm, y_mm, 0.0), axes=((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)))


def tunnel_axes(sizes: CarSizes) -> tuple[Triple, Triple, Triple]:
    """Unit axes of the tunnel of a left-hand drive car: across, square to its top, along (rearward)."""
    rise, yaw = math.radians(sizes.tunnel_rise_deg), math.radians(sizes.tunnel_yaw_deg)
    return (
        (-math.sin(yaw), math.cos(yaw), 0.0),
        (math.sin(rise) * math.cos(yaw), math.sin(rise) * math.sin(yaw), math.cos(rise)),
        (math.cos(rise) * math.cos(yaw), math.cos(rise) * math.sin(yaw), -math.sin(rise)),
    )


def _tunnel(sizes: CarSizes) -> tuple[RoundedPrism, ...]:
    """Five prisms that leave the lever hole open: ahead, behind, either side, and the floor of the well."""
    deep = sizes.tunnel_height_mm + _BEYOND
    half = sizes.tunnel_top_width_mm / 2.0
    foot = half + deep / math.tan(math.radians(sizes.tunnel_flank_deg))
    hole_half_width, hole_half = sizes.lever_hole_width_mm / 2.0, sizes.lever_hole_length_mm / 2.0
    along_per_x = 1.0 / (
        math.cos(math.radians(sizes.tunnel_rise_deg)) * math.cos(math.radians(sizes.tunnel_yaw_deg))
    )
    hole = sizes.lever_hole_x_mm * along_per_x
    front, rear = sizes.front_x_mm - _BEYOND, sizes.rear_x_mm + _BEYOND
    whole = ((-foot, -deep), (foot, -deep), (half, 0.0), (-half, 0.0))
    right = ((hole_half_width, -deep), (foot, -deep), (half, 0.0), (hole_half_width, 0.0))
    left = ((-foot, -deep), (-hole_half_width, -deep), (-hole_half_width, 0.0), (-half, 0.0))
    well_z = -sizes.lever_hole_depth_mm
    wall = hole_half_width + 12.0
    well = ((-wall, -deep), (wall, -deep), (wall, well_z), (-wall, well_z))

    def piece(outline: tuple[Pair, ...], start: float, end: float) -> RoundedPrism:
        axes = tunnel_axes(sizes)
        middle = (start + end) / 2.0
        base = (0.0, sizes.tunnel_offset_mm, sizes.tunnel_height_mm)
        x, y, z = (base[k] + middle * axes[2][k] for k in range(3))
        return rounded_prism(
            "tunnel",
            Placement(origin_mm=(x, y, z), axes=axes),
            outline,
            (end - start) / 2.0,
            sizes.tunnel_edge_radius_mm,
        )

    return (
        piece(whole, front, hole - hole_half),
        piece(whole, hole + hole_half, rear),
        piece(right, hole - 2.0 * hole_half, hole + 2.0 * hole_half),
        piece(left, hole - 2.0 * hole_half, hole + 2.0 * hole_half),
        piece(well, hole - 1.5 * hole_half, hole + 1.5 * hole_half),
    )


def _floor(sizes: CarSizes) -> RoundedBox:
    return RoundedBox(
        label="floor",
        placement=Placement(
            origin_mm=((sizes.front_x_mm + sizes.rear_x_mm) / 2.0, 0.0, -_BEYOND / 2.0),
        ),
        half_mm=(
            (sizes.rear_x_mm - sizes.front_x_mm) / 2.0 + _BEYOND,
            sizes.half_width_mm + _BEYOND,
            _BEYOND / 2.0,
        ),
        radius_mm=sizes.edge_radius_mm,
    )


def _lip(sizes: CarSizes, side: float) -> RoundedBox:
    """The weld lip along one foot of the tunnel, half of it sunk in the tunnel."""
    ends = [
        (x, sizes.tunnel_centre_y(x) + side * sizes.tunnel_half_width(x, 0.0))
        for x in (sizes.front_x_mm - _BEYOND, sizes.rear_x_mm + _BEYOND)
    ]
    (x0, y0), (x1, y1) = ends
    return RoundedBox(
        label="weld lip",
        placement=turned(
            ((x0 + x1) / 2.0, (y0 + y1) / 2.0, sizes.lip_height_mm - 20.0),
            about_z_deg=math.degrees(math.atan2(y1 - y0, x1 - x0)),
        ),
        half_mm=(math.hypot(x1 - x0, y1 - y0) / 2.0, sizes.lip_width_mm, 20.0),
        radius_mm=4.0,
    )


def _swage(sizes: CarSizes, y_mm: float) -> RoundedPrism:
    """A long low rib in the floor, its flanks at 45 degrees."""
    half, high, sunk = sizes.swage_width_mm / 2.0, sizes.swage_height_mm, 30.0
    outline = ((-half - sunk, -sunk), (half + sunk, -sunk), (half - high, high), (high - half, high))
    front, rear = sizes.front_x_mm + 270.0, sizes.rear_x_mm - 160.0
    return rounded_prism("floor", rear_view((front + rear) / 2.0, y_mm), outline, (rear - front) / 2.0, 4.0)


def _studs(sizes: CarSizes) -> tuple[Shape, ...]:
    """Four studs beside the lever hole, square to the tunnel's top, and two on each floor."""
    axes = tunnel_axes(sizes)

    def stud(placement: Placement) -> RoundedCylinder:
        return RoundedCylinder(
            label="stud",
            placement=placement,
            radius_mm=sizes.stud_radius_mm,
            half_length_mm=sizes.stud_height_mm,
            rounding_mm=1.5,
        )

    studs: list[Shape] = []
    for x in sizes.tunnel_stud_x_mm:
        for side in _SIDES:
            foot = sizes.on_tunnel(x)
            aside = side * sizes.tunnel_stud_apart_mm / 2.0
            at = tuple(foot[k] + aside * axes[0][k] for k in range(3))
            studs.append(stud(Placement(origin_mm=(at[0], at[1], at[2]), axes=_stood_up(axes))))
    for x in (110.0, -150.0):
        for side in _SIDES:
            studs.append(stud(Placement(origin_mm=(x, side * 225.0, 0.0))))
    return tuple(studs)


def _stood_up(axes: tuple[Triple, Triple, Triple]) -> tuple[Triple, Triple, Triple]:
    """Tunnel axes in another order, so that the third stands up from its top."""
    across, up, along = axes
    return (along, across, up)


def _members(sizes: CarSizes) -> tuple[Shape, ...]:
    """Seat cross-members, front and rear on both sides, and the heads of the seat bolts on them."""
    top, height, sunk = sizes.member_width_mm / 2.0, sizes.member_height_mm, 40.0
    slope = 0.3
    low = top + slope * (height + sunk)
    outline = ((-low, -sunk), (low, -sunk), (top, height), (-top, height))
    inner, outer = 60.0, sizes.half_width_mm
    shapes: list[Shape] = []
    for x in (sizes.front_member_x_mm, sizes.rear_member_x_mm):
        for side in _SIDES:
            placement = side_view(side * (inner + outer) / 2.0, x)
            shapes.append(
                rounded_prism("cross-member", placement, outline, (outer - inner) / 2.0, sizes.edge_radius_mm)
            )
            for y in sizes.seat_bolt_y_mm:
                shapes.append(
                    RoundedCylinder(
                        label="seat bolt",
                        placement=Placement(origin_mm=(x, side * y, height)),
                        radius_mm=9.0,
                        half_length_mm=sizes.seat_bolt_head_mm,
                        rounding_mm=2.0,
                    )
                )
    return tuple(shapes)


def _ends(sizes: CarSizes) -> tuple[RoundedPrism, ...]:
    """The sloping toe board, the bulkhead above it, and the heel board behind the seats."""
    front, rear = sizes.front_x_mm, sizes.rear_x_mm
    half = sizes.half_width_mm + _BEYOND
    middle = side_view(0.0)
    toe = ((front - 60.0, -60.0), (front + 242.0, -60.0), (front + 60.0, 200.0), (front - 60.0, 200.0))
    bulkhead = ((front - 60.0, -50.0), (front + 40.0, -50.0), (front + 40.0, 520.0), (front - 60.0, 520.0))
    heel = ((rear - 85.0, -60.0), (rear + 90.0, -60.0), (rear + 90.0, 180.0), (rear - 55.0, 180.0))
    return (
        rounded_prism("bulkhead", middle, toe, half, sizes.edge_radius_mm),
        rounded_prism("bulkhead", middle, bulkhead, half, sizes.edge_radius_mm),
        rounded_prism("heel board", middle, heel, half, sizes.edge_radius_mm),
    )


def _sill(sizes: CarSizes, side: float) -> RoundedBox:
    low = 50.0
    return RoundedBox(
        label="sill",
        placement=Placement(
            origin_mm=(
                (sizes.front_x_mm + sizes.rear_x_mm) / 2.0,
                side * (sizes.sill_y_mm + 60.0),
                (sizes.sill_height_mm - low) / 2.0,
            )
        ),
        half_mm=(
            (sizes.rear_x_mm - sizes.front_x_mm) / 2.0 + _BEYOND,
            60.0,
            (sizes.sill_height_mm + low) / 2.0,
        ),
        radius_mm=8.0,
    )
