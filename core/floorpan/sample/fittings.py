"""What stands in the car, left-hand drive: dash, steering wheel, pedals, seats and handbrake."""

import math
from collections.abc import Sequence

from floorpan.sample.panels import side_view
from floorpan.sample.plan import CarSizes
from floorpan.sample.prisms import rounded_prism
from floorpan.sample.shapes import (
    Capsule,
    Placement,
    Ring,
    RoundedBox,
    RoundedCylinder,
    Shape,
    Triple,
    turned,
)


def fittings(sizes: CarSizes) -> tuple[Shape, ...]:
    """Dash, wheel, pedals and handbrake of a left-hand drive car."""
    return (_dash(sizes), *_wheel(sizes), *_pedals(sizes), *_handbrake(sizes))


def seats(sizes: CarSizes) -> tuple[Shape, ...]:
    """Both seats of a left-hand drive car at their reference notch."""
    return (
        *_seat("driver seat", sizes.driver_h_point_mm, sizes),
        *_seat("passenger seat", sizes.passenger_h_point_mm, sizes),
    )


def _dash(sizes: CarSizes) -> Shape:
    """The body of the dash in side view, as wide as the car; its top leans away from the seats."""
    rear, top = sizes.dash_rear_x_mm, sizes.dash_top_z_mm
    low_x, low_z = sizes.dash_lower_x_mm, sizes.dash_lower_z_mm
    outline = (
        (low_x, low_z),
        (rear, low_z + 75.0),
        (rear - 30.0, top - 25.0),
        (rear - 100.0, top),
        (rear - 430.0, top),
        (rear - 380.0, low_z + 60.0),
    )
    return rounded_prism("dash", side_view(0.0), outline, sizes.dash_half_width_mm, 16.0)


def _wheel(sizes: CarSizes) -> tuple[Shape, ...]:
    """Rim, three spokes, hub and the column that carries them."""
    centre = sizes.wheel_centre_mm
    place = turned(centre, about_y_deg=90.0 - sizes.wheel_tilt_deg)
    radius = sizes.wheel_diameter_mm / 2.0 - sizes.wheel_tube_radius_mm

    def at(across: float, up: float, toward_driver: float) -> Triple:
        # The first axis of the wheel's placement points down its face, the third at the driver.
        x, y, z = place.to_car([(-up, across, toward_driver)])[0]
        return (float(x), float(y), float(z))

    return (
        Ring(
            label="wheel rim",
            placement=place,
            ring_radius_mm=radius,
            tube_radius_mm=sizes.wheel_tube_radius_mm,
        ),
        *(
            Capsule(
                label="wheel spoke", start_mm=at(0.0, 0.0, -20.0), end_mm=at(across, up, 0.0), radius_mm=8.0
            )
            for across, up in ((-radius, 0.0), (radius, 0.0), (0.0, -radius))
        ),
        RoundedCylinder(
            label="wheel hub",
            placement=Placement(origin_mm=at(0.0, 0.0, -16.0), axes=place.axes),
            radius_mm=48.0,
            half_length_mm=16.0,
            rounding_mm=8.0,
        ),
        Capsule(
            label="steering column",
            start_mm=at(0.0, 0.0, -60.0),
            end_mm=at(0.0, 0.0, -260.0),
            radius_mm=36.0,
        ),
    )


def _pedals(sizes: CarSizes) -> tuple[Shape, ...]:
    """Clutch, brake and throttle, hung from ahead of the dash."""
    x, z = sizes.front_x_mm + 300.0, 150.0
    centre = sizes.driver_h_point_mm[1]
    shapes: list[Shape] = []
    for aside, width, height in ((-85.0, 28.0, 32.0), (0.0, 30.0, 32.0), (95.0, 22.0, 65.0)):
        y = centre + aside
        shapes.append(
            RoundedBox(
                label="pedal",
                placement=turned((x, y, z), about_y_deg=-32.0),
                half_mm=(8.0, width, height),
                radius_mm=6.0,
            )
        )
        shapes.append(
            Capsule(label="pedal", start_mm=(x - 8.0, y, z), end_mm=(x - 70.0, y, z + 260.0), radius_mm=8.0)
        )
    return tuple(shapes)


def _seat(label: str, h_point: Triple, sizes: CarSizes) -> tuple[Shape, ...]:
    """One seat: cushion and backrest with bolsters, headrest, and the two rails it stands on."""
    x, y, z = h_point
    outline = (
        (-345.0, -110.0),
        (-100.0, -132.0),
        (140.0, -134.0),
        (140.0, -98.0),
        (-312.0, -14.0),
        (-347.0, -38.0),
    )
    lean = math.degrees(math.atan2(98.0 - 14.0, 140.0 + 312.0))
    bolster_half = 34.0
    aside = sizes.seat_h_y_mm - sizes.cushion_gap_mm / 2.0 - bolster_half
    back = turned(h_point, about_y_deg=sizes.backrest_deg)
    shapes: list[Shape] = [
        rounded_prism(label, side_view(y, x, z), outline, 186.0, 16.0),
        _back_part(label, back, (168.0, 0.0, 318.0), (38.0, 195.0, 285.0)),
        _back_part(label, back, (162.0, 0.0, 640.0), (34.0, 120.0, 72.0)),
    ]
    for side in (-1.0, 1.0):
        shapes.append(
            RoundedBox(
                label=label,
                placement=turned((x - 118.0, y + side * aside, z - 42.0), about_y_deg=lean),
                half_mm=(205.0, bolster_half, 48.0),
                radius_mm=28.0,
            )
        )
        shapes.append(_back_part(label, back, (118.0, side * aside, 262.0), (46.0, bolster_half, 205.0)))
        shapes.append(
            RoundedBox(
                label="seat rail",
                placement=Placement(origin_mm=(x - 110.0, y + side * 158.0, 40.0)),
                half_mm=(285.0, 12.0, 14.0),
                radius_mm=4.0,
            )
        )
    return tuple(shapes)


def _back_part(label: str, back: Placement, at: Sequence[float], half_mm: Triple) -> RoundedBox:
    """A box that leans with the backrest: at and half sizes are rearward, across and up the backrest."""
    x, y, z = back.to_car([at])[0]
    return RoundedBox(
        label=label,
        placement=Placement(origin_mm=(float(x), float(y), float(z)), axes=back.axes),
        half_mm=half_mm,
        radius_mm=28.0,
    )


def _handbrake(sizes: CarSizes) -> tuple[Shape, ...]:
    """The handbrake, down: bracket, lever, grip and button."""
    pivot, button = sizes.handbrake_pivot_mm, sizes.handbrake_button_mm
    button_radius = 7.0

    def along(part: float) -> Triple:
        x, y, z = (start + part * (end - start) for start, end in zip(pivot, button, strict=True))
        return (x, y, z)

    tip = 1.0 - button_radius / sizes.handbrake_length_mm
    return (
        RoundedBox(
            label="handbrake",
            placement=turned((pivot[0] + 4.0, pivot[1], pivot[2] - 18.0), about_y_deg=sizes.tunnel_rise_deg),
            half_mm=(52.0, 16.0, 30.0),
            radius_mm=6.0,
        ),
        Capsule(label="handbrake", start_mm=pivot, end_mm=along(0.6), radius_mm=9.0),
        Capsule(label="handbrake", start_mm=along(0.48), end_mm=along(0.93), radius_mm=15.0),
        Capsule(label="handbrake", start_mm=along(0.9), end_mm=along(tip), radius_mm=button_radius),
    )
