"""Every form of the workshop as a browser would find it: by following links from page to page."""

from collections import Counter, deque
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

from django.urls import Resolver404, resolve

PAGES_OF_A_KIND = 8
"""Pages that are looked at of one kind, such as of the jobs, or of the dial stages of jobs."""


@dataclass
class Form:
    """One form: the page it stands on, where it goes, and what its fields hold, files by name."""

    page: str
    action: str
    method: str
    data: list = field(default_factory=list)
    files: list = field(default_factory=list)

    @property
    def name(self):
        return name_of(self.action)


class _Reader(HTMLParser):
    def __init__(self, page):
        super().__init__()
        self.page, self.links, self.forms, self.open, self.select, self.text = page, [], [], None, None, None

    def handle_starttag(self, tag, attributes):
        had = {name: value or "" for name, value in attributes}
        if tag == "a" and had.get("href"):
            self.links.append(urljoin(self.page, had["href"]))
        for told in ("hx-get", "hx-post"):
            if told in had:
                self.forms.append(Form(self.page, urljoin(self.page, had[told]), told[3:]))
        if tag == "form":
            action = urljoin(self.page, had.get("action") or self.page)
            self.open = Form(self.page, action, had.get("method", "get").lower())
            self.forms.append(self.open)
        elif self.open is not None:
            self._field(tag, had)

    def _field(self, tag, had):
        name = had.get("name")
        if tag == "option" and self.select and ("selected" in had or not self.select[1]):
            self.select[1].append(had.get("value", ""))
        elif not name or name == "csrfmiddlewaretoken":
            return
        elif tag == "select":
            self.select = (name, [])
        elif tag == "textarea":
            self.text = [name, ""]
        elif had.get("type") == "file":
            self.open.files.append(name)
        elif tag == "button" or had.get("type") not in ("checkbox", "radio") or "checked" in had:
            self.open.data.append((name, had.get("value", "on" if had.get("type") == "checkbox" else "")))

    def handle_data(self, data):
        if self.text:
            self.text[1] += data

    def handle_endtag(self, tag):
        if tag == "form":
            self.open = None
        elif tag == "textarea" and self.text:
            self.open.data.append(tuple(self.text))
            self.text = None
        elif tag == "select" and self.select:
            self.open.data += [(self.select[0], value) for value in self.select[1][-1:]]
            self.select = None


def name_of(url):
    """The name of an address in the map; "" where it has none. The admin pages count as one."""
    try:
        found = resolve(urlsplit(url).path)
    except Resolver404:
        return ""
    return "admin:index" if found.app_name == "admin" else found.view_name


def _kind_of(url):
    """What tells pages of one kind: their name, and the words but not the numbers in their address."""
    given = resolve(urlsplit(url).path).kwargs
    return name_of(url), str(given.get("kind", "")), given.get("what", "")


def find_forms(client, start="/"):
    """(forms, addresses of the pages looked at, those that answered 500 or worse)."""
    from parts.models import CsvFile

    seen, forms, wrong, visits = set(), {}, [], Counter()
    waits = [f"/parts/{file.kind}/import/{file.pk}/" for file in CsvFile.objects.all()]
    waiting = deque([start, "/admin/", "/people/", "/shop/", "/account/", *waits])
    while waiting:
        url = waiting.popleft()
        name, key = name_of(url), url.partition("#")[0]
        if not name or key in seen:
            continue
        kind = _kind_of(key)
        if visits[kind] >= (25 if name == "admin:index" else PAGES_OF_A_KIND):
            continue
        seen.add(key)
        visits[kind] += 1
        answer = client.get(key)
        if answer.status_code >= 500:
            wrong.append(f"GET {key} answered {answer.status_code}")
        if not answer.get("Content-Type", "").startswith("text/html") or answer.status_code >= 400:
            continue
        reader = _Reader(key)
        reader.feed(answer.content.decode())
        waiting.extend(link for link in reader.links if urlsplit(link).netloc in ("", "testserver"))
        for form in reader.forms:
            forms.setdefault((form.name, form.method, tuple(sorted({name for name, _ in form.data}))), form)
    return [form for form in forms.values() if form.name], seen, wrong
