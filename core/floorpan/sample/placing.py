"""What stands in the invented car, arranged so that every kind of verdict shows at least once.

The bottle is met by the hand in reverse and in no other gear; fourth is short of it and second is not; fifth is at
the end of the reach with the belts tight; the console is close to the passenger's seat; the tunnel's flank beside
the cup was never scanned.
"""

from collections.abc import Mapping

from floorpan import edits
from floorpan.console import Envelope, Station
from floorpan.driver import Person
from floorpan.frames import Pose
from floorpan.items import CupHolder, Place, Seat, Shifter, vessel_of
from floorpan.layout import Box, Layout, ScanRef
from floorpan.sample.plan import CarSizes
from floorpan.sample.shapes import Triple
from floorpan.scan.axes import AxisPick, fit_axes

TITLE = "Sample car"

_BOLTS = (
    ("driver seat bolt, front", "A"),
    ("passenger seat bolt, front", "B"),
    ("driver seat bolt, rear", "C"),
    ("passenger seat bolt, rear", "D"),
)


def axis_picks(picked: Mapping[str, Triple], sizes: CarSizes) -> tuple[AxisPick, ...]:
    """The points a builder picks: four level seat bolts, again as two pairs, two tunnel holes, the floor plug."""
    driver, other = ("left", "right") if sizes.driver_side == "left" else ("right", "left")
    picks = [AxisPick(id=letter, at_mm=picked[name], role="level", name=name) for name, letter in _BOLTS]
    for (first, one), (second, two) in (
        (("driver seat bolt, front", "E"), ("passenger seat bolt, front", "F")),
        (("driver seat bolt, rear", "G"), ("passenger seat bolt, rear", "H")),
    ):
        picks.append(AxisPick(id=one, at_mm=picked[first], role="pair", side=driver, partner=two, name=first))
        picks.append(
            AxisPick(id=two, at_mm=picked[second], role="pair", side=other, partner=one, name=second)
        )
    front, rear = picked["tunnel hole, front"], picked["tunnel hole, rear"]
    picks.append(AxisPick(id="I", at_mm=front, role="centre", name="tunnel hole, front"))
    picks.append(AxisPick(id="J", at_mm=rear, role="centre", name="tunnel hole, rear"))
    picks.append(AxisPick(id="K", at_mm=picked["floor plug"], role="origin", name="floor plug"))
    picks.append(AxisPick(id="L", at_mm=front, role="front", name="tunnel hole, front"))
    return tuple(picks)


def sample_layout(sizes: CarSizes, scan: ScanRef, picked: Mapping[str, Triple]) -> Layout:
    """The layout of the sample project on a scan of it."""
    layout = Layout(title=TITLE, driver_side=sizes.driver_side, carpet_mm=12.0)
    layout = edits.add_scan(layout, scan)
    picks = axis_picks(picked, sizes)
    layout = edits.set_picks(layout, "scan-1", picks)
    pose = fit_axes(picks).pose
    layout = edits.set_axes(layout, "scan-1", pose)
    to_scan = pose.inverse()
    layout = edits.crop(
        layout,
        "scan-1",
        Box(frame=to_scan, least_mm=(-420.0, -640.0, -60.0), greatest_mm=(960.0, 640.0, 800.0)),
    )
    layout = _people(layout, sizes)
    layout = _controls(layout, sizes)
    return _areas(layout, sizes, to_scan)


def _people(layout: Layout, sizes: CarSizes) -> Layout:
    shape = {
        "cushion_width_mm": 480.0,
        "cushion_drop_mm": 45.0,
        "cushion_thick_mm": 20.0,
        "stand_mm": sizes.seat_h_z_mm,
        "back_deg": sizes.backrest_deg,
        "stands_on": "none",
        "locked": True,
    }
    driver_at, passenger_at = sizes.driver_h_point_mm, sizes.passenger_h_point_mm
    layout, seat = edits.add(
        layout,
        Seat(id="new", name="Driver's seat", place=_place(driver_at), **shape),  # type: ignore[arg-type]
    )
    layout, _ = edits.add(
        layout,
        Seat(id="new", name="Passenger's seat", place=_place(passenger_at), for_whom="passenger", **shape),  # type: ignore[arg-type]
    )
    layout, _ = edits.add_person(
        layout,
        Person(
            id="new",
            seat_id=seat,
            notches_used=(5, 6, 7),
            shoulder_to_grip_mm=598.0,
            upper_arm_mm=306.0,
            shoulder_mm=490.0,
            shoulder_out_mm=195.0,
        ),
    )
    return layout


def _controls(layout: Layout, sizes: CarSizes) -> Layout:
    """Shifter over the lever hole, bottle behind it on the side of reverse, console between the seats."""
    x, y, _ = sizes.lever_hole_mm
    # The pattern does not mirror: reverse lies to the car's right on either side of drive, and so does the cup.
    layout, _ = edits.add(
        layout,
        Shifter(
            id="new",
            place=Place(x_mm=x + 5.0, y_mm=y, z_mm=sizes.tunnel_top_z(x - 65.0)),
            lever_mm=240.0,
            ring_lift_mm=18.0,
            opening_mm=110.0,
            opening_length_mm=160.0,
            opening_width_mm=130.0,
        ),
    )
    layout, holder = edits.add(
        layout,
        CupHolder(
            id="new",
            place=Place(x_mm=x + 140.0, y_mm=y + 56.6, z_mm=224.0),
            depth_mm=75.0,
            mouth_mm=69.2,
            base_mm=69.2,
        ),
    )
    layout, _ = edits.add(layout, vessel_of("bottle-500", "new", stands_in=holder))
    front = x - 135.0
    layout, _ = edits.add(
        layout,
        Envelope(
            id="new",
            place=Place(x_mm=front, y_mm=y + 7.6, z_mm=sizes.tunnel_top_z(front)),
            stations=(
                Station(x_mm=0.0, width_mm=150.0, height_mm=95.0, side_lean_deg=4.0),
                Station(x_mm=90.0, width_mm=172.0, height_mm=122.0, side_lean_deg=3.0),
                Station(x_mm=300.0, width_mm=172.0, height_mm=132.0, side_lean_deg=3.0),
            ),
        ),
    )
    return layout


def _areas(layout: Layout, sizes: CarSizes, to_scan: Pose) -> Layout:
    """Names for what is not floor: by boxes in car axes, kept in the scan's own."""
    side = sizes.passenger_sign

    def across(inner: float, outer: float, sign: float) -> tuple[float, float]:
        return (min(sign * inner, sign * outer), max(sign * inner, sign * outer))

    def add(layout: Layout, kind: str, x: tuple[float, float], y: tuple[float, float], z: tuple[float, float],
            stands_for: str = "") -> Layout:  # fmt: skip
        box = Box(frame=to_scan, least_mm=(x[0], y[0], z[0]), greatest_mm=(x[1], y[1], z[1]))
        return edits.add_area(layout, "scan-1", kind, box, stands_for)

    layout = add(layout, "dash", (-700.0, 90.0), (-700.0, 700.0), (315.0, 900.0))
    layout = add(layout, "wheel rim", (90.0, 320.0), across(150.0, 600.0, -side), (380.0, 780.0))
    for thing, sign in (("seat-1", -side), ("seat-2", side)):
        layout = add(layout, "seat", (150.0, 1060.0), across(112.0, 625.0, sign), (35.5, 820.0), thing)
    x, y, z = sizes.handbrake_pivot_mm
    return add(layout, "handbrake", (x - 300.0, x + 65.0), (y - 30.0, y + 30.0), (z - 38.0, z + 80.0))


def _place(at: Triple) -> Place:
    return Place(x_mm=at[0], y_mm=at[1], z_mm=at[2])
