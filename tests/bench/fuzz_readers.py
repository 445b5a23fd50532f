"""Spoils files of every format and reads them: no traceback, no hang over 5 s, no memory over 1 GiB.

    python tests/bench/fuzz_readers.py [how many [seed]]

Twenty thousand by default, each read in a child process that is watched; what went wrong is kept and named.
"""

import collections
import multiprocessing
import resource
import signal
import sys
import tempfile
import time
import warnings
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from core.scan.spoiling import Spoilt, sources, spoilt

BATCH = 250
HANG_S = 5
MOST_BYTES = 1 << 30
SHARED = Path(__file__).resolve().parents[3] / "shared" / "data"


def read_all(batch: list[Spoilt], told: "multiprocessing.Queue[tuple[int, str, float, int]]") -> None:
    """Read a batch one after another; each ending is told as it comes."""
    from floorpan.errors import FloorpanError
    from floorpan.progress import finish
    from floorpan.scan import read_scan

    def hang(*_: object) -> None:
        raise TimeoutError("hung")

    signal.signal(signal.SIGALRM, hang)
    # A warning would be a line on the builder's terminal.
    warnings.simplefilter("error")
    with tempfile.TemporaryDirectory() as folder:
        for number, one in enumerate(batch):
            path = Path(folder) / f"{number}{one.suffix}"
            path.write_bytes(one.data)
            began = time.perf_counter()
            signal.alarm(HANG_S)
            try:
                finish(read_scan(path))
                ending = "read"
            except FloorpanError as fault:
                ending = f"refused: {fault.code}"
            except TimeoutError:
                ending = "HUNG"
            except Exception as fault:
                ending = f"TRACEBACK {type(fault).__name__}: {fault}"
            finally:
                signal.alarm(0)
            most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
            told.put((number, ending, time.perf_counter() - began, most))
            path.unlink()


def main() -> None:
    how_many = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    endings: collections.Counter[str] = collections.Counter()
    slowest = most = 0.0
    bad = 0
    began = time.perf_counter()
    context = multiprocessing.get_context("spawn")
    every = list(spoilt(sources(SHARED), how_many, seed))
    for start in range(0, len(every), BATCH):
        batch = every[start : start + BATCH]
        told: multiprocessing.Queue[tuple[int, str, float, int]] = context.Queue()
        child = context.Process(target=read_all, args=(batch, told))
        child.start()
        for _ in batch:
            try:
                number, ending, seconds, memory = told.get(timeout=4 * HANG_S)
            except Exception:
                ending, number, seconds, memory = "DIED", -1, 0.0, 0
            endings[
                ending if ending.isupper() or ending.startswith(("read", "refused")) else "TRACEBACK"
            ] += 1
            slowest, most = max(slowest, seconds), max(most, float(memory))
            if ending[:1].isupper():
                bad += 1
                one = batch[number]
                kept = Path(tempfile.gettempdir()) / f"spoilt-{start + number}{one.suffix}"
                kept.write_bytes(one.data)
                print(f"{ending}: {one.source}, {one.how}; kept as {kept}", flush=True)
            if ending == "DIED":
                break
        child.join()
    for ending, count in endings.most_common():
        print(f"{count:7} {ending}")
    took = time.perf_counter() - began
    print(f"{how_many} files in {took:.0f} s; slowest {slowest:.2f} s, most memory {most / 2**20:.0f} MiB")
    sys.exit(1 if bad or most > MOST_BYTES else 0)


if __name__ == "__main__":
    main()
