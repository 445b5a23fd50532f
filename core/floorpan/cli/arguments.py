"""What was asked for, from the words on the command line."""

import argparse
from dataclasses import dataclass
from typing import NoReturn

from floorpan.cli import words
from floorpan.errors import BadValue
from floorpan.units import MM_PER

_NO_VALUE = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """One command with what it was given; `command` is empty where only help or the version is wanted."""

    command: str = ""
    places: tuple[str, ...] = ()
    unit: str | None = None
    output: str = ""
    allow_close: bool = False
    as_json: bool = False
    wordy: bool = False
    wants: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Form:
    """What a command takes: its places in order, and options beyond those that all take."""

    places: tuple[str, ...]
    options: tuple[str, ...] = ()


FORMS = {
    "sample": _Form(places=("DIR",)),
    "scan": _Form(places=("FILE",), options=("--unit",)),
    "new": _Form(places=("DIR", "FILE"), options=("--unit",)),
    "check": _Form(places=("DIR",), options=("--allow",)),
    "report": _Form(places=("DIR",), options=("--output",)),
}


class _Parser(argparse.ArgumentParser):
    """argparse for the splitting of words only: what is said about them is ours."""

    def error(self, message: str) -> NoReturn:
        raise _refused(words.UNREADABLE.format(why=message))


def read_arguments(argv: list[str]) -> Request:
    """The request in the words after the program's name; raises BadValue for what cannot be meant."""
    found, unknown = _parser().parse_known_intermixed_args(argv)
    command, *places = found.words or [""]
    if found.version:
        return Request(wants="version")
    if found.help:
        return Request(command=command if command in FORMS else "", wants="help")
    if unknown and not command:
        raise _refused(words.UNKNOWN_WORD.format(word=unknown[0]))
    if command not in FORMS:
        raise _refused(words.UNKNOWN_COMMAND.format(word=command) if command else words.NO_COMMAND)
    _check_options(command, found, unknown)
    _check_places(command, places)
    return Request(
        command=command,
        places=tuple(places),
        unit=_one_of("--unit", found.unit, tuple(MM_PER), command),
        output=_value("-o", found.output, command) or "",
        allow_close=_one_of("--allow", found.allow, ("close",), command) is not None,
        as_json=found.json,
        wordy=found.verbose,
    )


def _parser() -> _Parser:
    parser = _Parser(prog=words.PROGRAM, add_help=False, allow_abbrev=False)
    parser.add_argument("words", nargs="*")
    parser.add_argument("-h", "--help", action="store_true")
    parser.add_argument("-v", "--verbose", action="store_true")
    parser.add_argument("--version", action="store_true")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--unit", nargs="?", const=_NO_VALUE)
    parser.add_argument("--allow", nargs="?", const=_NO_VALUE)
    parser.add_argument("-o", "--output", nargs="?", const=_NO_VALUE)
    return parser


def _check_options(command: str, found: argparse.Namespace, unknown: list[str]) -> None:
    for option in ("unit", "allow", "output"):
        if getattr(found, option) is not None and f"--{option}" not in FORMS[command].options:
            unknown.append(f"--{option}")
    if unknown:
        raise _refused(words.UNKNOWN_OPTION.format(command=command, word=unknown[0]), command)
    if "--output" in FORMS[command].options and found.output is None:
        raise _refused(words.TOO_FEW.format(command=command, missing="-o FILE"), command)


def _check_places(command: str, places: list[str]) -> None:
    wanted = FORMS[command].places
    if len(places) < len(wanted):
        missing = " ".join(wanted[len(places) :])
        raise _refused(words.TOO_FEW.format(command=command, missing=missing), command)
    if len(places) > len(wanted):
        told = words.TOO_MANY.format(command=command, places=" ".join(wanted), word=places[len(wanted)])
        raise _refused(told, command)


def _value(option: str, given: str | None, command: str) -> str | None:
    if given == _NO_VALUE:
        raise _refused(words.NO_VALUE.format(option=option), command)
    return given


def _one_of(option: str, given: str | None, taken: tuple[str, ...], command: str) -> str | None:
    value = _value(option, given, command)
    if value is not None and value not in taken:
        told = words.WRONG_VALUE.format(option=option, words=", ".join(taken), word=value)
        raise _refused(told, command)
    return value


def _refused(what: str, command: str = "") -> BadValue:
    remedy = words.SEE_COMMAND_HELP.format(command=command) if command else words.SEE_HELP
    return BadValue("arguments", what, remedy)
