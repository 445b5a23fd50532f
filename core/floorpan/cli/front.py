"""From the command line to an exit code: what was asked is done, what goes wrong is one line."""

import io
import os
import sys
import traceback
from typing import TYPE_CHECKING

from floorpan.cli import words
from floorpan.cli.arguments import Request, read_arguments
from floorpan.cli.endings import DONE, STOPPED, WRONG
from floorpan.cli.stopping import stop_if_asked, watch
from floorpan.cli.telling import Progress, note
from floorpan.errors import FloorpanError

if TYPE_CHECKING:
    from floorpan.report.pictures import PictureMaker


def main(argv: list[str], pictures: "PictureMaker | None" = None) -> int:
    """Do what the words after the program's name ask for.

    pictures : makes what draws the pictures of a report; without one it holds drawings only
    Returns 0 done, 1 check found something that is not clear, 2 could not be done, 130 stopped.
    """
    _speak_any_language()
    watch()
    wordy = False
    try:
        request = read_arguments(argv)
        wordy = request.wordy
        code = _run(request, pictures)
        sys.stdout.flush()
        return code
    except FloorpanError as fault:
        return _refuse(fault.what, fault.remedy)
    except KeyboardInterrupt:
        note(words.STOPPED)
        return STOPPED
    except BrokenPipeError:
        # Who reads has had enough. Python flushes once more at its end and would complain.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return STOPPED
    except OSError as fault:
        what, remedy = words.REFUSED
        return _refuse(what.format(why=fault.strerror or type(fault).__name__), remedy)
    except Exception as fault:
        if wordy:
            traceback.print_exc()
        what, remedy = words.UNFORESEEN
        return _refuse(what.format(why=f"{type(fault).__name__}: {fault}"), remedy)


def _run(request: Request, pictures: "PictureMaker | None") -> int:
    if request.wants == "version":
        # Asked for often by programs, so it waits for nothing that is heavy to load.
        from importlib.metadata import version

        print(f"{words.PROGRAM} {version(words.PROGRAM)}")
        return DONE
    if request.wants == "help":
        print(words.COMMANDS.get(request.command, words.HELP), end="")
        return DONE
    from floorpan.cli.commands import COMMANDS

    stop_if_asked()
    progress = Progress(shown=request.wordy and sys.stderr.isatty())
    try:
        return COMMANDS[request.command](request, progress, pictures)
    finally:
        progress.clear()


def _refuse(what: str, remedy: str) -> int:
    note(f"{what} {remedy}")
    return WRONG


def _speak_any_language() -> None:
    """Show what a terminal cannot write as an escape rather than fail on it."""
    # A stream that whoever started us has closed is none at all to Python.
    sys.stdout = sys.stdout or open(os.devnull, "w")  # noqa: SIM115
    sys.stderr = sys.stderr or open(os.devnull, "w")  # noqa: SIM115
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
