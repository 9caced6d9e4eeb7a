"""Holds that the words of pages that stand in Python can be translated: labels, helps, choices, errors and messages."""

import ast
import re

from tests.test_architecture import ROOT

SAID = {"label", "help_text", "verbose_name", "verbose_name_plural", "empty_label"}
NO_WORDS = {"OneToOneField", "ManyToManyField"}
"""Fields whose first argument is a model."""


def test_every_word_of_a_form_a_field_or_a_message_is_marked_for_translation():
    unmarked, looked_at = [], 0
    for path in sorted(path for room in ("jobs", "parts", "workshop") for path in (ROOT / room).rglob("*.py")):
        if {"migrations", "demo", "fit"} & set(path.relative_to(ROOT).parts):
            continue
        for said in words_in(ast.parse(path.read_text(encoding="utf-8"))):
            looked_at += 1
            if is_bare(said):
                unmarked.append(f"{path.relative_to(ROOT)}:{said.lineno} {ast.unparse(said)}")
    assert looked_at > 700
    assert unmarked == []


def words_in(tree):
    """The expressions of a module that a page says."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield from (keyword.value for keyword in node.keywords if keyword.arg in SAID)
            yield from words_of_call(node)
        elif isinstance(node, ast.ClassDef) and any("Choices" in ast.unparse(base) for base in node.bases):
            values = (each.value for each in node.body if isinstance(each, ast.Assign))
            yield from (value.elts[-1] for value in values if isinstance(value, ast.Tuple))


def words_of_call(call):
    """The positional words of a model field, an error of validation and a message."""
    whole = ast.unparse(call.func)
    name = whole.rpartition(".")[2]
    if name == "ValidationError" or (re.fullmatch(r"models\.\w+Field", whole) and name not in NO_WORDS):
        yield from call.args[:1]
    elif name == "add_error" or re.fullmatch(r"messages\.(success|error|warning|info)", whole):
        yield from call.args[1:2]


def is_bare(said):
    """Whether it is text that no translator would be shown."""
    if isinstance(said, ast.JoinedStr):
        return True
    return isinstance(said, ast.Constant) and bool(re.search("[A-Za-z]{2}", str(said.value or "")))
