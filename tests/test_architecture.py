"""Holds the rooms and their one-way doors: who may import whom."""

import ast
import subprocess
import sys
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
SHEET_MODULES = ("parts.fit.records", "parts.fit.sheet")


def modules(room: str) -> list[Path]:
    """List the modules of a room, such as parts/fit; none when the room is not there."""
    return sorted((ROOT / room).rglob("*.py"))


def imported(source: str, module: str) -> set[str]:
    """Name everything that a module imports, `from a import b` both as a and as a.b.

    `module` is the dotted name of the module, from which relative imports count; a package's own
    __init__ is named with it.
    """
    names = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = module.split(".")[: -node.level] if node.level else []
            base = ".".join([*base, *([node.module] if node.module else [])])
            names.add(base)
            names.update(f"{base}.{alias.name}" for alias in node.names)
    return names


@cache
def imports(path: Path) -> set[str]:
    return imported(path.read_text(), ".".join(path.relative_to(ROOT).with_suffix("").parts))


@cache
def running_imports(path: Path) -> set[str]:
    """What is imported when the module runs: without what only the type checker reads."""
    tree = ast.parse(path.read_text())
    only_types = [node for node in tree.body if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"]
    tree.body = [node for node in tree.body if node not in only_types]
    return imported(ast.unparse(tree), ".".join(path.relative_to(ROOT).with_suffix("").parts))


def within(name: str, room: str) -> bool:
    return name == room or name.startswith(f"{room}.")


def reaching(room: str, forbidden: str) -> dict[str, list[str]]:
    """Find the modules of a room that import from a forbidden one, and what."""
    found = {
        str(path.relative_to(ROOT)): sorted(n for n in imports(path) if within(n, forbidden)) for path in modules(room)
    }
    return {module: names for module, names in found.items() if names}


@pytest.mark.parametrize(
    ("source", "names"),
    [
        ("import jobs.models", {"jobs.models"}),
        ("from jobs import models", {"jobs", "jobs.models"}),
        ("def f():\n    from jobs.models import Job", {"jobs.models", "jobs.models.Job"}),
        ("from . import records", {"parts.fit", "parts.fit.records"}),
        ("from ..models import Case", {"parts.models", "parts.models.Case"}),
    ],
)
def test_the_scan_finds_every_kind_of_import(source, names):
    assert imported(source, "parts.fit.check") == names


ROOMS_WITHOUT_DJANGO = [
    ("parts/fit", set()),
    ("parts/holder", {"manifold3d", "numpy", "ezdxf", "fontTools", "OCP"}),
    ("parts/picture", {"cv2", "numpy"}),
]
"""The engine, the geometry and the pictures, each with the libraries that it may import besides the engine."""


@pytest.mark.parametrize(("room", "libraries"), ROOMS_WITHOUT_DJANGO)
def test_such_a_room_imports_only_its_libraries_the_engine_and_itself(room, libraries):
    assert modules(room)
    strangers = {
        (str(path.relative_to(ROOT)), name)
        for path in modules(room)
        for name in imports(path)
        if name.split(".")[0] not in sys.stdlib_module_names | libraries
        and not within(name, "parts.fit")
        and not within(name, room.replace("/", "."))
    }
    assert not strangers


@pytest.mark.parametrize(
    ("room", "forbidden"),
    [("parts", "jobs"), ("parts", "workshop.urls"), ("jobs", "workshop.urls")],
)
def test_no_door_opens_backwards(room, forbidden):
    assert not reaching(room, forbidden)


def nooks(room: str) -> dict[str, set[str]]:
    """Map each folder and loose module of a room to those of the same room that it runs on; migrations aside."""
    tied: dict[str, set[str]] = {}
    for path in modules(room):
        inside = path.relative_to(ROOT / room).with_suffix("").parts
        if "migrations" in inside:
            continue
        own = tied.setdefault(inside[0], set())
        depth = len(Path(room).parts)
        dotted = room.replace("/", ".")
        own.update(name.split(".")[depth] for name in running_imports(path) if name.startswith(f"{dotted}."))
    return {nook: {other for other in others if other in tied and other != nook} for nook, others in tied.items()}


@pytest.mark.parametrize("room", ["parts", "parts/fit", "parts/holder", "jobs", "workshop"])
def test_inside_a_room_arrows_run_down_only(room):
    tied = nooks(room)
    assert len(tied) > 5
    try:
        TopologicalSorter(tied).prepare()
    except CycleError as error:
        pytest.fail(f"They import each other in a ring: {' <- '.join(error.args[1])}")


def test_no_folder_holds_more_loose_modules_than_a_person_oversees():
    rooms = (ROOT / name for name in ("parts", "jobs", "workshop"))
    folders = [folder for room in rooms for folder in [room, *room.rglob("*")] if folder.is_dir()]
    loose = {
        str(folder.relative_to(ROOT)): len({*folder.glob("*.py")} - {folder / "__init__.py"}) for folder in folders
    }
    assert len(loose) > 40
    assert {folder: count for folder, count in loose.items() if count >= 15 and "migrations" not in folder} == {}


def test_one_module_turns_rows_into_sheets():
    both = [
        str(path.relative_to(ROOT))
        for room in ("parts", "jobs", "workshop")
        for path in modules(room)
        if any(within(name, "parts.models") for name in running_imports(path))
        and any(within(name, module) for name in imports(path) for module in SHEET_MODULES)
    ]
    assert set(both) <= {"parts/sheets.py"}


@pytest.mark.parametrize(("room", "site"), [("parts/fit", ["-S"]), ("parts/holder", []), ("parts/picture", [])])
def test_the_engine_and_the_geometry_import_with_django_absent(room, site):
    names = [".".join(path.relative_to(ROOT).with_suffix("").parts) for path in modules(room)]
    code = "import importlib, sys; sys.modules['django'] = None; [*map(importlib.import_module, sys.argv[1:])]"
    run = subprocess.run([sys.executable, *site, "-c", code, *names], cwd=ROOT, capture_output=True, text=True)
    assert run.returncode == 0, run.stderr
