"""Which cautions a layout calls for, and how every report opens."""

import dataclasses

import pytest

from core.report.made_up import findings, layout
from floorpan.items import Shifter
from floorpan.layout import Layout
from floorpan.report.caution_words import CAUTIONS
from floorpan.report.cautions import cautions, first_line, scan_doubt_mm


def keys(held: Layout) -> set[str]:
    return {caution.key for caution in cautions(held)}


def test_the_first_line_says_what_it_is_how_good_and_what_it_is_not() -> None:
    told = first_line(layout())
    for part in (
        "Geometry check only",
        "1.5 mm",
        "measurements the user entered",
        "in the car before cutting",
    ):
        assert part in told
    for part in ("strength", "crash", "fire", "approval"):
        assert part in told
    assert "1\u204416 in" in first_line(layout(), "in")


def test_without_a_scan_the_first_line_claims_no_uncertainty() -> None:
    assert "without a scan" in first_line(Layout())
    assert scan_doubt_mm(Layout()) is None


def test_the_worst_scan_in_use_counts() -> None:
    scan = layout().scans[0]
    second = dataclasses.replace(scan, id="scan-2", good_to_mm=4.0)
    spare = dataclasses.replace(scan, id="scan-3", good_to_mm=9.0, pose=None)
    assert scan_doubt_mm(layout(scans=(scan, second, spare))) == 4.0


@pytest.mark.parametrize(
    ("changes", "there", "not_there"),
    [
        (
            {},
            {"restraints", "airbags", "drilling", "gears", "pedals", "loads", "crash", "fire", "drinks"},
            {"rock"},
        ),
        (
            {"items": (), "consoles": (), "seats": (), "people": ()},
            {"restraints", "approval", "record"},
            {"gears", "fire"},
        ),
        ({"consoles": ()}, {"gears", "drinks"}, {"fire", "handbrake"}),
        ({"absent": ("handbrake",)}, {"fire"}, {"handbrake"}),
        ({"items": (Shifter(id="shifter-1", family="gearbox"),)}, {"rock", "gears"}, {"drinks"}),
        ({"items": (Shifter(id="shifter-1", family="gearbox", rock_mm=6.0),)}, {"gears"}, {"rock"}),
    ],
)
def test_cautions_follow_what_is_placed(
    changes: dict[str, object], there: set[str], not_there: set[str]
) -> None:
    told = keys(layout(**changes))
    assert there <= told
    assert not told & not_there


def test_unseen_comes_first() -> None:
    assert cautions(layout(), findings())[0].key == "unknown"


def test_none_claims_more_than_the_trade_and_the_law_do() -> None:
    told = " ".join(text for _, text in CAUTIONS.values())
    assert "certifies nothing" in told
    assert "inspector" in told
    assert "qualified" in told


def test_the_caution_of_vessels_says_what_their_corner_leaves_out() -> None:
    [told] = [one.text for one in cautions(layout()) if one.key == "drinks"]
    assert "not judged" not in told
    assert all(word in told for word in ("corner", "braking", "Friction", "cautious", "sloshes"))
