"""Logging a watch: one page, a draft that is not lost, numbers that are given once."""

import io
import re
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from jobs.job.number import next_number
from jobs.models import Customer, Draft, Job
from parts.models import CaseFamily
from parts.tools.pictures import read_photo
from tests.factories import CaseFamilyFactory, CustomerFactory

LOG = "/jobs/log/"


def typed(**changes):
    return {"customer": "Ottilie Reed", "phone": "555 0101", "wish": "Quartz", "luminous": "none"} | changes


@pytest.mark.django_db
@pytest.mark.parametrize("field", ["customer", "family"])
def test_a_name_longer_than_any_pattern_of_a_database_is_an_error_on_its_field(hand, field):
    """SQLite looks for patterns of up to 50,000 bytes."""
    CaseFamilyFactory(), CustomerFactory()
    page = hand.post(LOG, typed(**{field: "x" * 100_000}))
    assert page.status_code == 422
    assert [*page.context["form"].errors] == [field]


def photo(name="a.jpg", size=(1600, 1200), form="JPEG", **save):
    out = io.BytesIO()
    Image.new("RGB", size, "#886644").save(out, form, **save)
    return SimpleUploadedFile(name, out.getvalue(), content_type="image/jpeg")


def test_a_new_customer_and_a_new_family_come_with_the_watch(owner_client, files):
    data = typed(
        family="Harrowgate 35", serial="1234", keep="dial", **{"found-crystal": "worn", "remark-crystal": "chip"}
    )
    response = owner_client.post(LOG, data | {"photos": [photo(), photo("b.png", form="PNG")]})
    job = Job.objects.get()
    assert response.url == reverse("jobs:logged", args=[job.number])
    assert re.fullmatch(r"\d\d-001", job.number)
    assert (job.customer.name, job.customer.phone, job.case_family.name) == (
        "Ottilie Reed",
        "555 0101",
        "Harrowgate 35",
    )
    assert [(line.subject, line.finding, line.remark) for line in job.conditions.all()] == [("crystal", "worn", "chip")]
    assert [stage.state for stage in job.stages.all()] == ["done"] + ["ahead"] * 7
    assert job.photos.count() == 2
    assert [event.kind for event in job.events.all()] == ["photo-added", "photo-added", "logged"]
    page = " ".join(owner_client.get(response.url).text.split())
    assert ("2 photos taken at intake." in page, "Take photos before" in page) == (True, False)
    assert f"Job {job.number} logged. Print the receipt and the tray label." in page


def test_a_known_customer_and_family_are_picked(owner_client):
    known, family = CustomerFactory(name="Ben Alder"), CaseFamilyFactory(name="Kelpmoor 38")
    offered = owner_client.get(reverse("jobs:likely", args=["customers"]), {"customer": "ald"}).text
    assert f"Ben Alder 555 0100 [{known.pk}]" in offered
    assert "Kelpmoor 38" in owner_client.get(reverse("jobs:likely", args=["families"]), {"family": "kelp"}).text
    owner_client.post(LOG, typed(customer=f"Ben Alder 555 0100 [{known.pk}]", phone="", family="kelpmoor 38"))
    job = Job.objects.get()
    assert (job.customer, job.case_family) == (known, family)
    assert (Customer.objects.count(), CaseFamily.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"wish": ""}, "wish", "Fill this in."),
        ({"luminous": ""}, "luminous", "Choose one."),
        ({"phone": ""}, "phone", "Enter the new customer's phone number, e-mail or address"),
        ({"customer": "Gone [99]"}, "customer", "No customer has the number 99"),
        ({"customer": "x" * 90}, "customer", "the limit is 80"),
        ({"promised": "2020-01-01"}, "promised", "1 Jan 2020 is in the past"),
        ({"diagnosis_fee": "-5"}, "diagnosis_fee", "-5 is below 0"),
        ({"email": "nobody"}, "email", "not an e-mail address"),
    ],
)
def test_what_is_refused_lands_on_its_field_and_nothing_is_lost(owner_client, changes, field, words):
    response = owner_client.post(LOG, typed(serial="kept 77", **changes))
    assert response.status_code == 422
    assert words in " ".join(response.context["form"].errors[field])
    assert "kept 77" in response.text
    assert Job.objects.count() == 0
    assert Draft.objects.get().data["serial"] == "kept 77"


def test_a_draft_survives_and_ends_with_the_saving(owner_client):
    owner_client.post(reverse("jobs:draft"), {"customer": "Half", "wish": "half typed", "stranger": "x"})
    page = owner_client.get(LOG)
    assert 'value="Half"' in page.text
    assert "half typed" in page.text
    assert Draft.objects.get().data == {"customer": "Half", "wish": "half typed"}
    owner_client.post(LOG, typed())
    assert Draft.objects.count() == 0


def test_a_draft_can_be_begun_again(owner_client):
    owner_client.post(reverse("jobs:draft"), {"customer": "Half"})
    owner_client.post(reverse("jobs:draft-drop"))
    assert owner_client.post(reverse("jobs:draft-drop")).status_code == 302
    assert "Half" not in owner_client.get(LOG).text


def test_the_receipt_is_offered_in_the_customers_language(owner_client):
    owner_client.post(LOG, typed(luminous="aged", promised=str(timezone.localdate() + timedelta(days=9))))
    job = Job.objects.get()
    text = owner_client.get(reverse("jobs:logged", args=[job.number])).text
    assert "Papers for Ottilie Reed" in text
    assert "may contain radium" in text
    assert "Intake receipt in English" in text
    Customer.objects.update(language="de")
    assert "Intake receipt in German" in owner_client.get(reverse("jobs:logged", args=[job.number])).text
    owner_client.post(reverse("jobs:paper", args=[job.number, "receipt"]))
    assert job.papers.get().language == "de"


def test_a_photo_is_turned_upright_scaled_and_stripped(owner_client, files):
    exif = Image.Exif()
    exif[0x0112], exif[0x010E] = 6, "a secret place"
    owner_client.post(LOG, typed() | {"photos": [photo(size=(4000, 1000), exif=exif)]})
    stored = Job.objects.get().photos.get()
    with Image.open(stored.file) as picture:
        assert picture.size == (600, 2400)
        assert not picture.getexif()
    with Image.open(stored.thumbnail) as picture:
        assert max(picture.size) == 240
    response = owner_client.get(reverse("jobs:photo", args=[stored.job.number, stored.pk]))
    assert response.headers["Content-Type"] == "image/jpeg"
    assert response.headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize("content", [b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"GIF89a" + b"\0" * 40, b""])
def test_a_batch_keeps_its_good_photos_and_names_the_bad(owner_client, files, content):
    bad = SimpleUploadedFile("x.jpg", content or b" ", "image/jpeg")
    response = owner_client.post(LOG, typed() | {"photos": [photo(), bad, photo("c.jpg")]}, follow=True)
    assert "Not saved: x.jpg is not a JPEG, PNG, WebP or HEIC photo" in response.text
    assert Job.objects.get().photos.count() == 2


@pytest.mark.parametrize("content", [b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"GIF89a" + b"\0" * 40, b""])
def test_what_is_no_photo_is_refused_and_nothing_is_stored(owner_client, files, content):
    response = owner_client.post(
        LOG, typed() | {"photos": [SimpleUploadedFile("x.jpg", content or b" ", "image/jpeg")]}
    )
    assert response.status_code == 422
    assert "x.jpg is not a JPEG, PNG, WebP or HEIC photo" in response.text
    assert Job.objects.count() == 0
    assert not [file for file in files.rglob("*") if file.is_file()]


@pytest.mark.django_db(transaction=True)
def test_numbers_are_given_once_under_concurrency():
    def take(_):
        try:
            return next_number(2026)
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as pool:
        numbers = list(pool.map(take, range(40)))
    assert sorted(numbers) == [f"26-{i:03d}" for i in range(1, 41)]


def test_a_known_name_typed_in_full_is_the_known_customer(owner_client):
    known = CustomerFactory(name="Ottilie Reed", phone="555 0101", email="")
    owner_client.post(LOG, typed(customer="ottilie reed", phone=""))
    owner_client.post(LOG, typed(customer="Ottilie Reed", phone="555 0101"))
    assert {job.customer for job in Job.objects.all()} == {known}
    owner_client.post(LOG, typed(customer="Ottilie Reed", phone="555 0999"))
    assert Customer.objects.filter(name="Ottilie Reed").count() == 2


def test_an_archived_customer_is_not_taken_for_a_new_one_of_the_same_name(owner_client):
    CustomerFactory(name="Ottilie Reed", phone="555 0101", archived=True)
    owner_client.post(LOG, typed(customer="Ottilie Reed", phone="555 0101"))
    assert [(job.customer.phone, job.customer.archived) for job in Job.objects.all()] == [("555 0101", False)]


def test_namesakes_are_told_apart_before_a_watch_is_logged(owner_client):
    first, second = CustomerFactory.create_batch(2, name="Ben Alder")
    response = owner_client.post(LOG, typed(customer="Ben Alder", phone=""))
    assert response.status_code == 422
    told = response.context["form"].errors["customer"][0]
    assert f"[{first.pk}]" in told
    assert f"[{second.pk}]" in told
    assert Job.objects.count() == 0


def test_the_page_says_whom_and_which_family_is_meant(owner_client):
    CustomerFactory(name="Ben Alder", phone="555 0117")
    CaseFamilyFactory(name="Kelpmoor 38")
    likely = {what: reverse("jobs:likely", args=[what]) for what in ("customers", "families")}
    assert (
        "Known: Ben Alder, 555 0117, 0 jobs so far."
        in owner_client.get(likely["customers"], {"customer": "ben alder"}).text
    )
    assert (
        "A new customer; one of phone, e-mail or address is needed:"
        in owner_client.get(likely["customers"], {"customer": "Ben"}).text
    )
    assert "New case family" in owner_client.get(likely["families"], {"family": "Kelpmor 38"}).text
    assert "new case family" not in owner_client.get(likely["families"], {"family": "kelpmoor 38"}).text


def test_what_was_half_typed_for_a_new_customer_does_not_hold_a_known_one(owner_client):
    known = CustomerFactory(name="Ben Alder")
    owner_client.post(LOG, typed(customer=f"Ben Alder [{known.pk}]", email="nobody"))
    assert Job.objects.get().customer == known


def test_the_first_wrong_field_has_the_focus(owner_client):
    text = owner_client.post(LOG, typed(wish="")).text
    assert text.count("autofocus") == 1
    assert "autofocus" in text[text.index('name="wish"') : text.index("</textarea>", text.index('name="wish"'))]


def test_the_fee_is_typed_with_a_comma_and_told_with_its_currency(owner_client):
    assert "in EUR" in owner_client.get(LOG).text
    owner_client.post(LOG, typed(diagnosis_fee="25,50"))
    job = Job.objects.get()
    assert "€25.50" in owner_client.get(reverse("jobs:logged", args=[job.number])).text


def test_the_value_that_the_customer_declares_is_typed_and_shown(owner_client):
    owner_client.post(LOG, typed(declared_value="1200,50"))
    job = Job.objects.get()
    assert str(job.declared_value) == "1200.50"
    assert "€1,200.50" in owner_client.get(job.get_absolute_url()).text
    response = owner_client.post(LOG, typed(declared_value="-1"))
    assert "-1 is below 0. Enter what the customer says" in response.context["form"].errors["declared_value"][0]


def test_too_many_photos_are_refused_not_dropped(owner_client, files):
    response = owner_client.post(LOG, typed() | {"photos": [photo(size=(8, 8)) for _ in range(41)]})
    assert "41 photos are too many at once; choose up to 40" in response.text
    assert 'aria-describedby="photos-error"' in response.text
    assert Job.objects.count() == 0


def test_a_large_picture_is_made_smaller_as_it_is_read():
    assert max(read_photo(photo(size=(6000, 4000))).size) == 2400


def test_a_watch_is_logged_for_the_customer_that_the_page_comes_from(owner_client):
    ben = CustomerFactory(name="Ben Alder", phone="555 0117")
    page = owner_client.get(LOG, {"customer": ben.pk}).text
    assert f'value="Ben Alder 555 0117 [{ben.pk}]"' in page
    assert "known-customer" in page
    for nobody in ("0", "99", "x", "9" * 40):
        assert owner_client.get(LOG, {"customer": nobody}).status_code == 200


def test_what_is_needed_is_marked(owner_client):
    page = owner_client.get(LOG).text
    marked = re.findall(r'<label for="id_(\w+)">[^<]*</label>\s*<small class="needed"', page)
    assert marked == ["customer", "luminous", "wish"]


def test_a_watch_without_a_family_is_told_once(owner_client):
    owner_client.post(LOG, typed(watch="Gilt cocktail watch"))
    page = owner_client.get(reverse("jobs:logged", args=[Job.objects.get().number])).text
    told = page.partition("Received on")[2].partition("</p>")[0]
    assert told.count("Gilt cocktail watch") == 1
