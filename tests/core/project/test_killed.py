"""A writer that is killed at any moment leaves a project that opens."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

# A nursery that forks: every child saves back to back until it is killed, and what it left is opened. In a process
# of its own, since a fork of the tests' process would copy their threads' locks.
NURSERY = """
import os, random, signal, sys, time
from datetime import datetime, timezone
from pathlib import Path
from floorpan.layout import Layout, ScanRef
from floorpan.project.folder import BACKUP, PROJECT, create, open_project, save

folder, times = Path(sys.argv[1]), int(sys.argv[2])
project = create(folder, "start")
scans = tuple(
    ScanRef(id=f"scan-{n}", name="x", sha256="0" * 64, suffix=".ply", original_name="x.ply", unit="mm")
    for n in range(20)
)
chance = random.Random(5)
seen = set()
for _ in range(times):
    listen, tell = os.pipe()
    child = os.fork()
    if child == 0:
        number = 0
        while True:
            number += 1
            save(project, Layout(title=f"{os.getpid()} {number}", scans=scans[: number * 7 % 20]))
            os.write(tell, b".")
    os.read(listen, 1)
    time.sleep(chance.random() * 0.03)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    os.close(listen)
    os.close(tell)
    seen.add(open_project(folder).layout.title)
    if (folder / BACKUP).exists():
        open_project(folder, from_backup=True)
print(len(seen), sum(1 for path in folder.iterdir() if path.name.startswith(".writing-")))
"""
KILLS = 60


@pytest.mark.skipif(sys.platform == "win32", reason="needs fork")
def test_a_save_that_is_cut_short_anywhere_leaves_the_old_one_or_the_new_one(tmp_path: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "-c", NURSERY, str(tmp_path / "car.floorpan"), str(KILLS)],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)},
    )
    assert (ended.returncode, ended.stderr) == (0, "")
    seen, cut_short = (int(word) for word in ended.stdout.split())
    # It says something only because every child got to save, and some were hit with a file half written.
    assert seen == KILLS
    assert cut_short > 0
