"""Who imports whom, counting imports inside functions, under `if TYPE_CHECKING` and by `import_module`."""

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from contract.sources import Module


@dataclass(frozen=True, slots=True, kw_only=True)
class Import:
    importer: str
    imported: str
    line: int

    def __str__(self) -> str:
        return f"{self.importer}:{self.line} imports {self.imported}"


def imports_of(module: Module, known: Iterable[str]) -> Iterator[Import]:
    """Every import a module makes; `from package import name` is `package.name` where that is a module."""
    names = frozenset(known)
    for node in ast.walk(module.tree):
        for target in _targets(node, module, names):
            yield Import(importer=module.name, imported=target, line=getattr(node, "lineno", 0))


def _targets(node: ast.AST, module: Module, known: frozenset[str]) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        package = _absolute(node, module)
        for alias in node.names:
            whole = f"{package}.{alias.name}"
            yield whole if whole in known else package
    elif isinstance(node, ast.Call) and _called(node) in ("import_module", "__import__"):
        first = node.args[0] if node.args else None
        # A name worked out at run time cannot be judged, so it counts as an import of everything.
        yield str(first.value) if isinstance(first, ast.Constant) else "*"


def _called(node: ast.Call) -> str:
    if isinstance(node.func, ast.Attribute):
        return node.func.attr
    return node.func.id if isinstance(node.func, ast.Name) else ""


def _absolute(node: ast.ImportFrom, module: Module) -> str:
    if node.level == 0:
        return node.module or ""
    parts = module.name.split(".")
    up = node.level - 1 if module.is_package else node.level
    kept = parts[: len(parts) - up] if up else parts
    return ".".join([*kept, *([node.module] if node.module else [])])


def all_imports(modules: Iterable[Module]) -> list[Import]:
    listed = tuple(modules)
    known = [module.name for module in listed]
    return [found for module in listed for found in imports_of(module, known)]


def rings(found: Iterable[Import]) -> list[tuple[str, ...]]:
    """Groups of modules that reach each other, each sorted: Tarjan's strongly connected components.

    A module that imports itself is a ring of one.
    """
    graph: dict[str, set[str]] = {}
    for edge in found:
        graph.setdefault(edge.importer, set()).add(edge.imported)
    components = _Tarjan(graph).components()
    return sorted(
        tuple(sorted(group)) for group in components if len(group) > 1 or group[0] in graph.get(group[0], ())
    )


class _Tarjan:
    """R. Tarjan, Depth-first search and linear graph algorithms, SIAM Journal on Computing 1 (1972)."""

    def __init__(self, graph: dict[str, set[str]]) -> None:
        self._graph = graph
        self._number: dict[str, int] = {}
        self._lowest: dict[str, int] = {}
        self._stack: list[str] = []
        self._found: list[list[str]] = []

    def components(self) -> list[list[str]]:
        for node in self._graph:
            if node not in self._number:
                self._visit(node)
        return self._found

    def _visit(self, node: str) -> None:
        self._number[node] = self._lowest[node] = len(self._number)
        self._stack.append(node)
        for after in sorted(self._graph.get(node, ())):
            if after not in self._number:
                self._visit(after)
                self._lowest[node] = min(self._lowest[node], self._lowest[after])
            elif after in self._stack:
                self._lowest[node] = min(self._lowest[node], self._number[after])
        if self._lowest[node] == self._number[node]:
            cut = self._stack.index(node)
            self._found.append(self._stack[cut:])
            del self._stack[cut:]
