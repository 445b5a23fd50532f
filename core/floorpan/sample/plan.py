"""Every dimension of the invented car, and what follows from them.

Car axes: X rearward from a hole drilled in the tunnel ahead of the lever, Y to the right from the car's centre
plane, Z up from the floor of the footwells. Typical sizes: common practice, no source.
"""

import math
from dataclasses import dataclass
from typing import Literal

from floorpan.sample.shapes import Triple


@dataclass(frozen=True, slots=True, kw_only=True)
class CarSizes:
    """The invented car in mm and degrees. Right-hand drive is the mirror image of left-hand drive."""

    driver_side: Literal["left", "right"] = "left"

    front_x_mm: float = -600.0
    rear_x_mm: float = 1060.0
    half_width_mm: float = 650.0
    roof_line_z_mm: float = 830.0
    edge_radius_mm: float = 6.0

    tunnel_top_width_mm: float = 150.0
    tunnel_height_mm: float = 200.0
    tunnel_rise_deg: float = 4.0
    tunnel_flank_deg: float = 70.0
    tunnel_offset_mm: float = 12.0
    tunnel_yaw_deg: float = 0.3
    tunnel_edge_radius_mm: float = 8.0

    lever_hole_x_mm: float = 265.0
    lever_hole_length_mm: float = 130.0
    lever_hole_width_mm: float = 90.0
    lever_hole_depth_mm: float = 70.0

    lip_height_mm: float = 6.0
    lip_width_mm: float = 18.0
    swage_height_mm: float = 8.0
    swage_width_mm: float = 46.0
    swage_y_mm: tuple[float, float] = (285.0, 465.0)
    stud_radius_mm: float = 4.0
    stud_height_mm: float = 22.0
    tunnel_stud_x_mm: tuple[float, float] = (185.0, 345.0)
    tunnel_stud_apart_mm: float = 120.0

    front_member_x_mm: float = 205.0
    rear_member_x_mm: float = 700.0
    member_width_mm: float = 60.0
    member_height_mm: float = 34.0
    sill_y_mm: float = 600.0
    sill_height_mm: float = 120.0

    dash_rear_x_mm: float = 50.0
    dash_lower_x_mm: float = 25.0
    dash_lower_z_mm: float = 350.0
    dash_top_z_mm: float = 560.0
    dash_half_width_mm: float = 640.0

    seat_h_x_mm: float = 580.0
    seat_h_y_mm: float = 366.0
    seat_h_z_mm: float = 170.0
    backrest_deg: float = 24.0
    cushion_gap_mm: float = 252.0
    seat_bolt_y_mm: tuple[float, float] = (168.0, 564.0)
    seat_bolt_head_mm: float = 10.0

    handbrake_pivot_x_mm: float = 735.0
    handbrake_offset_mm: float = 34.0
    handbrake_pivot_up_mm: float = 40.0
    handbrake_length_mm: float = 280.0
    handbrake_down_deg: float = 4.0

    wheel_x_mm: float = 190.0
    wheel_z_mm: float = 565.0
    wheel_diameter_mm: float = 360.0
    wheel_tilt_deg: float = 25.0
    wheel_tube_radius_mm: float = 14.0

    @property
    def passenger_sign(self) -> float:
        """The sign of Y on the passenger side."""
        return 1.0 if self.driver_side == "left" else -1.0

    @property
    def driver_h_point_mm(self) -> Triple:
        """The hip point of the driver's seat at its reference notch."""
        return (self.seat_h_x_mm, -self.passenger_sign * self.seat_h_y_mm, self.seat_h_z_mm)

    @property
    def passenger_h_point_mm(self) -> Triple:
        """The hip point of the passenger's seat at its reference notch."""
        return (self.seat_h_x_mm, self.passenger_sign * self.seat_h_y_mm, self.seat_h_z_mm)

    @property
    def wheel_centre_mm(self) -> Triple:
        """The middle of the steering wheel rim."""
        return (self.wheel_x_mm, -self.passenger_sign * self.seat_h_y_mm, self.wheel_z_mm)

    @property
    def lever_hole_mm(self) -> Triple:
        """The middle of the lever hole, on the tunnel's top."""
        return self.on_tunnel(self.lever_hole_x_mm)

    @property
    def handbrake_pivot_mm(self) -> Triple:
        """Where the handbrake turns, over the tunnel on the driver's side of its centre line."""
        x, y, z = self.on_tunnel(self.handbrake_pivot_x_mm)
        return (x, y - self.passenger_sign * self.handbrake_offset_mm, z + self.handbrake_pivot_up_mm)

    @property
    def handbrake_button_mm(self) -> Triple:
        """The free end of the handbrake, down."""
        x, y, z = self.handbrake_pivot_mm
        angle = math.radians(self.handbrake_down_deg)
        return (
            x - self.handbrake_length_mm * math.cos(angle),
            y,
            z + self.handbrake_length_mm * math.sin(angle),
        )

    @property
    def dash_lower_edge_mm(self) -> Triple:
        """The lower rear edge of the dash, on the car's centre plane, before its edge is rounded."""
        return (self.dash_lower_x_mm, 0.0, self.dash_lower_z_mm)

    def tunnel_centre_y(self, x_mm: float) -> float:
        """Y of the tunnel's centre line at a station."""
        yaw = math.tan(math.radians(self.tunnel_yaw_deg))
        return self.passenger_sign * (self.tunnel_offset_mm + x_mm * yaw)

    def tunnel_top_z(self, x_mm: float, y_mm: float | None = None) -> float:
        """Z of the plane of the tunnel's top at a station, on its centre line or at a given Y."""
        yaw = math.radians(self.tunnel_yaw_deg)
        aside = 0.0 if y_mm is None else self.passenger_sign * y_mm - self.tunnel_offset_mm
        along = x_mm / math.cos(yaw) if y_mm is None else x_mm * math.cos(yaw) + aside * math.sin(yaw)
        return self.tunnel_height_mm - along * math.tan(math.radians(self.tunnel_rise_deg))

    def on_tunnel(self, x_mm: float) -> Triple:
        """The point of the tunnel's top on its centre line at a station."""
        return (x_mm, self.tunnel_centre_y(x_mm), self.tunnel_top_z(x_mm))

    def tunnel_half_width(self, x_mm: float, z_mm: float) -> float:
        """Half the width of the tunnel at a station and a height below its top, measured across the car.

        The flanks stand at their angle in the section square to the tunnel, which leans by its rise. The yaw
        makes the two sides differ from this by less than 0.05 mm.
        """
        down = (self.tunnel_top_z(x_mm) - z_mm) * math.cos(math.radians(self.tunnel_rise_deg))
        half = self.tunnel_top_width_mm / 2.0 + down / math.tan(math.radians(self.tunnel_flank_deg))
        return half / math.cos(math.radians(self.tunnel_yaw_deg))
