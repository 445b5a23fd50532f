"""An invented little car with findings written by hand, for the papers to tell about."""

import struct
import zlib
from functools import partial
from typing import Any, cast

import numpy as np

from floorpan.checks.finding import Cure, Doubt, Finding, Point, Verdict, combined, verdict_of
from floorpan.console import Envelope
from floorpan.driver import Person
from floorpan.frames import Pose
from floorpan.geometry.mesh import Mesh
from floorpan.geometry.solids import Body, Solid, ball
from floorpan.items import CupHolder, Place, Seat, Shifter, Vessel
from floorpan.items.states import State, state_of
from floorpan.layout import Acceptance, Layout, ScanRef, record_of
from floorpan.limits import COMMON, DEFAULT, Limit
from floorpan.report.facts import AxesFacts, ReportFacts, ScanFacts, gather

WANTED = {
    held.id: held
    for held in (
        Limit(id="hand-scan", value=15.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="hand-vessel", value=30.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="lever-scan", value=8.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="lever-seat", value=10.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="lever-opening", value=8.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="seat-scan", value=10.0, sense="at_least", unit="mm", source=DEFAULT),
        Limit(id="seat-console", value=20.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="vessel-scan", value=10.0, sense="at_least", unit="mm", source=DEFAULT),
        Limit(id="console-scan", value=0.5, sense="at_least", unit="mm", source=DEFAULT),
        Limit(id="reach", value=0.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="elbow", value=75.0, upper=160.0, sense="between", unit="deg", source=COMMON),
        Limit(id="well-side", value=2.0, upper=4.0, sense="between", unit="mm", source=COMMON),
        Limit(id="well-depth", value=70.0, sense="at_least", unit="mm", source=COMMON),
        Limit(id="console-seen", value=98.0, sense="at_least", unit="percent", source=DEFAULT),
        Limit(id="stands", value=3.0, sense="at_most", unit="mm", source=DEFAULT),
    )
}
"""Limits of the tests' own, so that no edit of the shipped ones changes what is read here."""

GEARS = ("N", "1", "2", "3", "4", "5", "R")


def layout(**changes: Any) -> Layout:
    """One of everything, placed about where it would be."""
    held: dict[str, Any] = {
        "title": "Tin coupe",
        "scans": (
            ScanRef(
                id="scan-1",
                name="Floor, bare",
                sha256="0" * 64,
                suffix=".stl",
                original_name="floor.stl",
                unit="mm",
                pose=Pose(),
                good_to_mm=1.5,
            ),
        ),
        "people": (Person(id="driver-1", name="Driver", seat_id="seat-1", notches_used=(1, 6)),),
        "seats": (Seat(id="seat-1", name="Driver seat", place=Place(x_mm=1400.0, y_mm=-370.0, z_mm=260.0)),),
        "items": (
            Shifter(id="shifter-1", name="Shifter", place=Place(x_mm=640.0, y_mm=0.0, z_mm=220.0)),
            CupHolder(id="cup_holder-1", name="Cup holder", place=Place(x_mm=820.0, y_mm=40.0, z_mm=250.0)),
            Vessel(
                id="vessel-1",
                name="Bottle",
                place=Place(x_mm=820.0, y_mm=40.0, z_mm=253.0),
                stands_in="cup_holder-1",
                profile=((0.0, 33.0), (150.0, 33.0), (180.0, 14.0), (215.0, 14.0)),
            ),
        ),
        "consoles": (
            Envelope(id="console-1", name="Console", place=Place(x_mm=420.0, y_mm=0.0, z_mm=180.0)),
        ),
        "accepted": (
            Acceptance(step="scan", date="2026-11-20", key="a"),
            Acceptance(step="axes", date="2026-11-21", reason="Point C is behind trim.", key="b"),
        ),
    }
    held |= changes
    return Layout(**held)


def finding(
    check: str,
    subjects: tuple[str, ...],
    value: float | None,
    u: float = 2.0,
    *,
    state: State = (),
    limit: Limit | None = None,
    is_gap: bool | None = None,
    verdict: str = "",
    **more: Any,
) -> Finding:
    """A finding judged by the real rule, unless a verdict is given."""
    wanted = limit or WANTED[check]
    gap = (
        check not in ("reach", "elbow", "well-depth", "console-seen", "stands") if is_gap is None else is_gap
    )
    doubts = (Doubt("scan", standard=u / 2),)
    judged = verdict or (
        "unseen" if value is None else verdict_of(value, combined(doubts), wanted, is_gap=gap)
    )
    return Finding(
        check=check,
        subjects=subjects,
        state=state,
        verdict=cast(Verdict, judged),
        value=value,
        uncertainty=combined(doubts),
        doubts=doubts,
        limit=wanted,
        is_gap=gap,
        **more,
    )


def ends(x: float, y: float, z: float, gap: float) -> tuple[Point, Point]:
    """Two points, gap apart along X."""
    return (x, y, z), (x + gap, y, z)


def findings() -> tuple[Finding, ...]:
    """About forty findings with every verdict and every kind of quantity among them."""
    held: list[Finding] = []
    bottle = {"N": 42.0, "1": 71.0, "2": 9.0, "3": 66.0, "4": -2.3, "5": 64.0, "R": -5.6}
    spare = {"N": 160.0, "1": 40.2, "2": 170.0, "3": 4.0, "4": 182.0, "5": -31.0, "R": 150.0}
    for gear in GEARS:
        at = {"shifter-1.gear": gear}
        cure = Cure(subject="cup_holder-1", move_mm=(38.0, 0.0, 0.0))
        held.append(
            finding(
                "hand-vessel",
                ("driver-1.hand", "vessel-1"),
                bottle[gear],
                state=state_of(at | {"vessel-1.place": "in"}),
                at_mm=ends(790.0, 20.0, 420.0, bottle[gear]),
                met="Bottle",
                cure=cure if bottle[gear] < 0 else None,
            )
        )
        held.append(
            finding(
                "hand-scan",
                ("driver-1.hand", "scan-1.dash"),
                21.4 if gear == "3" else 90.0,
                3.0,
                state=state_of(at),
                at_mm=ends(560.0, 10.0, 520.0, 21.4),
                met="dash",
            )
        )
        for notch in ("1", "6"):
            for belts in ("tight", "loose"):
                state = state_of(at | {"driver-1.belts": belts, "seat-1.notch": notch})
                value = spare[gear] - (90.0 if notch == "1" else 0.0) + (60.0 if belts == "loose" else 0.0)
                held.append(
                    finding(
                        "reach",
                        ("driver-1.hand", "shifter-1.knob"),
                        value,
                        14.0,
                        state=state,
                        met="knob",
                        at_mm=ends(1200.0, -250.0, 700.0, value),
                    )
                )
        held.append(
            finding(
                "elbow",
                ("driver-1.hand", "shifter-1.knob"),
                141.0 if gear == "1" else 96.0 if gear != "5" else 171.0,
                4.0,
                state=state_of(at | {"driver-1.belts": "tight", "seat-1.notch": "6"}),
                met="knob",
            )
        )
    held += singles()
    return tuple(held)


def cup() -> tuple[Finding, ...]:
    """The bottle in its well."""
    pair, state = ("vessel-1", "cup_holder-1"), state_of({"vessel-1.place": "in"})
    return (
        finding("well-side", pair, 3.1, 0.3, state=state, met="well", note="Leans up to 2.1 deg in it."),
        finding("well-depth", pair, 61.5, 0.3, state=state, met="well"),
    )


def singles() -> tuple[Finding, ...]:
    """One finding of each further kind."""
    at = state_of({"shifter-1.gear": "N-R"})
    return (
        finding(
            "lever-scan",
            ("shifter-1.lever", "scan-1"),
            8.9,
            1.6,
            state=at,
            met="tunnel top",
            at_mm=ends(660.0, 0.0, 300.0, 8.9),
            note="Over 12 mm of carpet.",
        ),
        finding(
            "seat-console",
            ("seat-1", "console-1"),
            14.0,
            2.2,
            state=state_of({"seat-1.notch": "1-12"}),
            met="Console",
            at_mm=ends(1150.0, -120.0, 330.0, 14.0),
        ),
        finding(
            "vessel-scan",
            ("vessel-1", "scan-1"),
            None,
            1.8,
            state=state_of({"vessel-1.place": "in"}),
            met="tunnel flank",
            note="The nearest place was not scanned.",
            at_mm=ends(860.0, 70.0, 260.0, 20.0),
        ),
        *cup(),
        finding("console-seen", ("console-1", "scan-1"), 99.2, 0.1, met="floor under the console"),
        finding("stands", ("shifter-1",), 4.2, 1.0),
        finding(
            "lever-opening",
            ("shifter-1.lever", "opening"),
            9.7,
            1.4,
            state=state_of({"shifter-1.gear": "2"}),
            met="opening",
        ),
        finding("seat-scan", ("seat-1", "scan-1"), None, 0.0, verdict="pending", met="scan"),
    )


def many(count: int) -> tuple[Finding, ...]:
    """A great many findings over many pairs and states."""
    held = []
    for index in range(count):
        gear = GEARS[index % len(GEARS)]
        pair = index // len(GEARS)
        held.append(
            finding(
                "hand-scan",
                ("driver-1.hand", f"scan-1.area-with-a-name-{pair}"),
                -8.0 + (index * 37 % 90),
                2.0,
                state=state_of({"shifter-1.gear": gear}),
                met=f"ledge {pair}",
                at_mm=ends(400.0 + 5 * pair, -200.0 + 7 * pair, 300.0 + index % 50, 12.0),
            )
        )
    return tuple(held)


def floor() -> Mesh:
    """A flat floor with a tunnel of straight flanks, and a hole in one of them."""
    x = np.linspace(200.0, 1500.0, 40)
    y = np.array([-450.0, -300.0, -120.0, -90.0, 0.0, 90.0, 120.0, 300.0, 450.0])
    z = np.array([60.0, 50.0, 60.0, 170.0, 180.0, 170.0, 60.0, 50.0, 60.0])
    points = np.array([[a, b, c] for a in x for b, c in zip(y, z, strict=True)])
    across = len(y)
    faces = []
    for i in range(len(x) - 1):
        for j in range(across - 1):
            if j == 5 and 20 <= i < 26:
                continue
            a, b = i * across + j, i * across + j + 1
            faces += [[a, a + across, b], [b, a + across, b + across]]
    return Mesh(points, np.array(faces))


def body(held: Layout, id: str) -> Body:
    """A part's stuff, everything at rest; a ball for the hand."""
    owner, _, part = id.partition(".")
    if part == "hand":
        return (Solid(ball(np.array([700.0, 0.0, 510.0]), 55.0)),)
    thing = held.thing(owner)
    record = record_of(thing)
    names = [one.name for one in record.parts(thing) if part in ("", one.name)]
    return tuple(solid for name in names for solid in record.envelope(thing, name, {}))


def facts(held: Layout, **changes: Any) -> ReportFacts:
    """Facts for the layout, with the bodies of what stands in it."""
    told: dict[str, Any] = {
        "date": "2026-11-25",
        "version": "0.1.0",
        "layout_version": "B",
        "scans": (
            ScanFacts(
                id="scan-1",
                name="Floor, bare",
                file="floor.stl",
                unit="mm",
                triangles=412_300,
                points=206_412,
                size_mm=(1300.0, 900.0, 130.0),
                islands=1,
                holes=1,
                noise_mm=0.21,
                good_to_mm=1.5,
                good_to_note="two known lengths agree",
                cleaned=("12 triangles without area dropped",),
            ),
        ),
        "axes": (
            AxesFacts(
                scan_id="scan-1",
                residuals_mm=(("A", 0.3), ("B", 0.42), ("C", 1.1)),
                tilt_mm_over_900=0.8,
                mirror_can_be_told=True,
            ),
        ),
        "keys": {"scan": "changed"},
        "floor": floor(),
        "body": partial(body, held),
    }
    return gather(held, **(told | changes))


def png(width: int = 8, height: int = 6) -> bytes:
    """A small grey PNG after ISO/IEC 15948, made without a library."""
    rows = b"".join(b"\x00" + bytes([90, 120, 150]) * width for _ in range(height))

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )
