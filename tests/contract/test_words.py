"""Words the program does not use: some nowhere, some not on screen."""

import ast
import re
from collections.abc import Iterable, Iterator

import pytest

from contract.sources import APP, CORE, Module, docstrings, made_up, modules

# In no name, comment or sentence: they belong to other programs.
NOWHERE = re.compile("workbench|workspace", re.IGNORECASE)
# In no sentence or label. The program judges geometry: nothing it says may sound like an approval.
NOT_ON_SCREEN = re.compile(
    r"\b(safe|safely|approved|ok|okay|errors?|invalid|objects?|entity|entities|jobs?|please|sorry)\b",
    re.IGNORECASE,
)
A_SENTENCE = re.compile(r"\w\S*\s+\S*\w")
A_LABEL = re.compile(r"[A-Z]\w*[….:!?]?")


def texts(module: Module) -> Iterator[tuple[int, str]]:
    """Every string that may reach a screen: line and text, with `thing` where a value is filled in."""
    passed_over = docstrings(module.tree)
    for node in ast.walk(module.tree):
        if isinstance(node, ast.JoinedStr):
            passed_over |= {id(part) for part in node.values}
            parts = [part.value if isinstance(part, ast.Constant) else "thing" for part in node.values]
            if id(node) not in passed_over:
                yield node.lineno, "".join(str(part) for part in parts)
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in passed_over:
            yield node.lineno, node.value


def is_shown(text: str) -> bool:
    """Whether a string reads like a sentence or a label, not like a key, a format or a file's tag."""
    return bool(A_SENTENCE.search(text) or A_LABEL.fullmatch(text) or text.lower() == "ok")


def faults(judged: Iterable[Module]) -> Iterator[str]:
    for module in judged:
        for number, line in enumerate(module.text.splitlines(), 1):
            for word in NOWHERE.findall(line):
                yield f"{module.where}:{number} says {word}"
        for number, text in texts(module):
            for word in NOT_ON_SCREEN.findall(text) if is_shown(text) else ():
                yield f"{module.where}:{number} says {word} in {text!r}"


def test_the_words_not_used_are_not_used() -> None:
    assert list(faults(modules(CORE) + modules(APP))) == []


@pytest.mark.parametrize(
    "text",
    [
        'raise Wrong("An error occurred.")',
        'label = "OK"',
        'label = "ok"',
        'label = f"{name} is safe"',
        'label = f"{name} error"',
        'title = "Invalid"',
        'sentence = "two " "objects"',
        "def workbench(): ...",
        "# the workspace",
    ],
)
def test_a_word_not_used_is_found(text: str) -> None:
    assert len(list(faults([made_up("floorpan.a", text)]))) == 1


@pytest.mark.parametrize(
    "text",
    [
        '"""An error of the method."""',
        'def f():\n    """Raises an error for an invalid object."""',
        'read(errors="strict")',
        'open(text, errors="ignore")',
        'tag = "{%s}object"',
        'kind = f"{name}.error"',
        'text = "The book is okra, joblessness is unsafe."',
    ],
)
def test_what_never_reaches_the_screen_is_left_alone(text: str) -> None:
    assert list(faults([made_up("floorpan.a", text)])) == []
