"""The palette table read back and measured: contrast, colour difference, colour maps."""

from itertools import combinations

import numpy as np
import pytest

from floorpan_app.theme.record import THEME_NAMES, VERDICTS, Theme, ThemeName, load_maps, load_theme
from look.colour_difference import VISIONS, ciede2000, contrast, lab, least_difference

# G. Sharma, W. Wu, E. N. Dalal, Color Research and Application 30 (2005), table 1: two CIELAB colours and the
# difference printed for them.
SHARMA = """
50 2.6772 -79.7751 50 0 -82.7485 2.0425
50 3.1571 -77.2803 50 0 -82.7485 2.8615
50 2.8361 -74.0200 50 0 -82.7485 3.4412
50 -1.3802 -84.2814 50 0 -82.7485 1.0000
50 -1.1848 -84.8006 50 0 -82.7485 1.0000
50 -0.9009 -85.5211 50 0 -82.7485 1.0000
50 0 0 50 -1 2 2.3669
50 -1 2 50 0 0 2.3669
50 2.4900 -0.0010 50 -2.4900 0.0009 7.1792
50 2.4900 -0.0010 50 -2.4900 0.0010 7.1792
50 2.4900 -0.0010 50 -2.4900 0.0011 7.2195
50 2.4900 -0.0010 50 -2.4900 0.0012 7.2195
50 -0.0010 2.4900 50 0.0009 -2.4900 4.8045
50 -0.0010 2.4900 50 0.0010 -2.4900 4.8045
50 -0.0010 2.4900 50 0.0011 -2.4900 4.7461
50 2.5 0 50 0 -2.5 4.3065
50 2.5 0 73 25 -18 27.1492
50 2.5 0 61 -5 29 22.8977
50 2.5 0 56 -27 -3 31.9030
50 2.5 0 58 24 15 19.4535
50 2.5 0 50 3.1736 0.5854 1.0000
50 2.5 0 50 3.2972 0 1.0000
50 2.5 0 50 1.8634 0.5757 1.0000
50 2.5 0 50 3.2592 0.3350 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.2480 -4.9620 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.6940 23.0331 14.9730 -42.5619 2.0373
36.4612 47.8580 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.4410 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.1350 0.9033 -0.0636 -0.5514 0.9082
"""

TELLING = ("clear", "close", "hits", "unseen", "pending", "accent")
TEXT = (*TELLING, "ink", "ink2")


def grounds(theme: Theme) -> tuple[str, ...]:
    return (theme.paper, theme.bench, theme.raised, theme.wash)


@pytest.mark.parametrize("row", SHARMA.strip().splitlines())
def test_the_colour_difference_agrees_with_the_published_pairs(row: str) -> None:
    *labs, published = (float(word) for word in row.split())
    assert ciede2000(np.array(labs[:3]), np.array(labs[3:])) == pytest.approx(published, abs=1e-4)


def test_white_on_black_has_the_contrast_wcag_states() -> None:
    # WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1.
    assert contrast("#FFFFFF", "#000000") == pytest.approx(21.0)
    assert contrast("#FFFFFF", "#FFFFFF") == pytest.approx(1.0)


@pytest.mark.parametrize("name", THEME_NAMES)
@pytest.mark.parametrize("role", TEXT)
def test_text_reads_on_every_ground(name: ThemeName, role: str) -> None:
    # WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text.
    theme = load_theme(name)
    assert min(contrast(getattr(theme, role), ground) for ground in grounds(theme)) >= 4.5


@pytest.mark.parametrize("name", THEME_NAMES)
def test_borders_and_things_switched_off_stand_out(name: ThemeName) -> None:
    # WCAG 2.2, success criterion 1.4.11: 3 to 1 for parts of controls.
    theme = load_theme(name)
    for colour in (theme.edge, theme.off):
        assert min(contrast(colour, ground) for ground in grounds(theme)) >= 3.0
    assert contrast(theme.on_accent, theme.accent) >= 4.5


@pytest.mark.parametrize("name", THEME_NAMES)
@pytest.mark.parametrize(("one", "two"), list(combinations(TELLING, 2)))
def test_no_two_telling_colours_come_near_in_any_vision(name: ThemeName, one: str, two: str) -> None:
    theme = load_theme(name)
    assert round(least_difference(getattr(theme, one), getattr(theme, two)), 1) >= 10.9


@pytest.mark.parametrize("name", THEME_NAMES)
def test_every_verdict_has_a_colour_and_short_shares_that_of_hits(name: ThemeName) -> None:
    theme = load_theme(name)
    colours = {verdict: theme.verdict(verdict) for verdict in VERDICTS}
    assert colours["short"] == colours["hits"]
    assert len(set(colours.values())) == len(VERDICTS) - 1


@pytest.mark.parametrize("vision", VISIONS)
def test_the_maps_of_gap_and_noise_run_one_way_in_lightness(vision: str) -> None:
    maps = load_maps()
    gap = [lab(stop, vision)[0] for stop in maps.gap]
    noise = [lab(stop, vision)[0] for stop in maps.noise]
    assert gap == sorted(gap)
    assert noise == sorted(noise, reverse=True)


def test_the_two_arms_of_the_deviation_map_mirror_each_other_in_lightness() -> None:
    stops = [lab(stop)[0] for stop in load_maps().deviation]
    middle = len(stops) // 2
    for step in range(1, middle + 1):
        assert abs(stops[middle - step] - stops[middle + step]) <= 2.0


@pytest.mark.parametrize("vision", VISIONS)
def test_shy_and_proud_are_told_apart_outside_the_middle_quarter(vision: str) -> None:
    stops = load_maps().deviation
    middle = len(stops) // 2
    for step in range(2, middle + 1):
        shy, proud = stops[middle - step], stops[middle + step]
        assert ciede2000(lab(shy, vision), lab(proud, vision)) >= 26.0


@pytest.mark.parametrize(("name", "least"), [("light", 10.0), ("dark", 9.3)])
def test_things_that_meet_in_the_car_are_told_apart(name: ThemeName, least: float) -> None:
    things = load_theme(name).things
    meeting = [
        ("scan", "seat"), ("scan", "steel"), ("scan", "console"), ("scan", "carpet"), ("console", "steel"),
        ("console", "vessel"), ("console", "knob"), ("driver", "knob"), ("driver", "vessel"), ("well", "vessel"),
        ("console", "well"), ("console", "carpet"),
    ]  # fmt: skip
    for one, two in meeting:
        measured = least_difference(getattr(things, one), getattr(things, two))
        assert round(measured, 1) >= least, (one, two, measured)
