import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from floorpan.errors import ProjectDamaged
from floorpan.project.strict_json import DEEPEST, LONGEST_BYTES, parse, print_json

values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=30,
)


@given(values)
def test_what_is_printed_is_read_back(value: object) -> None:
    assert parse(print_json(value), "a.json") == value  # type: ignore[arg-type]


@given(st.binary())
def test_bytes_are_read_as_the_library_reads_them_or_refused(data: bytes) -> None:
    try:
        value = parse(data, "a.json")
    except ProjectDamaged:
        return
    assert value == json.loads(data.decode("utf-8-sig"))


@pytest.mark.parametrize(
    ("text", "word"),
    [
        (b'{"a": NaN}', "NaN"),
        (b"[-Infinity]", "Infinity"),
        (b"[1e999]", "1e999"),
        (b"9" * 5000, "5000 digits"),
        (b'{"a": 1, "a": 2}', "twice"),
        (b"[" * 100_000, "deeper"),
        (b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1), "deeper"),
        (b'{"a":' * 500 + b"1" + b"}" * 500, "deeper"),
        (b'["\\ud800"]', "half a character"),
        (b'{"\\udfff": 1}', "half a character"),
        (b'{"a": 1', "line 1, column"),
        (b"", "line 1, column 1"),
        (b"\xff\xfe", "byte 0"),
        (b"\x89PNG\r\n\x1a\n", "byte 0"),
        (b" " * (LONGEST_BYTES + 1), "bytes"),
    ],
)
def test_what_cannot_be_trusted_is_refused_with_its_place(text: bytes, word: str) -> None:
    with pytest.raises(ProjectDamaged) as caught:
        parse(text, "project.json")
    assert word in caught.value.what
    assert caught.value.what.startswith("project.json")
    assert "project.json.bak" in caught.value.remedy


def test_a_mark_before_the_text_does_no_harm() -> None:
    assert parse(b"\xef\xbb\xbf[1]", "a.json") == [1]


def test_the_text_is_for_people_too() -> None:
    assert (
        print_json({"b": "Größe", "a": [1.5]}) == '{\n  "b": "Größe",\n  "a": [\n    1.5\n  ]\n}\n'.encode()
    )


def test_what_would_be_refused_on_reading_is_not_printed() -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        print_json(float("nan"))
    with pytest.raises(UnicodeEncodeError):
        print_json("\ud800")
