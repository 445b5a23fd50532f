"""The headless front: commands that run without a display, for people and for programs."""

from floorpan.cli.front import main

__all__ = ["main"]
