"""Every page that the demo's own links lead to, each kind once: whole on a telephone, and one thing leads.

All words that people wrote are as long as their fields take, without a gap.
"""

import html
import re
from urllib.parse import urlsplit

import pytest
from django.core.management import call_command
from django.test import Client
from django.urls import resolve

from tests.browser.faults import DESK, TABLET, TELEPHONE, at_widths
from tests.browser.long_words import fill_with_long_words
from tests.conftest import signed_in

SCROLLERS = """() => [...document.querySelectorAll("main *")]
    .filter(one => one.checkVisibility() && one.scrollWidth > one.clientWidth + 1)
    .filter(one => ["auto", "scroll"].includes(getComputedStyle(one).overflowX))
    .map(one => one.outerHTML.slice(0, 120))"""
HIDDEN = """() => [...document.querySelectorAll("main table")]
    .filter(one => !one.closest("details:not([open]), [hidden]") && !one.checkVisibility()).map(one => one.className)"""
FURTHEST = """() => [...document.querySelectorAll("main *")].filter(one => one.checkVisibility())
    .filter(one => !one.children.length && one.getBoundingClientRect().right > innerWidth + 1)
    .map(one => `${one.tagName} ${one.className} in ${one.parentElement.tagName} ${one.parentElement.className}`)
    .slice(0, 3)"""
MENUS = """() => [...document.querySelectorAll("main .page-menu")].filter(one => one.checkVisibility()).filter(one => {
    one.open = true
    const {left, right} = one.querySelector("div").getBoundingClientRect()
    one.open = false
    return left < 0 || right > innerWidth
}).map(one => one.innerText)"""
SMALL = """() => [...document.querySelectorAll("main svg text")]
    .filter(one => one.checkVisibility() && one.textContent.trim() && !one.closest("[aria-hidden=true]")).map(one => {
        const {a, b} = one.getScreenCTM()
        return [Math.hypot(a, b) * parseFloat(getComputedStyle(one).fontSize), one.textContent.trim()]
    }).filter(([size]) => size < 10).map(([size, words]) => `"${words}" at ${size.toFixed(1)} px`).slice(0, 3)"""
LEADING = """() => [...document.querySelectorAll("main .primary")].filter(one => one.checkVisibility())
    .map(one => one.innerText)"""


@pytest.fixture
def demo(live_server, settings, files, owner):
    """The demo workshop with endless words."""
    settings.DIALSIDE_DEMO = True
    call_command("loaddemo", verbosity=0)
    settings.DIALSIDE_DEMO = False
    fill_with_long_words(owner)


def pages(client):
    """One address of each view, part kind and stage that links lead to from the bench, with and without a query.

    A view that answered with a paper, a picture or a table to keep is not asked again.
    """
    addresses, others, todo, asked = {}, set(), ["/", "/nowhere/"], set()
    while todo:
        address = todo.pop(0)
        where = urlsplit(address)
        match = resolve(where.path) if where.path != "/nowhere/" else None
        key = match and (match.view_name, str(match.kwargs.get("kind", "")), bool(where.query))
        if address in asked or key in addresses or key in others or where.path.startswith("/admin/"):
            continue
        asked.add(address)
        response = client.get(address)
        if response.status_code == 302:
            todo.insert(0, response.url)
        elif not response["Content-Type"].startswith("text/html"):
            others.add(key)
        elif response.status_code in (200, 404):
            addresses[key] = address
            links = re.findall(r'<a [^>]*href="(/[^"#]*|\?[^"#]*)', response.text)
            todo += [html.unescape(where.path + link if link[0] == "?" else link) for link in links]
    return list(addresses.values())


def faults_of(page, addresses):
    """What is wrong with the pages at these addresses, in sentences."""
    for address in addresses:
        page.goto(address)
        for width in at_widths(page, (DESK, TABLET, TELEPHONE)):
            if page.evaluate("document.documentElement.scrollWidth > window.innerWidth"):
                yield f"{address} goes sideways at {width[0]} px: {page.evaluate(FURTHEST)}"
            if len(leading := page.evaluate(LEADING)) > 1:
                yield f"{address} has more than one primary button: {leading}"
            yield from (f"{address} hides a table at {width[0]} px: {one}" for one in page.evaluate(HIDDEN))
            if width == TELEPHONE:
                yield from (f"{address} has letters too small to read: {one}" for one in page.evaluate(SMALL))
                yield from (f"{address} has a scroller: {one}" for one in page.evaluate(SCROLLERS))
                yield from (f"{address} opens a menu beyond the edge: {one}" for one in page.evaluate(MENUS))


@pytest.mark.long
def test_no_page_of_the_demo_goes_sideways_for_a_long_word_and_one_thing_leads(page, demo, owner):
    addresses = pages(signed_in(Client(), owner))
    assert len(addresses) > 80
    faults = list(faults_of(page, addresses))
    assert not faults, "\n".join(faults)


def test_no_page_of_an_empty_workshop_does(page, owner):
    addresses = pages(signed_in(Client(), owner))
    assert len(addresses) > 30
    faults = list(faults_of(page, addresses))
    assert not faults, "\n".join(faults)
