"""Files, functions and classes stay small enough to be read at one go."""

import ast
from collections.abc import Iterator

from contract.sources import APP, CORE, Module, every_python_file, made_up, modules

FILE_LINES = 400
FUNCTION_LINES = 60
PUBLIC_METHODS = 15
PUBLIC_NAMES = 40


def size_faults(module: Module) -> Iterator[str]:
    lines = len(module.text.splitlines())
    if lines > FILE_LINES:
        yield f"{module.where}: {lines} lines"
    for node in ast.walk(module.tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            if length > FUNCTION_LINES:
                yield f"{module.where}:{node.lineno} {node.name}: {length} lines"


def class_faults(module: Module) -> Iterator[str]:
    for node in ast.walk(module.tree):
        if isinstance(node, ast.ClassDef):
            public = public_methods(node)
            if len(public) > PUBLIC_METHODS:
                yield f"{module.where}:{node.lineno} {node.name}: {len(public)} public methods"


def public_methods(node: ast.ClassDef) -> set[str]:
    """Names of the class's own public methods; a property counts once.

    The toolkit's overrides, such as paintEvent, are called by the toolkit alone: camelCase gives them away.
    """
    names = {item.name for item in node.body if isinstance(item, ast.FunctionDef | ast.AsyncFunctionDef)}
    return {name for name in names if not name.startswith("_") and name == name.lower()}


def public_names(module: Module) -> list[str]:
    for node in module.tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            if any(isinstance(target, ast.Name) and target.id == "__all__" for target in targets):
                return [str(name) for name in ast.literal_eval(node.value)]
    return []


def test_files_and_functions_are_short() -> None:
    assert [fault for module in every_python_file() for fault in size_faults(module)] == []


def test_classes_offer_few_methods() -> None:
    judged = modules(CORE) + modules(APP)
    assert [fault for module in judged for fault in class_faults(module)] == []


def test_the_core_shows_few_names() -> None:
    [face] = [module for module in modules(CORE) if module.name == "floorpan"]
    names = public_names(face)
    assert len(names) <= PUBLIC_NAMES
    assert len(set(names)) == len(names)


def test_what_is_too_long_is_found() -> None:
    just_right = "def f():\n" + "    pass\n" * 59
    too_long = "def f():\n" + "    pass\n" * 60
    assert list(size_faults(made_up("a", just_right))) == []
    assert len(list(size_faults(made_up("a", too_long)))) == 1
    assert list(size_faults(made_up("a", "x = 1\n" * 400))) == []
    assert len(list(size_faults(made_up("a", "x = 1\n" * 401)))) == 1


def test_a_class_with_too_many_methods_is_found() -> None:
    methods = "".join(f"    def verb_{number}(self): ...\n" for number in range(15))
    apart = "    def _own(self): ...\n    def paintEvent(self, event): ...\n"
    assert list(class_faults(made_up("a", "class A:\n" + methods + apart))) == []
    assert (
        len(list(class_faults(made_up("a", "class A:\n" + methods + "    def one_more(self): ...\n")))) == 1
    )


def test_the_names_a_module_shows_are_counted() -> None:
    assert public_names(made_up("a", "__all__ = ['Layout', 'edits']")) == ["Layout", "edits"]
