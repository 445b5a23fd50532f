import pytest

from floorpan.cli.arguments import FORMS, Request, read_arguments
from floorpan.cli.words import COMMANDS, HELP
from floorpan.errors import BadValue


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("sample DIR", Request(command="sample", places=("DIR",))),
        ("scan a.ply", Request(command="scan", places=("a.ply",))),
        ("scan a.ply --unit mm --json", Request(command="scan", places=("a.ply",), unit="mm", as_json=True)),
        ("scan --json --unit=ft a.ply", Request(command="scan", places=("a.ply",), unit="ft", as_json=True)),
        ("--json scan a.ply", Request(command="scan", places=("a.ply",), as_json=True)),
        ("new d f.obj --unit in -v", Request(command="new", places=("d", "f.obj"), unit="in", wordy=True)),
        ("new --unit cm d f.obj", Request(command="new", places=("d", "f.obj"), unit="cm")),
        ("new d --unit m f.obj", Request(command="new", places=("d", "f.obj"), unit="m")),
        ("check d --allow close", Request(command="check", places=("d",), allow_close=True)),
        ("report d -o x.pdf", Request(command="report", places=("d",), output="x.pdf")),
        ("report -ox.pdf d", Request(command="report", places=("d",), output="x.pdf")),
        ("report --output x.pdf d", Request(command="report", places=("d",), output="x.pdf")),
        ("check -- -d", Request(command="check", places=("-d",))),
        ("--version", Request(wants="version")),
        ("check --version", Request(wants="version")),
        ("--help", Request(wants="help")),
        ("-h", Request(wants="help")),
        ("check -h", Request(command="check", wants="help")),
        ("nonsense --help", Request(wants="help")),
    ],
)
def test_words_become_a_request(line: str, expected: Request) -> None:
    assert read_arguments(line.split(" ")) == expected


def test_a_place_may_hold_anything() -> None:
    places = ("my car.floorpan", "床 план \u00e9.ply")
    assert read_arguments(["new", *places, "--unit", "mm"]).places == places


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("", "No command"),
        ("sing", "“sing” is no command"),
        ("--loud", "takes no --loud"),
        ("-x check d", "takes no -x"),
        ("check", "needs DIR"),
        ("new", "needs DIR FILE"),
        ("new d", "needs FILE"),
        ("check d e", "“e” is one too many"),
        ("check d --unit mm", "takes no --unit"),
        ("scan f -o x.pdf", "takes no --output"),
        ("report d --allow close", "takes no --allow"),
        ("report d", "needs -o FILE"),
        ("report d -o", "-o needs a value"),
        ("scan f --unit", "--unit needs a value"),
        ("scan f --unit=", "--unit needs a value"),
        ("scan f --unit furlong", "takes mm, cm, m, in, ft, not “furlong”"),
        ("scan f --unit MM", "not “MM”"),
        ("check d --allow short", "takes close, not “short”"),
        ("check d --json=yes", "make no sense"),
        ("check d --js", "takes no --js"),
    ],
)
def test_what_cannot_be_meant_is_told_in_our_words(line: str, word: str) -> None:
    with pytest.raises(BadValue) as caught:
        read_arguments(line.split(" ") if line else [])
    assert word in caught.value.what
    assert "--help" in caught.value.remedy


def test_every_command_has_its_help_and_stands_in_the_list() -> None:
    assert list(COMMANDS) == list(FORMS)
    for command, form in FORMS.items():
        first = COMMANDS[command].splitlines()[0]
        assert first.startswith(f"floorpan {command} {' '.join(form.places)}")
        assert f"floorpan {command} " in HELP
