"""The published folder: nothing personal, no broken link, valid and light pages, and readers that understand it."""

import io
import json
import re
import zipfile
from html.parser import HTMLParser
from posixpath import dirname, normpath
from urllib.parse import urlsplit
from xml.etree import ElementTree as ET

import feedparser
import pytest
from PIL import Image
from tinyhtml5.parser import HTMLParser as Html5

from jobs.language.choices import CODES
from tests.jobs.window.published import CANARY

pytestmark = pytest.mark.django_db
ADDRESS = "https://weir-lane.example/"
LANGUAGES = {code: "" if code == "en" else f"{code}/" for code in CODES}
_ENTRIES = 4
_PAGES = 2 + _ENTRIES + 4 + 3 + 1
"""First page, list, entries, cases and movements, a holder."""
_DRAWINGS_IN_JAPANESE = [["文字盤と針（縮尺どおり）"], ["時計の断面図（縮尺どおり）"]]


class Page(HTMLParser):
    """What a page has: its elements with their attributes, its words, what stands in script elements."""

    def __init__(self, html):
        super().__init__(convert_charrefs=True)
        self.elements, self.words, self.scripts, self._inside = [], [], [], ""
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        self.elements.append((tag, dict(attributes)))
        self._inside = tag

    def handle_data(self, words):
        (self.scripts if self._inside == "script" else self.words).append(words)

    def handle_endtag(self, tag):
        self._inside = ""

    def values(self, *names):
        return [value for _, attributes in self.elements for name, value in attributes.items() if name in names]


@pytest.fixture(scope="module")
def files(published):
    return {path: content for path, (content, _) in published.after.items()}


@pytest.fixture(scope="module")
def pages(files):
    return {path: Page(content.decode()) for path, content in files.items() if path.endswith(".html")}


def test_every_page_is_there_in_every_language(pages):
    for prefix in LANGUAGES.values():
        own = [path for path in pages if path.startswith(prefix) and (prefix or path[:3] not in LANGUAGES.values())]
        assert len(own) == _PAGES
    assert {page.elements[0][1]["lang"] for page in pages.values()} == set(CODES)


def test_a_canary_in_every_field_is_in_no_file_and_no_zip(files, published):
    packed = zipfile.ZipFile(io.BytesIO(published.zipped))
    contents = files | {f"zip:{name}": packed.read(name) for name in packed.namelist()} | {"zip": published.zipped}
    assert len(contents) == 2 * len(files)  # the list of files is not in the ZIP, the ZIP itself is looked through
    holding = [path for path, content in contents.items() if CANARY.lower().encode() in content.lower()]
    assert holding == []
    assert not [path for path, content in files.items() if re.search(rb"(?<![\w.-])\d\d-\d{3}(?![\w.-])", content)]


def test_writing_again_changes_no_byte_and_no_time(published):
    assert published.before == published.after


def test_every_link_leads_to_a_file_and_to_a_place_in_it(files, pages):
    for path, page in pages.items():
        sources = [part.split()[0] for value in page.values("srcset") for part in value.split(",")]
        for link in (*page.values("href", "src"), *sources):
            parts = urlsplit(link)
            if parts.scheme == "mailto":
                continue
            target = normpath(f"{dirname(path)}/{parts.path}") if parts.path else path
            if parts.scheme:
                assert link.startswith(ADDRESS), (path, link)
                target = f"{parts.path[1:]}index.html" if parts.path.endswith("/") else parts.path[1:]
            assert target.lstrip("/") in files, (path, link)
            if parts.fragment and not parts.scheme:
                assert parts.fragment in pages[target.lstrip("/")].values("id"), (path, link)


def test_nothing_is_loaded_from_elsewhere(files, pages):
    for path, page in pages.items():
        for tag, attributes in page.elements:
            loaded = attributes.get("src") or (
                attributes.get("href") if attributes.get("rel") in ("stylesheet", "icon") else ""
            )
            assert not urlsplit(loaded or "").netloc, (path, tag, loaded)
    assets = b"\n".join(content for path, content in files.items() if path.endswith((".css", ".js")))
    code = re.sub(rb"^\s*//.*", b"", re.sub(rb"/\*.*?\*/", b"", assets, flags=re.DOTALL), flags=re.MULTILINE)
    assert len(code) > 15_000
    assert not re.search(rb"//|@import", code)


def test_pages_are_html_without_a_fault(files, pages):
    for path, page in pages.items():
        parser = Html5()
        parser.parse(files[path])
        assert parser.errors == [], path
        ids = page.values("id")
        assert len(ids) == len(set(ids)), path
        assert sum(tag == "h1" for tag, _ in page.elements) == 1, path
        for attributes in (attributes for tag, attributes in page.elements if tag == "img"):
            assert attributes["alt"] and attributes["width"] and attributes["height"] and attributes["srcset"], path  # noqa: PT018


def test_a_page_is_light_without_its_photos(files, pages):
    fonts = sum(len(content) for path, content in files.items() if path.endswith(".woff2"))
    for path, page in pages.items():
        linked = [value for value in page.values("href", "src") if "assets/" in value]
        weight = len(files[path]) + fonts
        weight += sum(len(files[normpath(f"{dirname(path)}/{link}").lstrip("/")]) for link in linked)
        assert 90_000 < weight < 150_000, (path, weight)


def test_photos_hold_pixels_alone(files):
    photos = {path: content for path, content in files.items() if path.startswith("photos/")}
    assert len(photos) == 2 * _ENTRIES
    for content in photos.values():
        picture = Image.open(io.BytesIO(content))
        assert picture.format == "JPEG"
        assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize("prefix", LANGUAGES.values(), ids=LANGUAGES)
def test_a_feed_reader_reads_the_news(files, prefix):
    feed = feedparser.parse(files[f"{prefix}feed.xml"])
    assert not feed.bozo
    assert (feed.version, feed.feed.title) == ("atom10", "Weir Lane Watches")
    assert len(feed.entries) == _ENTRIES
    assert len({entry.id for entry in feed.entries}) == _ENTRIES
    for entry in feed.entries:
        assert entry.link.removeprefix(ADDRESS) in files
        assert entry.published_parsed <= entry.updated_parsed


def test_the_site_map_names_every_page_in_every_language(files, pages):
    names = {"m": "http://www.sitemaps.org/schemas/sitemap/0.9", "x": "http://www.w3.org/1999/xhtml"}
    urls = ET.fromstring(files["sitemap.xml"]).findall("m:url", names)
    places = [url.find("m:loc", names).text.removeprefix(ADDRESS) for url in urls]
    assert {f"{place}index.html" if place.endswith("/") or not place else place for place in places} == pages.keys()
    for url in urls:
        assert {link.get("hreflang") for link in url.findall("x:link", names)} == set(CODES)
        assert re.fullmatch(r"\d{4}-\d{2}-\d{2}", url.find("m:lastmod", names).text)
    assert files["robots.txt"] == f"Sitemap: {ADDRESS}sitemap.xml\n".encode()


def test_search_engines_are_told_the_facts(files, pages):
    kinds = set()
    for path, page in pages.items():
        [facts] = [json.loads(script) for script in page.scripts if script.strip()]
        assert facts["@context"] == "https://schema.org"
        for fact in facts["@graph"]:
            kinds.add(fact["@type"])
            if fact["@type"] == "Service":
                assert fact["identifier"].lower() in path
                assert all(image.removeprefix(ADDRESS) in files for image in fact["image"])
                assert fact["offers"]["priceSpecification"]["priceCurrency"] == "EUR"
    assert kinds == {"LocalBusiness", "ItemList", "Service", "Product", "BreadcrumbList"}


def test_pages_speak_their_language_and_say_where_words_are_in_another(pages):
    german, japanese = (" ".join(pages[f"{code}/index.html"].words) for code in ("de", "ja"))
    assert "So läuft es ab" in german
    assert "Krone und Datum bei 4" in german
    assert "ab 470\xa0€" in german
    assert "ご依頼の流れ" in japanese
    assert "新しいりゅうず" in " ".join(pages["ja/cases/tollgate-40.html"].words)
    assert ("span", {"lang": "en"}) in pages["ja/index.html"].elements
    assert ("span", {"lang": "en"}) not in pages["index.html"].elements


def test_drawings_say_nothing_but_their_title_in_the_pages_language(files, published):
    drawn = [content.decode() for path, content in files.items() if path.startswith("ja/pieces/")]
    assert len(drawn) == _ENTRIES
    for html in drawn:
        look, section = re.findall(r'<svg [^>]*class="drawing.*?</svg>', html, re.DOTALL)
        assert re.findall(r"<title>(.*?)</title>", look + section) == [
            "文字盤と針（縮尺どおり）",
            "時計の断面図（縮尺どおり）",
        ]
        assert set("".join(re.findall(r"<text[^>]*>(.*?)</text>", look + section))) <= set("0123456789")
