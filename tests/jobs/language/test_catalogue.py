"""The catalogue of customers' papers: whole, true to its placeholders, and compiled as it is written."""

import ast
import re
from itertools import chain

import pytest

from jobs.quotes.customer_words import _LINES, TO_ACCEPT, line_for_customer
from parts.fit.bands import Remedy
from parts.rules.remedy_minutes import in_standing_work
from tests import catalogue
from tests.test_architecture import ROOT

_FILLED = re.compile(r"%\(\w+\)s|%%|\{[a-z_ ]+\}|</?[a-z]+[^>]*>")


def texts(message):
    """The translations of a message, one or several."""
    return [message.string] if isinstance(message.string, str) else list(message.string)


@pytest.mark.parametrize("code", catalogue.OTHERS)
def test_every_message_has_a_translation(code):
    written, wanted = catalogue.read(code), list(dict.fromkeys(catalogue.messages()))
    assert len(wanted) > 250
    keys = {(message.id, message.context) for message in written if message.id}
    assert keys == set(wanted), f"renew it with {catalogue.COMMAND}"
    lacking = [message.id for message in written if message.id and not all(texts(message))]
    assert (lacking, [message.id for message in written if message.fuzzy and message.id]) == ([], [])


@pytest.mark.parametrize("code", catalogue.OTHERS)
def test_placeholders_and_markup_are_the_same(code):
    for message in catalogue.read(code):
        if not message.id:
            continue
        originals = [message.id] if isinstance(message.id, str) else list(message.id)
        for text in texts(message):
            assert sorted(_FILLED.findall(text)) == sorted(_FILLED.findall(originals[-1])), (code, text)


@pytest.mark.parametrize("code", catalogue.OTHERS)
def test_the_compiled_file_is_that_of_the_written_one(code):
    compiled = catalogue.path_of(code).with_suffix(".mo").read_bytes()
    assert compiled == catalogue.compiled(catalogue.read(code)), f"renew it with {catalogue.COMMAND}"


def test_a_template_says_nothing_to_a_customer_that_is_not_marked():
    """Outside of what is marked stand no words but names, units and what a customer cannot see."""
    bench = {"sheet.html", "measure.html", "template.html", "fit_check.html", "_job_facts.html", "_job_photos.html"}
    for path in sorted((ROOT / "templates" / "papers").glob("*.html")):
        if path.name in bench:
            continue
        source = re.sub(r"\{#.*?#\}|<!.*?>", "", path.read_text(), flags=re.DOTALL)
        source = re.sub(r"\{% blocktranslate.*?%\}.*?\{% endblocktranslate %\}", "", source, flags=re.DOTALL)
        plain = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|<[^>]*>", " ", source, flags=re.DOTALL)
        assert re.findall(r"[A-Za-z]{2,}", plain) == [], path.name


def test_what_the_fit_check_asks_to_accept_is_in_the_catalogue():
    """Every sentence that a check hands to `by_accepting`, with each word that fills it from a list of its own."""
    said = list(chain.from_iterable(_accepted(path) for path in (ROOT / "parts" / "fit" / "checks").glob("*.py")))
    assert len(said) >= 14
    for pattern in said:
        assert any(re.fullmatch(pattern, words) for words in TO_ACCEPT), pattern


def _accepted(path):
    """Patterns of what a module hands to `by_accepting`; measured values keep their braces, anything else is open."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "by_accepting":
            [words] = node.args
            parts = words.values if isinstance(words, ast.JoinedStr) else [words]
            text = "".join(part.value if isinstance(part, ast.Constant) else "\0" for part in parts)
            yield re.escape(text).replace("\0", r"[a-z ]+").replace(r"\{lacks\}", r"[a-z ]+")


def test_what_a_customer_pays_for_is_in_customers_words():
    """Each check that asks for work or a part has a line of its own, or its work is part of every conversion."""
    for path in (ROOT / "parts" / "fit" / "checks").glob("*.py"):
        source = path.read_text()
        for key in re.findall(r'"([a-z]+(?:-[a-z]+)+)"', source):
            assert in_standing_work(key) or key in _LINES or key not in _asking(source), key


def _asking(source):
    """The keys of the checks in whose function work or a part is asked for."""
    functions = [ast.unparse(node) for node in ast.parse(source).body if isinstance(node, ast.FunctionDef)]
    asking = [words for words in functions if "by_work(" in words or "by_part(" in words]
    return {key for words in asking for key in re.findall(r"'([a-z]+(?:-[a-z]+)+)'", words)}


def test_a_sentence_with_a_bound_is_recognised():
    words = line_for_customer(
        "date-depth", Remedy("accept", "The date will lie at least 0.35 mm deeper in its window.")
    )
    assert (words.message, words.values) == (
        "The date will lie {value} deeper in its window.",
        {"value": "at least 0.35 mm"},
    )
