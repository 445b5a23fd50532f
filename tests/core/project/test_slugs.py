import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.project.slugs import slug

# Device names that no file may carry on one widespread system, whatever its ending: its developers' own list.
DEVICES = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in "0123456789"}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Tunnel console, second try", "tunnel-console-second-try"),
        ("  ../../etc/passwd  ", "etc-passwd"),
        ("C:\\floor\\scan", "c-floor-scan"),
        ("Größe Ängström café", "grosse-angstrom-cafe"),
        ("пол и туннель", "пол-и-туннель"),
        ("床とトンネル", "床とトンネル"),
        ("हिन्दी", "हिन्दी"),
        ("CON", "con-1"),
        ("nul.txt", "nul-txt"),
        ("COM¹", "com1-1"),
        ("trailing dots...", "trailing-dots"),
        ("a" * 59 + " b", "a" * 59),
        ("", "untitled"),
        ("...", "untitled"),
        ("\u202egnp.exe", "gnp-exe"),
        ("a\u0000b\nc", "a-b-c"),
    ],
)
def test_a_name_for_people_becomes_a_name_for_files(text: str, expected: str) -> None:
    assert slug(text) == unicodedata.normalize("NFC", expected)


@given(st.text())
def test_every_slug_is_a_name_that_every_system_takes(text: str) -> None:
    name = slug(text)
    assert 1 <= len(name) <= 62
    assert len(name.encode()) + len(".floorpan") <= 255
    assert name not in DEVICES
    assert not re.search(r'[<>:"/\\|?*.\s\x00-\x1f]', name)
    assert name.strip("-") == name
    assert slug(name) == name


def test_names_that_differ_in_capitals_only_are_one_file() -> None:
    assert slug("Version A") == slug("VERSION a")
