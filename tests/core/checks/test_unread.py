"""Where the file of a scan is gone, nothing measured to it may pass for clear: by definition."""

from core.small_case import level_floor, raw_scan, small_layout
from floorpan.checks import evaluate
from floorpan.checks.unread import GONE
from floorpan.derive import Bench
from floorpan.layout import Layout
from floorpan.progress import finish

RAW = raw_scan(level_floor(cells=12))
LAYOUT = small_layout(RAW)
TO_SCAN = {"hand-scan", "lever-scan", "vessel-scan", "seat-scan", "console-scan"}


def judged(layout: Layout, *, with_file: bool) -> dict[str, set[tuple[str, str]]]:
    store = {RAW.sha256: RAW} if with_file else {}
    found: dict[str, set[tuple[str, str]]] = {}
    for finding in finish(evaluate(layout, Bench(store))):
        if finding.check in TO_SCAN:
            found.setdefault(finding.check, set()).add((finding.verdict, finding.note))
    return found


def test_every_pair_with_a_scan_whose_file_is_gone_is_unseen() -> None:
    assert judged(LAYOUT, with_file=False) == {check: {("unseen", GONE)} for check in TO_SCAN}


def test_with_the_file_there_nothing_says_so() -> None:
    notes = {note for told in judged(LAYOUT, with_file=True).values() for _, note in told}
    assert GONE not in notes
