from core.small_case import level_floor, raw_scan, small_layout
from floorpan import edits
from floorpan.derive import Bench
from floorpan.layout import Layout
from floorpan.progress import Step, finish
from floorpan.report.facts import ReportFacts
from floorpan.report.gathering import gathering, resting
from floorpan.scan import RawScan


def gathered(layout: Layout, *scans: RawScan) -> ReportFacts:
    bench = Bench({scan.sha256: scan for scan in scans})
    return finish(gathering(layout, bench, date="2026-05-04", version="0.1.0"))


def test_what_is_told_of_a_scan_is_what_is_in_it() -> None:
    # 40 by 40 cells of two triangles, 1.4 m square.
    raw = raw_scan(level_floor())
    facts = gathered(small_layout(raw), raw)
    (scan,) = facts.scans
    assert (scan.id, scan.file, scan.unit) == ("scan-1", "floor.ply", "mm")
    assert (scan.triangles, scan.points, scan.size_mm) == (3200, 1681, (1400.0, 1400.0, 0.0))
    assert (scan.islands, scan.holes, scan.good_to_mm) == (1, 0, 2.0)
    assert (facts.date, facts.version, facts.project) == ("2026-05-04", "0.1.0", "Small")


def test_what_was_left_out_is_told_in_words() -> None:
    raw = raw_scan(level_floor())
    raw = RawScan(
        mesh=raw.mesh,
        suffix=raw.suffix,
        sha256=raw.sha256,
        unit_given=raw.unit_given,
        proposal=raw.proposal,
        dropped={"triangles without area": 4},
        notes=("The head is short.",),
        colours=None,
    )
    (scan,) = gathered(small_layout(raw), raw).scans
    assert scan.cleaned == ("4 triangles without area left out", "The head is short.")


def test_everything_placed_is_drawn_at_rest() -> None:
    raw = raw_scan(level_floor())
    layout = small_layout(raw)
    facts = gathered(layout, raw)
    assert {one.id for one in facts.placed} == {thing.id for thing in layout.things()}
    assert {"driver-1.hand", "console-1"} <= {one.id for one in facts.drawn}
    assert facts.shown == resting(layout)
    assert dict(facts.shown)["shifter-1.gear"] == "N"
    assert facts.floor is not None


def test_a_scan_whose_file_is_gone_is_not_told_of() -> None:
    facts = gathered(small_layout(raw_scan(level_floor())))
    assert (facts.scans, facts.floor) == ((), None)
    assert len(facts.placed) == 5


def test_a_step_that_changed_since_it_was_accepted_has_to_be_looked_at_again() -> None:
    raw = raw_scan(level_floor())
    layout = edits.accept(small_layout(raw), "floor", date="2026-05-01")
    (stamp,) = gathered(layout, raw).acceptances
    assert not stamp.look_again
    (stamp,) = gathered(edits.set_carpet(layout, 9.0), raw).acceptances
    assert stamp.look_again


def test_progress_never_falls() -> None:
    raw = raw_scan(level_floor())
    steps: list[Step] = []
    work = gathering(small_layout(raw), Bench({raw.sha256: raw}), date="", version="")
    finish(work, steps.append)
    assert len(steps) > 2
    assert [step.done for step in steps] == sorted(step.done for step in steps)
