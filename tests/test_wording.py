"""Holds every sentence on screen and on paper to one file for review, and to the words of the glossary."""

import re
from functools import cache

import pytest

from tests import wording

GLOSSARY = (
    (r"\breckon", "work out, calculate"),
    (r"\bweigh(s|ed|ing)?\b", "compare, check, reconsider"),
    (r"\bmend(s|ed)?\b", "put right, correct"),
    (r"\banew\b", "again"),
    (r"\bbesides\b", "also"),
    (r"\botherwise than\b|\bsaid otherwise\b", "not as, disagreed"),
    (r"\bput(ting)? (\w+ )?away\b", "archive; an account is switched off"),
    (r"\bpairings?\b", "fit check; in a job, option"),
    (r"\bways?\b of the quote|\bof the ways\b", "option"),
    (
        r"(?<!fresh )\bair\b|\broom (to|for|between|round|all|left|under)\b",
        "clearance between parts, gap between hands",
    ),
    (r"\bgo(es)? together\b|\bgo in\b|\bgo on as\b|\bdoes not go\b", "fit, fit with work, do not fit"),
    (r"\bkept (report|pairing)s?\b|\breports? kept\b", "saved report"),
    (r"\b(is|are|was|were|nothing) stored\b|\bstore\b|\bon record\b|\bput it on\b", "save, saved"),
    (r"\bnumbers of the shop\b", "Shop figures"),
    (r"\bwhat would go in\b", "What would fit?"),
    (r"\bwhat came of\b", "How it turned out"),
    (r"\bto learn from\b", "lesson"),
    (r"\bcannot be( a watch|:)", "is out of range; contradict each other"),
    (r"\blies ahead\b", "is in the future"),
    (r"\bnot read as\b|\bis no (number|text|file|JSON|address|picture)\b", "is not a"),
    (r"\bstands? there\b", "saved now"),
    (r"\bin the drawers?\b|\bfrom the drawer\b", "in stock; in use"),
    (r"\b(leave|left) (it |that |them |both )?empty\b|\bempty (a|the|it|its)\b", "leave blank, clear"),
    (r"\bone to learn\b|\bone word more\b", "a lesson; add a word"),
    (r"\bbegin (again|anew)\b", "Clear"),
    (r"\btake it back\b|\btake the answer back\b", "undo"),
    (r"\bfurniture\b", "raised markers"),
    (r"\badhesive pads?\b", "dial pads"),
    (r"\bmeasured prints?\b", "test print"),
    (r"\bcut walls\b|\bin space\b", "wall sections; 3D view"),
    (r"\btraps? (and|or) tricks?\b", "tips and traps; a tip"),
    (r"\bholds? until\b|\bheld until\b", "valid until"),
    (r"\bstanding (work|lines)\b", "routine work"),
    (r"\bunrepaired\b", "returned as it came"),
    (r"\bbench hand\b", "watchmaker"),
    (r"\bbroken (line|outline)s?\b", "dashed lines"),
    (r"\bside by side\b", "compare"),
    (r"\bstart page\b", "bench"),
    (r"\bparticulars\b", "details"),
    (r"—", "a comma, a colon or a new sentence"),
    (r"!(?!=)", "a full stop"),
)
"""What nobody says across the bench (a pattern) and what we say instead."""


def test_the_file_of_sentences_is_up_to_date():
    now, written = wording.as_text().splitlines(), wording.SENTENCES.read_text(encoding="utf-8").splitlines()
    changed = [f"- {line}" for line in written if line not in now] + [
        f"+ {line}" for line in now if line not in written
    ]
    assert now == written, f"renew it with {wording.COMMAND} and read what changed:\n" + "\n".join(changed)


@pytest.mark.parametrize(("banned", "better"), GLOSSARY, ids=[banned for banned, _ in GLOSSARY])
def test_one_word_for_one_thing(banned, better):
    found = [f"{name}: {words}" for name, words in _sentences() if _says(banned, words)]
    assert not found, f"say “{better}” in:\n" + "\n".join(found)


@cache
def _sentences():
    return list(wording.sentences())


def _says(banned, words):
    """Whether a sentence holds a banned word outside of what is filled in."""
    plain = re.sub(r"\{\{.*?\}\}|\{[^{}]*\}", "…", words)
    return re.search(banned, plain, re.IGNORECASE)


@pytest.mark.parametrize(
    ("source", "collected"),
    [
        (
            'form.error("Leave it.", f"{name} is {size:.2f} mm too wide.")',
            ["Leave it.", "{name} is {size} mm too wide."],
        ),
        ('"""Words of a docstring."""\nSQL = "SELECT one, two FROM three"', []),
        ('class Word(models.TextChoices):\n    WELL = "well", "fitted"', ["fitted"]),
        ('field = models.CharField("tip", help_text="Short.")', ["tip", "Short."]),
    ],
)
def test_what_is_collected_from_python(source, collected):
    assert list(wording.sentences_of_python(source)) == collected


@pytest.mark.parametrize(
    ("source", "collected"),
    [
        ("<p>No job{% if words %} matches{% else %} yet{% endif %}.</p>", ["No job[ matches| yet]."]),
        ('<a title="Next job" href="/x">Go on</a><p>{{ job|default:"none" }}</p>', ["Next job", "Go on", "none"]),
        ("{# A note. #}<script>let x = 'Not read';</script>{% if a %}<b>Fits</b>{% endif %}", ["Fits"]),
    ],
)
def test_what_is_collected_from_a_template(source, collected):
    assert list(wording.sentences_of_template(source)) == collected


def test_what_is_collected_from_a_script():
    source = 'const a = "hint quiet"; // Not this one.\nshow(`Clock checked, ±${plusMinus} s.`);'
    assert list(wording.sentences_of_script(source)) == ["Clock checked, ±${plusMinus} s."]


def test_no_attribute_of_a_template_is_broken_over_lines():
    """A line break within placeholder, title or aria-label would be shown, or read aloud, as a gap."""
    broken = []
    for path in sorted((wording.ROOT / "templates").rglob("*.html")):
        plain = re.sub(r"\{%.*?%\}|\{\{.*?\}\}", "x", path.read_text(encoding="utf-8"), flags=re.DOTALL)
        tags = re.findall(r"<[a-zA-Z][^<>]*>", plain)
        broken += [f"{path.name}: {value}" for tag in tags for value in re.findall(r'="([^"]*\n[^"]*)"', tag)]
    assert broken == []
