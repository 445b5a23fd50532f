"""A stop that somebody swallows is heeded at the next step."""

import contextlib
import importlib
import os
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from floorpan.cli.stopping import stop_if_asked, watch
from floorpan.cli.telling import Progress
from floorpan.progress import Step


@pytest.fixture(autouse=True)
def own_handler() -> Iterator[None]:
    before = signal.getsignal(signal.SIGINT)
    yield
    watch()
    signal.signal(signal.SIGINT, before)


@pytest.mark.skipif(os.name == "nt", reason="signals of a POSIX system")
def test_a_swallowed_stop_is_heeded_at_the_next_step() -> None:
    watch()
    progress = Progress(shown=False)
    progress(Step(0.1, "Reading"))
    # As a library does that tries to load another one and takes whatever goes wrong for its absence.
    with contextlib.suppress(BaseException):
        os.kill(os.getpid(), signal.SIGINT)
    with pytest.raises(KeyboardInterrupt):
        progress(Step(0.2, "Reading"))


@pytest.mark.skipif(os.name == "nt", reason="signals of a POSIX system")
def test_a_library_that_is_being_loaded_is_loaded_to_its_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Half a library fails later by what is missing of it, or takes the process down."""
    lines = ("import os, signal", "os.kill(os.getpid(), signal.SIGINT)", "whole = True")
    (tmp_path / "loaded_meanwhile.py").write_text("\n".join(lines))
    monkeypatch.syspath_prepend(str(tmp_path))
    watch()
    assert importlib.import_module("loaded_meanwhile").whole
    with pytest.raises(KeyboardInterrupt):
        stop_if_asked()


def test_a_new_command_begins_unasked() -> None:
    watch()
    stop_if_asked()
