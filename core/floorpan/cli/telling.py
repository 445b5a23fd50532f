"""How the front talks: one line at a time, progress on a terminal only."""

import sys

from floorpan.cli import words
from floorpan.cli.stopping import stop_if_asked
from floorpan.progress import Step

_WIDEST = 79


def one_line(text: str) -> str:
    """Text on one line, without anything that would steer a terminal."""
    return "".join(sign if sign.isprintable() else " " for sign in " ".join(text.split())).strip()


def note(text: str) -> None:
    """Say something beside the answer: on standard error."""
    print(f"{words.PROGRAM}: {one_line(text)}", file=sys.stderr)


class Progress:
    """Shows the steps of a piece of work in one line that is written over again."""

    def __init__(self, *, shown: bool) -> None:
        self._shown = shown
        self._line = ""

    def __call__(self, step: Step) -> None:
        """Show a step, where its line differs from the one that stands there; stop where somebody asked to."""
        stop_if_asked()
        share = f"{100 * step.done:.0f} %"
        self._write(one_line(words.PROGRESS.format(doing=step.doing, share=share))[:_WIDEST])

    def clear(self) -> None:
        """Take the line away, before anything else is written."""
        self._write("")

    def _write(self, line: str) -> None:
        if self._shown and line != self._line:
            print(f"\r{' ' * len(self._line)}\r{line}", end="", file=sys.stderr, flush=True)
            self._line = line
