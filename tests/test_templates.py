"""Holds that a template can be read and translated: no line runs out of the window, no word is left unmarked."""

import re
from html.parser import HTMLParser

from tests.test_architecture import ROOT
from tests.wording import SPOKEN_ATTRIBUTES

LONGEST = 160


def test_no_line_of_a_template_is_longer_than_a_window_is_wide():
    templates = sorted(path for path in (ROOT / "templates").rglob("*") if path.is_file())
    assert len(templates) > 100
    long = [
        f"{path.relative_to(ROOT)}:{number} has {len(line)} columns"
        for path in templates
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if len(line) > LONGEST
    ]
    assert long == []


class _Unmarked(HTMLParser):
    """The words of a page that a translator would not be shown: what is marked for translation was taken out before."""

    def __init__(self):
        super().__init__()
        self.words, self.silent = [], 0

    def handle_starttag(self, tag, attributes):
        self.silent += tag in SILENT
        self.words += [value for name, value in attributes if name in SAID and value]

    def handle_endtag(self, tag):
        self.silent -= tag in SILENT

    def handle_data(self, data):
        self.words += [] if self.silent else [data]


SILENT = ("script", "style", "code", "kbd")
SAID = (*SPOKEN_ATTRIBUTES, "data-th", "data-label")
MARKED = re.compile(r"{% blocktranslate\b.*?{% endblocktranslate %}|{#.*?#}|{%.*?%}|{{.*?}}", re.DOTALL)
UNITS = re.compile(r"\b(mm|px|kB|MB|mAh|g|N|deg|CSV|PDF|ZIP|STL|STEP|DXF|SVG|3MF|Dialside|[a-zA-Z])\b")


def test_every_word_of_a_page_is_marked_for_translation():
    """What customers read, papers and the show window, is held by its catalogue."""
    folder = ROOT / "templates"
    pages = [path for path in folder.rglob("*.html") if path.relative_to(folder).parts[0] not in ("papers", "window")]
    assert len(pages) > 250
    unmarked = {}
    for path in pages:
        page = _Unmarked()
        page.feed(MARKED.sub("", path.read_text(encoding="utf-8")))
        if words := [words.strip() for words in page.words if re.search("[A-Za-z]{2}", UNITS.sub("", words))]:
            unmarked[str(path.relative_to(ROOT))] = words
    assert unmarked == {}
