"""Whoever calls the domain or the reference layer finds out what to give and what comes back."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "service"
MODULES = sorted(path for layer in ("domain", "reference") for path in (PACKAGE / layer).glob("*.py"))


def _public(node: ast.AST, outer: str = "") -> Iterator[tuple[str, ast.ClassDef | ast.FunctionDef]]:
    """Give public classes, functions and methods; a function inside a function is public unless underscored."""
    for child in ast.iter_child_nodes(node):
        if not isinstance(child, ast.ClassDef | ast.FunctionDef):
            yield from _public(child, outer)
        elif not child.name.startswith("_"):
            yield outer + child.name, child
            yield from _public(child, f"{outer}{child.name}.")
        elif isinstance(child, ast.FunctionDef):
            yield from _public(child, f"{outer}{child.name}.")


def _defects(node: ast.ClassDef | ast.FunctionDef) -> Iterator[str]:
    text = ast.get_docstring(node) or ""
    if not text:
        yield "no docstring"
    if isinstance(node, ast.ClassDef):
        return
    arguments = node.args.posonlyargs + node.args.args + node.args.kwonlyargs
    given = [argument.arg for argument in arguments if argument.arg not in ("self", "cls")]
    if not given:
        return
    if "\nParameters\n----------\n" not in text:
        yield "no section Parameters"
    returns = ast.unparse(node.returns) if node.returns else "None"
    if returns != "None" and "\nReturns\n-------\n" not in text and "\nYields\n------\n" not in text:
        yield "no section Returns"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: f"{path.parent.name}.{path.stem}")
def test_what_is_public_is_described(path: Path) -> None:
    found = [
        f"{name}: {defect}" for name, node in _public(ast.parse(path.read_text("utf-8"))) for defect in _defects(node)
    ]
    assert found == []
