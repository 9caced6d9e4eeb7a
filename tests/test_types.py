"""Holds what the type checker cannot be asked for alone: the domain's functions say what they take and give."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def untyped(source: str) -> list[str]:
    """Name the functions with keyword-only arguments that lack the type of an argument or of what they return."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) or not node.args.kwonlyargs:
            continue
        taken = node.args
        arguments = [*taken.posonlyargs, *taken.args, *taken.kwonlyargs, taken.vararg, taken.kwarg]
        bare = [item for item in arguments if item and not item.annotation and item.arg not in ("self", "cls")]
        if bare or node.returns is None:
            found.append(node.name)
    return found


@pytest.mark.parametrize(
    ("source", "names"),
    [
        ("def f(*, a: int) -> None: ...", []),
        ("def f(a): ...", []),
        ("def f(*, a) -> None: ...", ["f"]),
        ("def f(*, a: int): ...", ["f"]),
        ("def f(b, *, a: int) -> None: ...", ["f"]),
        ("class C:\n    def f(self, *, a: int, **more) -> None: ...", ["f"]),
    ],
)
def test_the_scan_names_what_lacks_a_type(source, names):
    assert untyped(source) == names


@pytest.mark.parametrize("room", ["parts", "jobs", "workshop"])
def test_functions_with_keyword_only_arguments_are_typed(room):
    modules = sorted((ROOT / room).rglob("*.py"))
    assert len(modules) > 40
    lacking = {str(path.relative_to(ROOT)): untyped(path.read_text()) for path in modules}
    assert {module: names for module, names in lacking.items() if names} == {}
