"""What the shop says in each language, and which language a customer's papers have."""

import datetime as dt
import html

import pytest
from django.urls import reverse

from jobs.language.choices import CODES, settled, speaking
from jobs.language.formats import day, measured, month, number
from jobs.models import Customer, Job, Quote, Shop
from jobs.models.shop_texts import GREETING
from jobs.papers.making import paper_pdf
from jobs.quotes import versions
from jobs.quotes.composed import Composed, said_in
from jobs.shop.words import WORDS, in_language, words_in
from tests.factories import CustomerFactory, JobFactory
from tests.pages.jobs.test_shop import filled
from tests.reading import pdf_words

pytestmark = pytest.mark.django_db


def address(language):
    return reverse("jobs:shop-words", args=[language])


def test_a_text_that_the_shop_never_worded_comes_in_every_language():
    shop = Shop(language="de")
    greetings = {code: words_in(shop, "greeting", code) for code in CODES}
    assert greetings["en"] == GREETING
    assert greetings["de"].startswith("Vielen Dank")
    assert len(set(greetings.values())) == len(CODES)


def test_a_text_of_its_own_stands_where_a_language_has_none():
    shop = Shop(language="de", greeting="Grüß Gott.", words={"fr": {"greeting": "Bonjour."}, "de": {"greeting": "x"}})
    assert [words_in(shop, "greeting", code) for code in ("de", "fr", "ja")] == ["Grüß Gott.", "Bonjour.", "Grüß Gott."]
    shop.greeting = ""
    assert [words_in(shop, "greeting", code) for code in ("de", "fr", "ja")] == ["", "Bonjour.", ""]


def test_a_text_saved_as_it_stood_in_the_shops_language_still_counts_as_not_worded(owner_client):
    Shop.objects.create(name="Bench", language="de")
    page = owner_client.get(reverse("jobs:shop")).text
    german = words_in(Shop(language="de"), "quote_email", "de")
    assert german.splitlines()[0] in html.unescape(page)
    typed = filled(name="Bench", language="de", quote_email=german.replace("\n", "\r\n"))
    owner_client.post(reverse("jobs:shop"), typed)
    assert words_in(Shop.objects.get(), "quote_email", "fr").startswith("Bonjour {name},")


def test_words_are_typed_for_each_language_and_printed(owner_client):
    Shop.objects.create(name="Weir Lane", greeting="Mind <b> & {braces}")
    page = owner_client.get(address("de")).text
    assert "Left blank, your own text is printed, in English: Mind &lt;b&gt; &amp; {braces}" in page
    assert "Left blank, this is printed: Bitte halten Sie Ihre Uhr trocken" in page
    response = owner_client.post(address("de"), {"name": "Wehrgasse", "liability": "Wir haften. <i>"})
    assert response.url == address("de")
    assert Shop.objects.get().words == {"de": {"name": "Wehrgasse", "liability": "Wir haften. <i>"}}
    job = JobFactory(customer__language="de")
    words = pdf_words(paper_pdf(job=job, kind="receipt", address=""))
    assert "Wehrgasse" in words
    assert "Wir haften. <i>" in words
    job.customer.language = "fr"
    assert "Weir Lane" in pdf_words(paper_pdf(job=job, kind="receipt", address=""))


def test_another_own_language_swaps_the_words_and_loses_none(owner_client):
    Shop.objects.create(name="Bench", care="Keep dry.", words={"de": {"care": "Trocken halten.", "terms": "Frist."}})
    page = owner_client.get(reverse("jobs:shop")).context["form"]
    same = {name: page[name].value() for name in page.fields if isinstance(page[name].value(), str)}
    owner_client.post(reverse("jobs:shop"), filled(**(same | {"language": "de", "warranty": "Ein Jahr."})))
    shop = Shop.objects.get()
    assert (shop.language, shop.care, shop.terms, shop.warranty) == ("de", "Trocken halten.", "Frist.", "Ein Jahr.")
    assert shop.words["en"]["care"] == "Keep dry."
    assert words_in(shop, "care", "en") == "Keep dry."
    assert words_in(shop, "greeting", "de").startswith("Vielen Dank")
    owner_client.post(reverse("jobs:shop"), filled(**(same | {"language": "en", "care": "Trocken halten."})))
    shop.refresh_from_db()
    assert (shop.care, words_in(shop, "care", "de")) == ("Keep dry.", "Trocken halten.")


def test_words_that_cannot_be_are_refused_and_other_languages_not_found(owner_client):
    assert owner_client.post(address("de"), {"name": "x" * 121}).status_code == 422
    for language in ("en", "tlh"):
        assert owner_client.get(address(language)).status_code == 404
    assert not Shop.objects.exists()


def test_words_typed_in_two_windows_are_not_lost(owner_client):
    Shop.objects.create(name="Bench")
    stale = owner_client.get(address("de")).context["form"].stamp
    owner_client.post(address("de"), {"greeting": "Guten Tag."})
    response = owner_client.post(address("de"), {"greeting": "Servus.", "stamp": stale})
    assert response.status_code == 422
    assert "Saved now: Guten Tag." in response.text


def test_a_copy_that_speaks_changes_nothing_of_the_shop():
    shop = Shop.objects.create(name="Bench", words={"de": {"name": "Werkbank"}})
    assert in_language(shop, "de").name == "Werkbank"
    assert (shop.name, set(WORDS) <= {field.name for field in Shop._meta.fields}) == ("Bench", True)


def test_a_new_customer_takes_the_shops_language_and_keeps_it(owner_client):
    Shop.objects.create(language="fr")
    page = owner_client.get("/jobs/log/").text
    assert '<option value="fr" selected>French</option>' in page
    typed = {"customer": "Ottilie Reed", "phone": "555 0101", "wish": "Quartz", "luminous": "none"}
    owner_client.post("/jobs/log/", typed)
    owner_client.post("/jobs/log/", typed | {"customer": "Ben Alder", "phone": "555 0102", "language": "ja"})
    Shop.objects.update(language="es")
    assert list(Customer.objects.order_by("pk").values_list("language", flat=True)) == ["fr", "ja"]


def test_the_language_is_chosen_on_the_customers_form(owner_client):
    customer = CustomerFactory(language="de")
    url = reverse("jobs:customer-edit", args=[customer.pk])
    assert '<option value="de" selected>German</option>' in owner_client.get(url).text
    owner_client.post(url, {"name": "Ottilie Reed", "language": "es"})
    customer.refresh_from_db()
    assert customer.language == "es"
    owner_client.post(url, {"name": "Ottilie Reed"})
    customer.refresh_from_db()
    assert customer.language == "es"
    assert owner_client.post(url, {"name": "x", "language": "tlh"}).status_code == 422


def test_a_paper_can_be_asked_for_in_another_language(owner_client):
    job = JobFactory(customer__language="de")
    assert '<option value="de" selected>' in owner_client.get(job.get_absolute_url()).text.replace("\n", "")
    response = owner_client.post(reverse("jobs:paper", args=[job.number, "receipt"]), {"language": "es"})
    assert "Resguardo de depósito" in pdf_words(b"".join(owner_client.get(response.url).streaming_content))
    assert "Spanish" in owner_client.get(reverse("jobs:papers", args=[job.number])).text
    response = owner_client.post(reverse("jobs:paper", args=[job.number, "receipt"]))
    assert "Annahmeschein" in pdf_words(b"".join(owner_client.get(response.url).streaming_content))


def test_a_draft_is_written_in_the_customers_language(owner):
    job = JobFactory(customer__language="es")
    assert versions.empty_draft(job=job, by=owner).language == "es"
    assert Job.objects.get().customer.language == Quote.objects.get().language


@pytest.mark.parametrize(
    ("language", "long", "medium", "of_year"),
    [
        ("en", "3 March 2026", "3 Mar 2026", "March 2026"),
        ("de", "3. März 2026", "03.03.2026", "März 2026"),
        ("fr", "3 mars 2026", "3 mars 2026", "mars 2026"),
        ("es", "3 de marzo de 2026", "3 mar 2026", "marzo de 2026"),
        ("ja", "2026年3月3日", "2026/03/03", "2026年3月"),
    ],
)
def test_days_as_each_language_writes_them(language, long, medium, of_year):
    third = dt.date(2026, 3, 3)
    with speaking(language):
        assert (day(third), day(third, "medium"), month(third)) == (long, medium, of_year)


@pytest.mark.parametrize(
    ("language", "length", "months"),
    [
        ("en", "at least 1,234.50 mm", "8 months"),
        ("de", "mindestens 1.234,50 mm", "8 Monaten"),
        ("fr", "au moins 1 234,50 mm", "8 mois"),
        ("es", "al menos 1.234,50 mm", "8 meses"),
        ("ja", "1,234.50 mm以上", "8か月"),
    ],
)
def test_measured_values_as_each_language_writes_them(language, length, months):
    """French groups by a narrow blank."""
    with speaking(language):
        assert measured("at least 1234.50 mm").replace("\u202f", " ") == length
        assert measured("8 months") == months
        assert measured("a leaf-shaped hand") == "a leaf-shaped hand"
        assert number(-0.5, 2) in ("−0.50", "−0,50")


def test_what_somebody_typed_is_not_translated():
    words = Composed("The date will be tilted by {value} in its window.", {"value": "3.0°"})
    with speaking("de"):
        german = str(words)
    assert german == "Das Datum steht um 3,0° schräg in seinem Fenster."
    assert said_in("es", german, words.facts, "de") == "La fecha quedará inclinada 3,0° en su ventana."
    assert said_in("es", f"{german} Siehe Bild.", words.facts, "de") == f"{german} Siehe Bild."
    assert said_in("es", german, None, "de") == german


def test_the_first_language_that_we_know_holds():
    assert [settled("", "xx", "ja"), settled("de", "fr"), settled(), settled("EN")] == ["ja", "de", "en", "en"]
