"""`python -m floorpan`: the bare core, without windows."""

import sys


def main() -> int:
    """The exit code of what the command line asks for; 130 where it was stopped while it was still loading."""
    try:
        from floorpan.cli import main as headless

        return headless(sys.argv[1:])
    except KeyboardInterrupt:
        sys.stderr.write("floorpan: Stopped. Nothing more was written.\n")
        return 130


if __name__ == "__main__":
    sys.exit(main())
