"""What a report tells beyond layout and findings, taken from the bench that judged them."""

from collections.abc import Iterator
from dataclasses import replace

from floorpan.derive import Bench
from floorpan.edits import step_key
from floorpan.errors import AxesProblem
from floorpan.items.states import State, state_of
from floorpan.layout import STEPS, Layout, ScanRef, record_of
from floorpan.progress import Step, Work, part
from floorpan.report import words
from floorpan.report.driver_facts import gathering_driver
from floorpan.report.facts import AxesFacts, Edition, ReportFacts, ScanFacts, gather
from floorpan.scan.prepare import ScanMesh


def gathering(
    layout: Layout,
    bench: Bench,
    *,
    date: str,
    version: str,
    project: str = "",
    layout_version: str = "",
    edition: Edition = "myself",
    shown: State | None = None,
) -> Work[ReportFacts]:
    """The facts of a layout, every scan whose file is there looked at.

    date, version  : as they are printed
    layout_version : name of the version laid out, empty for the layout in hand
    shown          : the state the drawings show; None draws everything as it rests
    Raises ScanProblem or ProjectDamaged where a scan file cannot be read.
    """
    yield Step(0.0, words.GATHERING)
    here = [scan for scan in layout.scans if scan.sha256 in bench.store]
    told = []
    for number, scan in enumerate(here):
        prepared = yield from part(bench.prepare(scan), number / len(here) / 2, (number + 1) / len(here) / 2)
        told.append(_scan_facts(scan, prepared, bench.store[scan.sha256].notes))
    scene = bench.scene(layout)
    driver = yield from part(gathering_driver(scene), 0.5, 1.0)
    state = resting(layout) if shown is None else shown
    found = gather(
        layout,
        date=date,
        version=version,
        project=project,
        layout_version=layout_version,
        edition=edition,
        scans=tuple(told),
        axes=tuple(_axes_facts(layout, bench)),
        keys={step: step_key(layout, step) for step in STEPS},
        placed=scene.placed,
        body=lambda id: scene.body(id, state),
        floor=scene.floor.mesh if scene.floor is not None else None,
        unseen=scene.floor.patches if scene.floor is not None else None,
        shown=state,
    )
    return replace(found, driver=driver)


def resting(layout: Layout) -> State:
    """Every axis of every placed thing at the stop where it rests."""
    return state_of(
        {
            f"{thing.id}.{axis.name}": axis.rest
            for thing in layout.things()
            for axis in record_of(thing).axes(thing)
        }
    )


def _scan_facts(scan: ScanRef, prepared: ScanMesh, notes: tuple[str, ...]) -> ScanFacts:
    facts = prepared.facts
    return ScanFacts(
        id=scan.id,
        name=scan.name,
        file=scan.original_name,
        unit=scan.unit,
        triangles=facts.triangles,
        points=facts.points,
        size_mm=facts.size_mm,
        islands=facts.islands,
        holes=facts.holes,
        noise_mm=facts.noise_mm,
        good_to_mm=scan.good_to_mm,
        good_to_note=scan.good_to_note,
        cleaning=tuple(_cleaning(prepared)),
        cleaned=(*(words.LEFT_OUT.format(n=n, what=what) for what, n in facts.dropped.items()), *notes),
    )


def _cleaning(prepared: ScanMesh) -> Iterator[str]:
    """What each line of the cleaning list came to; lines that found nothing are not told."""
    for counts in prepared.cleaned:
        yield from (words.LEFT_OUT.format(n=n, what=what) for what, n in counts.items() if n)


def _axes_facts(layout: Layout, bench: Bench) -> Iterator[AxesFacts]:
    for scan in layout.scans:
        if scan.pose is None:
            continue
        try:
            fit = bench.axes_fit(scan)
        except AxesProblem:
            # Picks that set no axes yet say nothing about the pose that was set from earlier ones.
            fit = None
        if fit is not None:
            yield AxesFacts(
                scan_id=scan.id,
                residuals_mm=fit.residuals_mm,
                tilt_mm_over_900=fit.tilt_over_900_mm,
                mirror_can_be_told=fit.can_tell_mirror,
            )
