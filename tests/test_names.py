"""Holds that names say what they stand for: a word that is used for everything names nothing."""

import ast

import pytest

from tests.test_architecture import ROOT, modules

EMPTY = {"found", "one", "told", "kept"}


def names_given(source: str) -> list[tuple[int, str]]:
    """(line, name) of every variable, argument, loop target, function and class; a table's columns are left out."""
    tree = ast.parse(source)
    columns = {target for node in ast.walk(tree) if isinstance(node, ast.ClassDef) for target in _columns(node)}
    given = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store) and node not in columns:
            given.append((node.lineno, node.id))
        elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store) and ast.unparse(node.value) == "self":
            given.append((node.lineno, node.attr))
        elif isinstance(node, ast.arg):
            given.append((node.lineno, node.arg))
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef | ast.ExceptHandler):
            given.append((node.lineno, node.name))
        elif isinstance(node, ast.alias):
            given.append((node.lineno, node.asname))
    return given


def _columns(node: ast.ClassDef) -> list[ast.expr]:
    """The targets in a class that are columns of a table, whose names only a migration changes."""
    assigned = [part for part in node.body if isinstance(part, ast.Assign) and isinstance(part.value, ast.Call)]
    return [part.targets[0] for part in assigned if ast.unparse(part.value.func).startswith("models.")]


@pytest.mark.parametrize(
    "source",
    [
        "found = 1",
        "found: int = 1",
        "with open(path) as found: pass",
        "if found := look(): pass",
        "for i, found in pairs: pass",
        "[found for found in rows]",
        "def look(found): pass",
        "def look(*, found=None): pass",
        "lambda found: 1",
        "def found(): pass",
        "import rows as found",
        "try: pass\nexcept ValueError as found: pass",
        "class Row:\n    found = 1",
        "class Row:\n    def __init__(self, rows): self.found = rows",
    ],
)
def test_the_scan_sees_every_way_to_give_a_name(source):
    assert "found" in {name for _, name in names_given(source)}


@pytest.mark.parametrize("source", ["look(found=1)", "row.found", "class Row:\n    found = models.CharField()"])
def test_what_is_only_used_or_is_a_column_is_left_alone(source):
    assert "found" not in {name for _, name in names_given(source)}


def test_no_name_is_a_word_for_everything():
    paths = [path for room in ("parts", "jobs", "workshop") for path in modules(room)]
    assert len(paths) > 200
    empty = [
        f"{path.relative_to(ROOT)}:{line} {name}"
        for path in paths
        if "migrations" not in path.parts
        for line, name in names_given(path.read_text())
        if name in EMPTY
    ]
    assert empty == []
