"""What every page has in common."""

import re
from pathlib import Path

import pytest
from django import forms
from django.template.loader import render_to_string

TEMPLATES = sorted(Path("templates").rglob("*.html"))
INLINE = re.compile(r"<style|\sstyle=|\son[a-z]+=|<script(?![^>]*\ssrc=)|javascript:", re.IGNORECASE)


def markup_of(text):
    """The template without its tags, whose arguments are no attributes of the page."""
    return re.sub(r"{%.*?%}", "", text)


def test_the_page_policy_allows_only_our_own_files(owner_client):
    policy = owner_client.get("/parts/")["Content-Security-Policy"]
    assert policy.split("; ") == [
        "default-src 'self'",
        "base-uri 'none'",
        "object-src 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    ]
    assert "unsafe" not in policy


@pytest.mark.parametrize("template", TEMPLATES, ids=str)
def test_no_template_has_inline_script_or_style(template):
    assert not INLINE.search(markup_of(template.read_text()))


@pytest.mark.parametrize("template", TEMPLATES, ids=str)
def test_no_comment_of_a_template_runs_over_its_line_and_shows_on_the_page(template):
    assert not [line for line in template.read_text().splitlines() if line.count("{#") != line.count("#}")]


@pytest.mark.parametrize("inline", ["<style>", '<p style="x">', '<a onclick="x">', "<script>x</script>"])
def test_inline_script_and_style_would_be_found(inline):
    assert INLINE.search(inline)


def test_the_page_has_its_landmarks_and_marks_where_one_is(owner_client):
    page = owner_client.get("/parts/").text
    for landmark in (
        '<html lang="en">',
        "<header",
        '<nav class="page-nav" aria-',
        "<main",
        "<footer",
    ):
        assert page.count(landmark) == 1
    first, again = re.findall(r'<a href="(.*?)" aria-current="page">(.*?)</a>', page)
    assert first == again == ("/parts/", "Parts library")
    assert "Numbers and defaults are aids. You decide at the bench." in page


@pytest.mark.parametrize(
    ("verdict", "word"),
    [("fits", "Fits"), ("work", "Fits with work"), ("unclear", "Unclear"), ("no", "Does not fit")],
)
def test_a_verdict_has_its_word_and_a_shape_of_its_own(verdict, word):
    shown = render_to_string("_verdict.html", {"verdict": verdict})
    assert re.sub(r"<[^>]*>|\s*\n\s*", "", shown) == word
    assert f'class="verdict verdict-{verdict}"' in shown
    others = {"fits", "work", "unclear", "no"} - {verdict}
    shape = re.search(r"<svg.*</svg>", shown, re.DOTALL)[0]
    assert all(shape not in render_to_string("_verdict.html", {"verdict": other}) for other in others)


class OpeningForm(forms.Form):
    opening = forms.DecimalField(label="Dial opening", help_text="At its narrowest.", min_value=0)


def test_a_field_shows_label_hint_unit_and_error_tied_to_the_input():
    field = OpeningForm({"opening": "-3"})["opening"]
    shown = render_to_string("_field.html", {"field": field, "unit": "mm"})
    assert '<label for="id_opening">Dial opening</label>' in shown
    assert '<div class="hint" id="id_opening_helptext">At its narrowest.</div>' in shown
    assert '<span class="unit">mm</span>' in shown
    assert 'aria-describedby="id_opening_helptext id_opening_error"' in shown
    assert 'aria-invalid="true"' in shown
    assert re.search(r'id="id_opening_error">\s*<li>.*Too small: it must be 0 or more.', shown, re.DOTALL)


def test_every_page_brings_its_rules_for_the_browser(owner_client):
    page = owner_client.get("/")
    assert page["Content-Security-Policy"].startswith("default-src 'self'")
    names = ("X-Content-Type-Options", "Referrer-Policy", "Cross-Origin-Opener-Policy", "X-Frame-Options")
    assert [page[name] for name in names] == ["nosniff", "same-origin", "same-origin", "DENY"]
