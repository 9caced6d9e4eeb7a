"""Finds what keeps people from using a page, at the width of a desk and at that of a tablet."""

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import expect

DESK, TABLET, TELEPHONE = (1280, 800), (820, 1180), (390, 844)


def assert_no_serious_faults(page, *, widths=None):
    """Fail with the places named when axe-core finds a serious or critical fault on the page at any of the widths.

    Without any: the width that the page has, and a desk's and a tablet's where they are narrower.
    """
    for _ in at_widths(page, widths):
        _assert_no_faults(page)


def assert_whole(page, *, widths=None):
    """As `assert_no_serious_faults`; nothing is cut off either, and every button is large enough for a finger."""
    for width in at_widths(page, widths):
        _assert_no_faults(page)
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), (page.url, width)
        heights = page.get_by_role("button").evaluate_all(
            "all => all.filter(e => e.checkVisibility()).map(e => [e.innerText, e.getBoundingClientRect().height])"
        )
        small = [text for text, height in heights if height < 44]
        assert not small, (page.url, width, small)


def at_widths(page, widths):
    """The page's windows of these sizes in turn, narrowing from the size it has; it has that again afterwards."""
    own = page.viewport_size
    narrower = [size for size in (DESK, TABLET) if size[0] < own["width"]]
    for size in widths or [(own["width"], own["height"]), *narrower]:
        page.set_viewport_size({"width": size[0], "height": size[1]})
        yield size
    page.set_viewport_size(own)


FAULTS = """() => {
    const serious = ['serious', 'critical']
    const passedOver = axe._audit.rules.filter(rule => rule.impact && !serious.includes(rule.impact))
    const rules = Object.fromEntries(passedOver.map(rule => [rule.id, {enabled: false}]))
    return axe.run({resultTypes: ['violations'], rules}).then(results => results.violations
        .filter(rule => serious.includes(rule.impact))
        .flatMap(rule => rule.nodes.map(node => `${rule.id}: ${rule.help}: ${node.html}`)))
}"""
"""Rules of which no fault can be serious, since axe-core gives a fault the impact of its rule, are not run."""


def _assert_no_faults(page):
    """What waits for its answer is paler meanwhile: it is looked at when the answer is there."""
    expect(page.locator(".htmx-request")).to_have_count(0)
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    faults = page.evaluate(FAULTS)
    assert not faults, "\n".join((f"at {page.viewport_size['width']} px:", *faults))
