"""The shipped body figures: computed again from the survey's rows, and against published tables."""

import json
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from floorpan.driver.body_arm import LINKS
from floorpan.driver.body_figures import SEXES, Sex, figures, measures, place_of, source
from floorpan.errors import BadValue

SHIPPED = Path(__file__).resolve().parents[3] / "assets" / "floorpan_assets" / "bodies.json"

# Check values, table 2b: 2012 Anthropometric Survey of U.S. Army Personnel, men and women at 5, 50 and 95 percent.
TABLE = {
    "stature_mm": ((1648, 1755, 1870), (1525, 1626, 1740)),
    "sitting_height_mm": ((860, 918, 977), (803, 857, 912)),
    "eye_height_mm": ((750, 804, 860), (698, 748, 799)),
    "shoulder_height_mm": ((552, 603, 653), (515, 564, 609)),
    "elbow_rest_mm": ((197, 246, 291), (189, 233, 276)),
    "thigh_mm": ((157, 180, 207), (145, 167, 191)),
    "knee_height_mm": ((509, 553, 602), (469, 510, 557)),
    "popliteal_height_mm": ((390, 430, 471), (350, 387, 428)),
    "buttock_to_knee_mm": ((569, 617, 669), (541, 589, 646)),
    "hip_breadth_mm": ((333, 378, 431), (348, 397, 456)),
    "elbows_breadth_mm": ((497, 579, 667), (432, 492, 564)),
    "shoulder_to_elbow_mm": ((334, 363, 394), (307, 334, 363)),
    "elbow_to_fingertip_mm": ((444, 480, 520), (404, 438, 480)),
    "thumb_tip_reach_mm": ((742, 811, 886), (674, 742, 816)),
    "hand_length_mm": ((177, 193, 210), (165, 180, 199)),
    "hand_breadth_mm": ((81, 88, 96), (72, 78, 85)),
    "hand_round_mm": ((195, 212, 230), (173, 187, 202)),
    "foot_length_mm": ((250, 271, 293), (226, 246, 268)),
    "foot_breadth_mm": ((94, 102, 111), (85, 93, 101)),
    "weight_kg": ((64.4, 84.6, 110.7), (51.3, 66.8, 87.1)),
}


def covariance_of(sex: Sex, one: str, other: str) -> float:
    return float(figures(sex).covariance[place_of(one), place_of(other)])


def test_the_figures_are_those_of_the_rows(maker: ModuleType, survey_file: Path) -> None:
    again = json.loads(maker.text_of(maker.bodies(survey_file)))
    shipped = json.loads(SHIPPED.read_text(encoding="utf-8"))
    tables_again, tables = again.pop("figures"), shipped.pop("figures")
    assert again == shipped
    for sex in SEXES:
        assert tables_again[sex]["n"] == tables[sex]["n"] == {"man": 4082, "woman": 1986}[sex]
        for name in set(tables[sex]) - {"n"}:
            # The last digit may differ with the processor.
            np.testing.assert_allclose(tables_again[sex][name], tables[sex][name], rtol=1e-6, atol=2e-6)


def test_no_row_is_shipped() -> None:
    tables = json.loads(SHIPPED.read_text(encoding="utf-8"))["figures"]
    longest = max(len(rows) for held in tables.values() for rows in held.values() if isinstance(rows, list))
    assert longest == len(measures())


@pytest.mark.parametrize("place", [0, 1], ids=SEXES)
def test_percentiles_are_the_published_ones(place: int) -> None:
    held = figures(SEXES[place])
    at = [list(held.percents).index(percent) + 1 for percent in (5.0, 50.0, 95.0)]
    for key, wanted in TABLE.items():
        # The table is rounded: whole mm, tenths of a kilogram.
        found = held.quantiles[place_of(key), at]
        assert found == pytest.approx(wanted[place], abs=0.51 if key.endswith("_mm") else 0.051), key


@pytest.mark.parametrize(
    ("sex", "slope", "start_mm", "r"), [("man", 0.4404, 38.5, 0.69), ("woman", 0.4468, 16.4, 0.67)]
)
def test_thumb_tip_reach_from_height(sex: Sex, slope: float, start_mm: float, r: float) -> None:
    """Check value 2.10: the line through the survey's people, from the shipped covariance alone."""
    held = figures(sex)
    tall, reach = place_of("stature_mm"), place_of("thumb_tip_reach_mm")
    found = covariance_of(sex, "stature_mm", "thumb_tip_reach_mm") / held.covariance[tall, tall]
    assert found == pytest.approx(slope, abs=5e-5)
    assert held.mean[reach] - found * held.mean[tall] == pytest.approx(start_mm, abs=0.06)
    assert found * held.sd[tall] / held.sd[reach] == pytest.approx(r, abs=0.005)
    # Published: within about 32 mm of the line, one standard deviation.
    left = held.covariance[reach, reach] - found**2 * held.covariance[tall, tall]
    assert np.sqrt(left) == pytest.approx(32, abs=0.6)


@pytest.mark.parametrize(("sex", "r"), [("man", -0.07), ("woman", -0.19)])
def test_elbow_rest_says_nothing_of_reach(sex: Sex, r: float) -> None:
    """Check value 2.12: armrest height and reach are separate."""
    held = figures(sex)
    found = covariance_of(sex, "elbow_rest_mm", "thumb_tip_reach_mm")
    found /= held.sd[place_of("elbow_rest_mm")] * held.sd[place_of("thumb_tip_reach_mm")]
    assert found == pytest.approx(r, abs=0.005)


@pytest.mark.parametrize(("sex", "published_mm", "within_mm"), [("man", 665, 5), ("woman", 600, 15)])
def test_the_straight_arm_is_that_of_other_people(sex: Sex, published_mm: float, within_mm: float) -> None:
    """Check value 2.13: British adults, Pheasant, *Bodyspace*, as quoted by others. The elbow counts once."""
    held = figures(sex)
    straight = place_of("shoulder_to_grip_mm")
    assert held.mean[straight] == pytest.approx(published_mm, abs=within_mm)
    links = sum(held.mean[place_of(key)] for key in LINKS)
    assert held.mean[straight] == pytest.approx(links, abs=1e-5)
    # Pheasant's men spread by 32 mm.
    assert held.sd[straight] == pytest.approx(32, abs=2)


def test_every_measure_says_how_it_is_taken() -> None:
    assert len({one.key for one in measures()}) == len({one.label for one in measures()}) == len(measures())
    for one in measures():
        assert one.unit in ("mm", "kg")
        assert one.how.endswith(".")
    assert "NATICK/TR-15/007" in source()


def test_the_figures_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        figures("man").mean[0] = 0.0


def test_an_unknown_sex_or_measure_is_refused() -> None:
    with pytest.raises(BadValue, match="man or woman"):
        figures("child")  # type: ignore[arg-type]
    with pytest.raises(BadValue, match="no measure 'shoe_size'"):
        place_of("shoe_size")
