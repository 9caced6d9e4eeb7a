"""The shop page and its bench rules."""

import os
import re
import time
from datetime import timedelta

import pytest
from django.contrib.auth import get_user_model
from django.urls import reverse
from django.utils import timezone

from jobs.models import Shop
from parts.models import Pairing
from parts.pairings.answer import answer
from parts.pairings.worksheet import rule_words
from parts.rules.shop import shop_rules
from tests.factories import JobFactory, PairingFactory
from tests.reading import pdf_pages

pytestmark = pytest.mark.django_db


def filled(**changes):
    known = {
        "currency": "EUR",
        "hourly_rate": "60",
        "mark_up": "30",
        "tax_rate": "0",
        "deposit": "0",
        "valid_days": "30",
        "invoice_start": "1",
        "payment_days": "14",
        "warranty_months": "12",
        "tap_s": "0.2",
        "wrist_c": "30",
        "paper": "A4",
        "label": "90x40",
        "button_cell": "Keep cells away from children.",
        "water": "Not tested.",
    }
    return known | changes


def test_the_shop_is_saved_once_and_changed(owner_client):
    owner_client.post(reverse("jobs:shop"), filled(name="Bench at the Mill", currency="gbp"))
    owner_client.post(reverse("jobs:shop"), filled(name="Mill Bench"))
    shop = Shop.objects.get()
    assert (shop.name, shop.currency) == ("Mill Bench", "EUR")


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("currency", "XQZ", "is not a currency code"),
        ("tax_rate", "120", "120\xa0% is out of range: it must be between 0 and 100\xa0%."),
        ("hourly_rate", "-1", "Too small: it must be 0 or more."),
        ("valid_days", "99999999", "Too large: it must be 3650 or less."),
        ("button_cell", "", "Fill this in."),
    ],
)
def test_what_cannot_be_is_refused_on_its_field(owner_client, field, value, words):
    response = owner_client.post(reverse("jobs:shop"), filled(**{field: value}))
    assert response.status_code == 422
    assert words in " ".join(response.context["form"].errors[field])


def test_the_texts_are_previewed_without_being_saved(owner_client):
    assert "Log a watch first" in owner_client.post(reverse("jobs:shop"), filled(do="preview"), follow=True).text
    JobFactory()
    response = owner_client.post(reverse("jobs:shop"), filled(do="preview", care="Wind it gently."))
    assert "Wind it gently." in pdf_pages(response.content)[0]
    assert Shop.objects.count() == 0


def test_a_rule_of_the_shop_changes_reports_and_an_empty_field_resets_it(owner_client):
    pairing = PairingFactory(case__back_depth=4.05)
    url = reverse("jobs:rules")
    assert answer(pairing).report["back-gap"].verdict == "fits"
    owner_client.post(url, {"back_gap_min": "0.20"})
    assert shop_rules() == {"back_gap_min": 0.2}
    assert answer(Pairing.objects.get()).report["back-gap"].verdict == "work"
    owner_client.post(url, {"back_gap_min": ""})
    assert shop_rules() == {}
    owner_client.post(url, {"back_gap_min": "0.10"})
    assert shop_rules() == {}


def test_a_rule_goes_back_to_its_default_and_what_else_was_typed_is_saved(owner_client):
    url = reverse("jobs:rules")
    owner_client.post(url, {"back_gap_min": "0.20", "wall_min": "1.20"})
    page = owner_client.get(url).text
    assert page.count("Your own.") == 2
    assert 'aria-label="Thinnest printed wall: back to 0.80 mm"' in page
    answer = owner_client.post(
        url, {"back_gap_min": "0.25", "wall_min": "1.20", "default": "wall_min"}, follow=True
    ).text
    assert "“Thinnest printed wall” is back to its default." in answer
    assert shop_rules() == {"back_gap_min": 0.25}


def test_rules_that_contradict_each_other_are_refused(owner_client):
    response = owner_client.post(reverse("jobs:rules"), {"gap_min": "0.01"})
    assert response.status_code == 422
    assert "at least “Hands touch below”, 0.05" in response.text
    assert shop_rules() == {}


def open_groups(text):
    return re.findall(r'id="rules-(\w+)" open', text)


def test_groups_of_rules_are_folded_but_for_what_is_linked_or_looked_for(owner_client):
    url = reverse("jobs:rules")
    assert open_groups(owner_client.get(url).text) == []
    assert open_groups(owner_client.get(url, {"rule": "gap_min"}).text) == ["gaps"]
    sought = owner_client.get(url, {"q": "Tube STEM"}).text
    assert open_groups(sought) == ["height", "stem"]
    assert sought.count("data-sought") == 3
    assert "No bench rule found for “zzz”." in owner_client.get(url, {"q": "zzz"}).text


def test_a_wrong_rule_has_its_group_open_keeps_what_was_typed_and_has_the_focus(owner_client):
    text = owner_client.post(reverse("jobs:rules"), {"wall_min": "0.8.0", "gap_min": "0,2"}).text
    assert open_groups(text) == ["ring"]
    assert "“0.8.0” is not a number. Type it like 1.5 or 1,5, in mm." in text
    assert text.count("autofocus") == 1
    field = text[text.index('name="wall_min"') :].partition(">")[0]
    assert 'value="0.8.0"' in field
    assert "autofocus" in field
    assert shop_rules() == {}


def test_a_rule_is_typed_with_a_comma(owner_client):
    owner_client.post(reverse("jobs:rules"), {"gap_min": "0,3"})
    assert shop_rules() == {"gap_min": 0.3}


def test_the_two_rules_of_stem_and_tube_are_told_apart():
    assert rule_words("tube_play_min") == "Play left beside a stem off axis"
    assert rule_words("stem_tube_min") == "Tube wider than its stem by"


def test_every_rule_stands_there_with_its_default_and_reason(owner_client):
    text = owner_client.get(reverse("jobs:rules")).text
    assert "thinnest wall that prints well" in text
    assert "default 0.80 mm" in text
    assert "default 12°" in text
    assert "default 0.02 (2\u00a0%)" in text
    assert text.count('<span class="unit">mm</span>') > 30


def test_the_page_tells_how_old_the_last_backup_is(owner_client, settings, tmp_path):
    settings.DIALSIDE_FOLDER = tmp_path
    page = owner_client.get(reverse("jobs:shop")).text
    assert ("No backup yet" in page, 'class="notice notice-warning"' in page) == (True, False)
    get_user_model().objects.update(date_joined=timezone.now() - timedelta(days=3))
    assert 'class="notice notice-warning"' in owner_client.get(reverse("jobs:shop")).text
    (tmp_path / "backups").mkdir()
    last = tmp_path / "backups" / "dialside-20261101-120000.zip"
    last.touch()
    assert "The last backup is 0 hours old." in owner_client.get(reverse("jobs:shop")).text
    os.utime(last, (0, time.time() - 5 * 86_400))
    assert "The last backup is 120 hours old. Make one" in owner_client.get(reverse("jobs:shop")).text


def test_the_logo_can_be_dropped(owner_client):
    assert "Remove the logo" not in owner_client.get(reverse("jobs:shop")).text
    Shop.objects.create(logo="shop/logo.jpg")
    assert "Remove the logo" in owner_client.get(reverse("jobs:shop")).text
    owner_client.post(reverse("jobs:shop"), filled(drop_logo="on"))
    assert not Shop.objects.get().logo


def test_papers_that_would_not_say_who_they_are_from_say_so_before_they_are_made(owner_client):
    job, words = JobFactory(), "Your papers do not say yet who they are from."
    pages = [job.get_absolute_url(), reverse("jobs:logged", args=[job.number])]
    assert [words in owner_client.get(page).text for page in pages] == [True, True]
    Shop.objects.create(name="Weir Lane")
    assert [words in owner_client.get(page).text for page in pages] == [False, False]
