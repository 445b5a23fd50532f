"""How main ends, whatever happens underneath."""

import io
import sys
from collections.abc import Callable
from typing import Any

import pytest

from floorpan.cli import commands, main
from floorpan.cli.telling import Progress, one_line
from floorpan.errors import ProjectDamaged
from floorpan.progress import Step


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def ends_in(fault: BaseException | None, monkeypatch: pytest.MonkeyPatch) -> None:
    def command(request: Any, progress: Progress, renderer: Any) -> int:
        progress(Step(0.5, "thinking"))
        if fault is not None:
            raise fault
        return 0

    monkeypatch.setitem(commands.COMMANDS, "check", command)


@pytest.mark.parametrize(
    ("fault", "code", "word"),
    [
        (ProjectDamaged("x", "It is broken.", "Mend it."), 2, "It is broken. Mend it."),
        (ProjectDamaged("x", "Two\nlines \x1b[31mred", "Mend."), 2, "Two lines  [31mred Mend."),
        (KeyboardInterrupt(), 130, "Stopped"),
        (OSError(28, "No space left on device"), 2, "The system refused (No space left on device)"),
        (ZeroDivisionError("division by zero"), 2, "not foreseen (ZeroDivisionError: division by zero)"),
        (MemoryError(), 2, "not foreseen (MemoryError"),
        (RecursionError("too deep"), 2, "too deep"),
    ],
)
def test_whatever_goes_wrong_is_one_line_and_a_code(
    fault: BaseException,
    code: int,
    word: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    ends_in(fault, monkeypatch)
    assert main(["check", "d"]) == code
    told = capsys.readouterr()
    assert told.out == ""
    assert word in told.err
    assert told.err.startswith("floorpan: ")
    assert told.err.count("\n") == 1


def test_only_who_asks_sees_where_the_unforeseen_happened(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ends_in(ZeroDivisionError("x"), monkeypatch)
    assert main(["check", "d", "-v"]) == 2
    told = capsys.readouterr().err
    assert "Traceback" in told
    assert told.splitlines()[-1].startswith("floorpan: Something went wrong")


def test_progress_is_shown_on_a_terminal_to_who_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    ends_in(None, monkeypatch)
    for stream, words, shown in (
        (Terminal(), ["-v"], True),
        (Terminal(), [], False),
        (io.StringIO(), ["-v"], False),
    ):
        monkeypatch.setattr(sys, "stderr", stream)
        assert main(["check", "d", *words]) == 0
        assert ("thinking 50 %" in stream.getvalue()) == shown
        assert "\n" not in stream.getvalue()


def test_progress_is_taken_away_before_anything_else_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    ends_in(ProjectDamaged("x", "It is broken.", "Mend it."), monkeypatch)
    stream = Terminal()
    monkeypatch.setattr(sys, "stderr", stream)
    assert main(["check", "d", "-v"]) == 2
    line, rest = "thinking 50 %", stream.getvalue()
    # Written, overwritten with as many spaces, then the line that stays.
    assert rest == f"\r\r{line}\r{' ' * len(line)}\rfloorpan: It is broken. Mend it.\n"


@pytest.mark.parametrize("words", [["--help"], ["-h"], ["check", "--help"], ["--version"]])
def test_help_and_version_go_to_standard_output(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 0
    told = capsys.readouterr()
    assert told.out.startswith("floorpan ") or told.out.startswith("floorpan: ")
    assert told.err == ""
    assert all(len(line) <= 90 for line in told.out.splitlines())


@pytest.mark.parametrize(
    ("text", "expected"),
    [("a\r\nb\tc", "a b c"), ("\u202ex", "x"), ("\x00", ""), ("Größe 床", "Größe 床"), ("\udcff", "")],
)
def test_a_line_is_one_line(text: str, expected: str) -> None:
    assert one_line(text) == expected


def test_each_command_is_there() -> None:
    found: dict[str, Callable[..., int]] = commands.COMMANDS
    assert list(found) == ["sample", "scan", "new", "check", "report"]
