"""No file carries a path of the machine it was written on, or the address of a place packages come from."""

import hashlib
import re
from collections.abc import Iterator, Set
from pathlib import Path

import pytest

from contract.sources import TOP, project_files

HOST = re.compile(r"[a-z0-9-]+(?:\.[a-z0-9-]+)+")
# The address of an index, whatever host it is on.
INDEX = re.compile(r"https?://\S+/simple(?:/|\b)")
# The first 12 digits of the SHA-256 of each host, so that this file does not name what it looks for.
PACKAGE_HOSTS = frozenset(
    re.findall(
        "[0-9a-f]{12}",
        """
        a4aa2ac280bb c899567ee906 0dc11026ac75 e680c440a2e9 8b5bb5eb9d75 8743857e3ea0 1ba4e37997a2
        d6d7019ca9fc 9495278a7471 70bb4000cd2f eb7e11c7f9ec 3d01f3609be8 00a7dc5a0cc3 9da5f32d9641
        dcb6cc3991f9 7117c828d2af 4db460c55b85 317d2d52829b 43c04ed1dabe 03e390c8d8a6
        """,
    )
)
# A folder of somebody's own at the top of a path; further names are known only by their hash.
HOMES = re.compile(r"(?<![\w.:/~-])/(?:home|root|Users|mnt|media)/[\w.]|\b[A-Z]:\\+Users\\")
TOP_FOLDER = re.compile(r"(?<![\w.:/~-])/([a-z]+)/[a-z.]")
TOP_FOLDERS = frozenset(["00e13ed7af55", "c8cf701f30ad"])


def digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def faults(text: str, hosts: Set[str] = PACKAGE_HOSTS, folders: Set[str] = TOP_FOLDERS) -> Iterator[str]:
    for number, line in enumerate(text.splitlines(), 1):
        if INDEX.search(line) or any(digest(host) in hosts for host in HOST.findall(line.lower())):
            yield f"{number} names a place packages come from"
        own = str(TOP) in line and len(TOP.parts) > 2
        if own or HOMES.search(line) or any(digest(name) in folders for name in TOP_FOLDER.findall(line)):
            yield f"{number} carries a path of a machine"


def text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        # Bytes are searched too: a picture or a document may carry a path in its notes.
        return path.read_bytes().decode("latin-1")


def test_no_file_carries_a_trace() -> None:
    found = [
        f"{path.relative_to(TOP)}:{fault}" for path in project_files() for fault in faults(text_of(path))
    ]
    assert found == []


@pytest.mark.parametrize(
    "line",
    [
        "url = 'https://packages.example" + "/simple/floorpan'",
        "from https://index.invented.example/thing",
        "open('" + "/home" + "/somebody/scan.ply')",
        "open('" + "/Users" + "/somebody/scan.ply')",
        "open('C:" + r"\Users\somebody\scan.ply')",
        f"open('{TOP / 'scan.ply'}')",
        "open('" + "/invented" + "/main/scan.ply')",
    ],
)
def test_a_trace_is_found(line: str) -> None:
    hosts, folders = {digest("index.invented.example")}, {digest("invented")}
    assert len(list(faults(line, hosts, folders))) == 1


@pytest.mark.parametrize(
    "line",
    ["#!/usr/bin/env python3", "mm/deg/home", "www.w3.org/2000/svg", "a/home/b", "~/home/x", "/proc/self"],
)
def test_what_is_no_trace_is_left_alone(line: str) -> None:
    assert list(faults(line)) == []
