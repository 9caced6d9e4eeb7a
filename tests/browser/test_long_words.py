"""Words of 300 letters without a gap, wherever people write: no page goes sideways, on a telephone or at a desk."""

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import models
from django.test import Client

from jobs.models import Quote
from jobs.options import choosing
from jobs.quotes import versions
from tests.browser.faults import DESK, TABLET, TELEPHONE, at_widths
from tests.browser.test_every_page import pages
from tests.conftest import signed_in

LONG = "Wasserdichtigkeitspruefung" * 12
OF_PROGRAMS = {"draft_key", "key", "currency", "path", "kind", "made_for", "number", "stage", "file", "thumbnail"}
"""Text fields whose words no person writes."""
WIDTHS = (DESK, TABLET, TELEPHONE)


@pytest.fixture
def long_words(live_server, settings, files, owner):
    """The demo, with every name, title, remark and caption as long as its field takes."""
    settings.DIALSIDE_DEMO = True
    call_command("loaddemo", verbosity=0)
    settings.DIALSIDE_DEMO = False
    for model in [*apps.get_app_config("jobs").get_models(), *apps.get_app_config("parts").get_models()]:
        lengthen(model)
    draft_a_quote(owner)


def lengthen(model):
    """Give each row's text fields a word that fills them, told apart by the row's number where they must differ."""
    fields = [field for field in model._meta.concrete_fields if is_written(field)]
    for row in model._base_manager.all() if fields else ():
        for field in fields:
            if getattr(row, field.name):
                length = min(field.max_length or 300, 300)
                setattr(row, field.name, f"{LONG[: length - 6]}{row.pk:06}")
        row.save(update_fields=[field.name for field in fields])


def is_written(field):
    """Whether a field holds words that a person writes."""
    if not isinstance(field, models.CharField | models.TextField) or isinstance(field, models.FileField):
        return False
    return not (field.choices or field.primary_key) and field.editable and field.name not in OF_PROGRAMS


def draft_a_quote(owner):
    """A draft beside the demo's sent quotes."""
    quote = Quote.objects.first()
    versions.propose(job=quote.job, options=[choosing.chosen_option(quote.job)], by=owner)


def sideways(page, addresses):
    """The pages that scroll sideways, with what stands out furthest."""
    for address in addresses:
        page.goto(address)
        for width in at_widths(page, WIDTHS):
            reach = page.evaluate("document.documentElement.scrollWidth")
            if reach > width[0]:
                yield f"{address} is {reach} px wide at {width[0]} px: {page.evaluate(FURTHEST)}"


FURTHEST = """() => [...document.querySelectorAll("main *")].filter(one => one.checkVisibility())
    .filter(one => !one.children.length && one.getBoundingClientRect().right > innerWidth + 1)
    .map(one => `${one.tagName} ${one.className} in ${one.parentElement.tagName} ${one.parentElement.className}`)
    .slice(0, 3)"""


def test_no_page_goes_sideways_for_a_long_word(page, long_words, owner):
    addresses = pages(signed_in(Client(), owner))
    assert len(addresses) > 80
    faults = list(sideways(page, addresses))
    assert not faults, "\n".join(faults)
