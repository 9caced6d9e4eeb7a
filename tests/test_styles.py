"""The style sheets take their colours from the tokens, so that light and dark are one set of rules."""

import re
from pathlib import Path

import pytest

SHEETS = {path.name: path.read_text() for path in (Path(__file__).parent.parent / "static" / "css").glob("*.css")}
TOKENS = SHEETS["base.css"]
DARK = re.search(r"@media screen and \(prefers-color-scheme: dark\) \{\n  :root \{(.*?)\n  \}", TOKENS, re.DOTALL)[1]


def test_a_colour_is_written_once_at_the_tokens_and_on_papers():
    colour = re.compile(r"#[0-9a-fA-F]{3,8}\b|\b(?:rgb|hsl)a?\(|\b(?:white|black)\b(?!-)")
    assert {name: colour.findall(sheet) for name, sheet in SHEETS.items() if name not in ("base.css", "paper.css")} == {
        name: [] for name in SHEETS if name not in ("base.css", "paper.css")
    }


@pytest.mark.parametrize("name", sorted(SHEETS))
def test_every_token_that_is_used_is_set(name):
    used = set(re.findall(r"var\((--[\w-]+)\)", SHEETS[name]))
    assert used <= set(re.findall(r"(--[\w-]+):", "".join(SHEETS.values())))


def test_dark_sets_every_colour_again():
    light = TOKENS.partition("@media")[0]
    coloured = set(re.findall(r"(--[\w-]+): (?:#|rgb)", light))
    assert coloured == set(re.findall(r"(--[\w-]+): (?:#|rgb)", DARK))
