"""The core has no thread, clock or settings and runs nothing that it reads; only its ends look outside."""

import ast
from collections.abc import Iterator

import pytest

from contract.sources import CORE, Module, made_up, modules

# The two that meet the world: they hand dates and settings in.
ENDS = ("floorpan.cli", "floorpan.project", "floorpan.__main__")

NEVER = {
    "_thread",
    "concurrent",
    "multiprocessing",
    "asyncio",
    "sched",
    "pickle",
    "marshal",
    "shelve",
    "runpy",
}
# Being called from several threads is the app's right; starting one is not the core's.
NEVER_STARTED = {"Thread", "Timer", "Popen", "ThreadPool"}
NEVER_CALLED = {"eval", "exec"}
CLOCK_AND_SETTINGS = {"time", "socket", "platform", "getpass", "locale"}
READ_OFF = {
    "environ",
    "environb",
    "getenv",
    "getlogin",
    "getcwd",
    "cwd",
    "home",
    "expanduser",
    "now",
    "utcnow",
    "today",
}


OUTSIDE = CLOCK_AND_SETTINGS | READ_OFF


def faults(module: Module) -> Iterator[str]:
    at_an_end = any(module.name == end or module.name.startswith(end + ".") for end in ENDS)
    for node in ast.walk(module.tree):
        line = f"{module.where}:{getattr(node, 'lineno', 0)}"
        for name in _imported(node):
            if name in NEVER | NEVER_STARTED or (name in OUTSIDE and not at_an_end):
                yield f"{line} imports {name}"
        if isinstance(node, ast.Attribute) and node.attr in NEVER_STARTED:
            yield f"{line} starts a {node.attr}"
        if isinstance(node, ast.Attribute) and node.attr in READ_OFF and not at_an_end:
            yield f"{line} reads {node.attr}"
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in NEVER_CALLED:
            yield f"{line} calls {node.func.id}"


def _imported(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name.split(".")[0] for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        yield (node.module or "").split(".")[0]
        if node.module in ("os", "threading", "subprocess"):
            yield from (alias.name for alias in node.names)


def test_the_core_has_no_thread_no_clock_and_no_settings() -> None:
    assert [fault for module in modules(CORE) for fault in faults(module)] == []


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("floorpan.checks.evaluate", "import threading\nthreading.Thread(target=print).start()"),
        ("floorpan.checks.evaluate", "def f():\n    from threading import Thread"),
        ("floorpan.checks.evaluate", "def f():\n    from os import environ"),
        ("floorpan.checks.evaluate", "from concurrent.futures import ThreadPoolExecutor"),
        ("floorpan.checks.evaluate", "from time import perf_counter"),
        ("floorpan.report.rows", "import datetime\nday = datetime.date.today()"),
        ("floorpan.report.rows", "import os\nname = os.environ['USER']"),
        ("floorpan.project.store", "import pickle"),
        ("floorpan.project.store", "eval('1 + 1')"),
        ("floorpan.projection", "import time"),
    ],
)
def test_a_look_outside_is_found(name: str, text: str) -> None:
    assert len(list(faults(made_up(name, text)))) == 1


def test_the_ends_may_read_the_clock() -> None:
    assert (
        list(
            faults(made_up("floorpan.project.saving", "import time\nfrom datetime import date\ndate.today()"))
        )
        == []
    )
