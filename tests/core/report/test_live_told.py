"""Ways give way to their ends while something is dragged."""

from dataclasses import replace

from floorpan.checks import Finding
from floorpan.limits import Limit
from floorpan.report.live_told import freshest


def finding(gear: str, belts: str = "tight", *, stale: bool = False, check: str = "hand-vessel") -> Finding:
    return Finding(
        check=check,
        subjects=("driver-1.hand", "vessel-1"),
        state=(("driver-1.belts", belts), ("shifter-1.gear", gear)),
        verdict="close",
        value=10.0,
        uncertainty=1.0,
        doubts=(),
        limit=Limit(id="hand-vessel", value=10.0, unit="mm", sense="at_least", source="default, edit me"),
        stale=stale,
    )


def test_a_stale_way_goes_once_an_end_of_it_was_judged_anew() -> None:
    way, other = finding("N-R", stale=True), finding("N-1", stale=True)
    assert freshest((way, finding("R"), other)) == (finding("R"), other)
    assert freshest((way, finding("N"), other)) == (finding("N"),)


def test_what_nobody_judged_anew_stays() -> None:
    """Another pair, another state of another axis, a stale end: none of them says anything of the way."""
    way = finding("N-R", stale=True)
    for beside in (finding("R", stale=True), finding("R", "loose"), finding("R", check="forearm-vessel")):
        assert freshest((way, beside)) == (way, beside)


def test_what_is_judged_anew_stays_and_nothing_changes_place() -> None:
    found = (finding("N-R"), finding("R", stale=True), finding("4"), finding("N-4"))
    assert freshest(found) == found
    assert freshest(replace(one, stale=True) for one in found) == tuple(
        replace(one, stale=True) for one in found
    )
