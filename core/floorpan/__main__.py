"""`python -m floorpan`: the bare core, without windows."""

import sys

from floorpan.cli import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
