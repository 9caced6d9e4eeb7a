"""The pages of the show window: choosing, wording, checking, writing, taking away."""

import io
import re
import zipfile

import pytest
from django.urls import reverse

from jobs.models import HolderPrice, Photo, Shop, Window, WindowEntry, WindowHolder
from jobs.window.publishing import folder
from parts.models import CaseFamily
from tests.breaking import break_each_write
from tests.factories import CustomerFactory, JobFactory
from tests.jobs.window.conftest import finished, shop, shown  # noqa: F401 - fixtures
from tests.reading import as_read


@pytest.fixture
def job(finished):  # noqa: F811
    return finished(case_family__name="Tollgate 40", watch="blue dial")


def typed(job, **changes):
    roles = {f"role-{photo.pk}": role for photo, role in zip(job.photos.all(), ("before", "after"), strict=True)}
    return {"title": "Date at 4", "takes": "New hands", "price_from": "470", "days": "10"} | roles | changes


def send(client, job, **changes):
    return client.post(reverse("jobs:window-entry", args=[job.number]), typed(job, **changes))


def test_an_empty_window_says_where_to_begin(owner_client, shop):  # noqa: F811
    begun = as_read(owner_client.get("/window/").text)
    assert "Once a job is finished, you can choose it here." in begun
    assert 'class="button primary"' not in begun, "there is nothing to write yet"
    page = as_read(owner_client.get("/window/write/").text)
    assert "Nothing is in the window. Choose a past swap first." in page
    assert "Write the site" not in page
    assert owner_client.get("/window/show-window.zip").status_code == 404
    assert owner_client.get("/window/site/").status_code == 404
    assert not WindowEntry.objects.exists()


def test_a_past_swap_is_chosen_with_what_its_job_proposes(owner_client, job):
    assert f"{job.number} Tollgate 40" in as_read(owner_client.get("/window/").text)
    page = owner_client.get(reverse("jobs:window-entry", args=[job.number])).text
    assert 'value="Tollgate 40: Quartz movement without date"' in page
    assert "New hands\n" in page
    assert page.count("selected>before the work") == page.count("selected>after the work") == 1
    assert not WindowEntry.objects.exists()
    assert send(owner_client, job).status_code == 302
    entry = WindowEntry.objects.get()
    assert (entry.title, entry.price_from, entry.shown, entry.photos.count()) == ("Date at 4", 470, True, 2)
    assert "Date at 4" in owner_client.get("/window/").text


def test_an_open_job_cannot_be_shown(owner_client, shop):  # noqa: F811
    job = JobFactory()
    page = owner_client.get(reverse("jobs:window-entry", args=[job.number]), follow=True)
    assert "Only a finished job can be shown." in page.text


def test_bad_input_lands_on_its_field_and_nothing_typed_is_lost(owner_client, job):
    page = send(owner_client, job, title="", price_from="much", days="0", story="It runs.")
    assert page.status_code == 422
    assert "“much” is not an amount." in page.text
    assert "Too small: it must be 1 or more." in page.text
    assert "It runs." in page.text
    assert not WindowEntry.objects.exists()


def test_an_archived_or_signed_photo_is_not_offered(owner_client, job):
    first, second = job.photos.all()
    Photo.objects.filter(pk=first.pk).update(archived=True)
    Photo.objects.filter(pk=second.pk).update(kind=Photo.Kind.SIGNED)
    page = owner_client.get(reverse("jobs:window-entry", args=[job.number])).text
    assert "The job has no photos." in page
    assert f"role-{first.pk}" not in page


def test_an_entry_is_saved_whole_or_not_at_all(owner_client, job, monkeypatch):
    assert break_each_write(lambda: send(owner_client, job), monkeypatch) > 5
    assert WindowEntry.objects.get().photos.count() == 2


def test_the_second_window_is_refused_once(owner_client, shown):  # noqa: F811
    entry = shown("Date at 4")
    page = owner_client.get(reverse("jobs:window-entry", args=[entry.job.number]))
    stamp = page.context["form"].stamp
    assert send(owner_client, entry.job, title="Mine", stamp=stamp).status_code == 302
    late = send(owner_client, entry.job, title="Theirs", stamp=stamp)
    assert late.status_code == 422
    assert "Saved now: Mine" in late.text
    assert WindowEntry.objects.get().title == "Mine"


def test_words_in_other_languages_are_kept_when_the_language_is_not_asked_for(owner_client, shown):  # noqa: F811
    entry = shown("Date at 4")
    window = Window.objects.create(languages=["de"])
    send(owner_client, entry.job, **{"title-de": "Datum bei 4"})
    window.languages = ["fr"]
    window.save()
    send(owner_client, entry.job, **{"title-fr": "Date à 4 h"})
    assert WindowEntry.objects.get().words == {"de": {"title": "Datum bei 4"}, "fr": {"title": "Date à 4 h"}}


def test_what_is_said_of_the_shop(owner_client, shop):  # noqa: F811
    page = owner_client.get("/window/about/")
    assert "Your watch keeps its face, and gets a new movement." in page.text
    assert "Ihre Uhr behält ihr Gesicht" in page.text
    wrong = owner_client.post("/window/about/", {"address": "ftp://shop.example/"})
    assert wrong.status_code == 422
    sent = {"address": "shop.example/watches", "languages_shown": ["de", "ja"], "tagline": "A", "tagline-de": "B"}
    assert owner_client.post("/window/about/", sent).status_code == 302
    window = Window.objects.get()
    assert (window.address, window.languages) == ("https://shop.example/watches", ["de", "ja"])
    assert (window.tagline, window.words["de"]) == ("A", {"tagline": "B"})


def test_the_site_is_seen_written_and_downloaded(owner_client, shown):  # noqa: F811
    entry = shown("Date at 4")
    path = f"pieces/{entry.code.lower()}.html"
    seen = owner_client.get(reverse("jobs:window-preview", args=[path]))
    photo = re.search(r'src="../(photos/[^"]+)"', seen.text)[1]
    assert owner_client.get(reverse("jobs:window-preview", args=[photo]))["Content-Type"] == "image/jpeg"
    assert not folder().exists()
    assert "Ready to write" in owner_client.get("/window/write/").text
    assert "files written." in owner_client.post("/window/write/", follow=True).text
    assert (folder() / path).read_bytes() == seen.content
    assert "Up to date" in owner_client.get("/window/write/").text
    assert "Nothing has changed" in owner_client.post("/window/write/", follow=True).text
    answer = owner_client.get("/window/show-window.zip")
    packed = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))
    assert packed.read(path) == seen.content
    for name, kind in (("", "text/html"), ("assets/site.css", "text/css"), ("assets/search.js", "text/javascript")):
        address = reverse("jobs:window-preview", args=[name]) if name else "/window/site/"
        assert owner_client.get(address)["Content-Type"].startswith(kind)
    assert owner_client.get("/window/site/../secret-key").status_code == 404


def test_a_name_stops_the_writing_and_a_word_is_cleared(owner_client, shown):  # noqa: F811
    CustomerFactory(name="Orla Marsh")
    entry = shown("A watch from the Marsh")
    page = as_read(owner_client.get("/window/write/").text)
    assert "Something personal stands in it" in page
    assert "“<b>Marsh</b>” is part of a customer&#x27;s name." in page
    assert "Nothing was written" in owner_client.post("/window/write/", follow=True).text
    assert not folder().exists()
    cleared = {"entry": entry.code, "key": "marsh"}
    owner_client.post("/window/clear/", cleared)
    page = as_read(owner_client.get("/window/write/").text)
    assert "Ready to write" in page
    assert "Cleared: 1" in page
    owner_client.post("/window/clear/", cleared | {"do": "undo"})
    assert "Something personal stands in it" in owner_client.get("/window/write/").text


def test_taking_out_has_a_way_back(owner_client, shown):  # noqa: F811
    entry = shown("Date at 4")
    state = reverse("jobs:window-entry-state", args=[entry.job.number])
    assert "is taken out of the window" in owner_client.post(state, {"do": "out"}, follow=True).text
    assert not WindowEntry.objects.get().shown
    assert "is in the window" in owner_client.post(state, {"do": "show"}, follow=True).text
    assert "Put in the show window" in owner_client.get(reverse("jobs:history", args=[entry.job.number])).text


def test_a_word_of_the_site_itself_is_cleared_before_anything_was_said_of_the_shop(owner_client, shown):  # noqa: F811
    CustomerFactory(name="Orla Marsh")
    shown("Date at 4")
    Shop.objects.update(name="The Marsh Watchmaker and Son")
    assert "the file index.html" in owner_client.get("/window/write/").text
    owner_client.post("/window/clear/", {"entry": "", "key": "marsh"})
    assert Window.objects.get().cleared == ["marsh"]
    assert "Ready to write" in owner_client.get("/window/write/").text


def test_what_was_archived_since_is_not_shown_and_not_lost(owner_client, shown):  # noqa: F811
    entry = shown("Date at 4")
    first, second = entry.job.photos.all()
    Photo.objects.filter(pk=first.pk).update(archived=True)
    CaseFamily.objects.update(archived=True)
    page = owner_client.get(reverse("jobs:window-preview", args=[f"pieces/{entry.code.lower()}.html"])).text
    assert "before the work" not in page
    sent = {"title": "Date at 5", "family": entry.family_id, f"role-{second.pk}": "after"}
    assert owner_client.post(reverse("jobs:window-entry", args=[entry.job.number]), sent).status_code == 302
    assert set(WindowEntry.objects.get().photos.values_list("photo", "role")) == {
        (first.pk, "before"),
        (second.pk, "after"),
    }


def in_german(owner_client, job, **changes):
    Window.objects.update_or_create(defaults={"languages": ["de"]})
    return send(owner_client, job, **{"story": "It runs.", "takes-de": "Neue Zeiger"} | changes)


def languages_of(owner_client):
    page = as_read(owner_client.get("/window/").text)
    return page[page.index("<h2>Entries") if "<h2>Entries" in page else 0 :]


def test_a_language_that_lacks_words_or_is_older_is_told_until_it_is_mended(owner_client, job):
    in_german(owner_client, job, **{"title-de": "Datum bei 4"})
    assert "German: “about it” missing" in languages_of(owner_client)
    typed_now = {"title-de": "Datum bei 4", "story-de": "Sie läuft."}
    in_german(owner_client, job, **typed_now)
    assert "complete" in languages_of(owner_client)
    in_german(owner_client, job, story="It runs well.", **typed_now)
    assert "German: “about it” older than your own words" in languages_of(owner_client)
    page = owner_client.get(reverse("jobs:window-entry", args=[job.number])).text
    assert "Your own words have changed since this was typed." in page
    in_german(owner_client, job, story="It runs well.", **typed_now)
    assert "older than your own words" in languages_of(owner_client)
    in_german(owner_client, job, story="It runs well.", **typed_now, **{"same-story-de": "on"})
    assert "complete" in languages_of(owner_client)
    in_german(owner_client, job, story="It runs on.", **typed_now | {"story-de": "Sie läuft weiter."})
    assert "complete" in languages_of(owner_client)


def test_a_proposal_that_nobody_touched_follows_the_own_words(owner_client, job):
    Window.objects.create(languages=["de"])
    form = owner_client.get(f"/jobs/{job.number}/window/").context["form"]
    proposed = {name: form[name].value() for name in ("title", "takes", "title-de", "takes-de")}
    assert "Neue Zeiger" in proposed["takes-de"]
    send(owner_client, job, **proposed | {"takes": "Washers under the dial", "story": ""})
    words = WindowEntry.objects.get().words["de"]
    assert words == {"title": proposed["title-de"]}, "it would say of parts that the own words left out"


def test_a_holders_title_that_stands_as_proposed_comes_in_each_language(owner_client, shown, design):  # noqa: F811
    shown()
    put_holder(owner_client, design, title="Holder ring for Kelpmoor 38 with Wick slim", story="", materials="")
    Window.objects.create(languages=["de"])
    page = owner_client.get(f"/window/site/de/holders/{WindowHolder.objects.get().code.lower()}.html").text
    assert "<h1>Werkhaltering für Kelpmoor 38 mit Wick slim</h1>" in page
    assert "complete" in as_read(owner_client.get("/window/").text).partition("Holders and spacers")[2]
    home = owner_client.get("/window/site/index.html").text
    assert home.count("Holders and spacers to order") == 2


def test_what_it_takes_is_not_missing_where_every_line_is_as_proposed(owner_client, job):
    Window.objects.create(languages=["de"])
    send(owner_client, job, takes="New hands", **{"title-de": "Datum"})
    assert "complete" in languages_of(owner_client)
    send(owner_client, job, takes="New hands\nPatience", **{"title-de": "Datum"})
    assert "German: “what it takes” missing" in languages_of(owner_client)


def test_only_one_photo_can_be_after_the_work(owner_client, job):
    first, second = job.photos.all()
    page = send(owner_client, job, **{f"role-{first.pk}": "after", f"role-{second.pk}": "after"})
    assert page.status_code == 422
    assert page.context["form"].errors.keys() == {f"role-{second.pk}"}
    assert "Photo 1 is “after the work” already." in page.text


def test_what_was_taken_out_is_told_until_the_folder_is_written_again(owner_client, job):
    send(owner_client, job)
    owner_client.post("/window/write/")
    assert "The folder still holds" not in owner_client.get("/window/").text
    owner_client.post(reverse("jobs:window-entry-state", args=[job.number]), {"do": "out"})
    assert "The folder still holds, as it was written last: “Date at 4”." in as_read(owner_client.get("/window/").text)
    assert "Nothing is in the window any more." in as_read(owner_client.get("/window/write/").text)
    owner_client.post("/window/write/")
    assert not list(folder().glob("**/*.html"))
    assert "The folder still holds" not in owner_client.get("/window/").text


def test_after_an_erasure_it_is_told_what_the_folder_still_holds(owner_client, job):
    send(owner_client, job)
    owner_client.post("/window/write/")
    customer = job.customer
    assert "What the show window shows of 1 job" in owner_client.get(f"/customers/{customer.pk}/erase/").text
    page = owner_client.post(f"/customers/{customer.pk}/erase/", {"name": customer.name}, follow=True)
    assert "folder still holds “Date at 4” as it was written last" in as_read(page.text)
    assert "The folder still holds" in owner_client.get("/window/").text
    owner_client.post("/window/write/")
    assert "The folder still holds" not in owner_client.get("/window/").text


def test_a_dial_without_a_picture_is_labelled_as_a_drawing(owner_client, job):
    send(owner_client, job, with_look="on")
    page = owner_client.get(f"/window/site/pieces/{WindowEntry.objects.get().code.lower()}.html").text
    assert "A drawing, not a photo" in page


def put_holder(owner_client, design, **changes):
    sent = {"title": "Ring for the Kelpmoor", "story": "Printed.", "materials": "tough filament, black"}
    return owner_client.post(f"/window/holders/{design.pk}/", sent | {"price_from": "12,50"} | changes)


def test_a_holder_becomes_a_page_to_order_it_by(owner_client, shown, design):  # noqa: F811
    shown()
    HolderPrice.objects.create(process="filament", material="tough filament", per_piece=20)
    Window.objects.create(languages=["de"], email="hello@weir.example")
    form = owner_client.get(f"/window/holders/{design.pk}/").context["form"]
    proposed = {name: form[name].value() for name in ("title", "materials", "price_from", "title-de")}
    assert proposed["title"] == "Holder ring for Kelpmoor 38 with Wick slim"
    assert (proposed["materials"], proposed["price_from"]) == ("tough filament", 20)
    assert proposed["title-de"] == "Werkhaltering für Kelpmoor 38 mit Wick slim"
    assert put_holder(owner_client, design, **{"title-de": "Ring für die Kelpmoor"}).status_code == 302
    code = WindowHolder.objects.get().code
    seen = owner_client.get(f"/window/site/holders/{code.lower()}.html").text
    for words in ("Ring for the Kelpmoor", "26.00\xa0mm", "from €12.50", code, "mailto:hello@weir.example", "<svg"):
        assert words.removeprefix("from ") in seen
    assert f"holders/{code.lower()}.html" in owner_client.get("/window/site/pieces.html").text
    german = owner_client.get(f"/window/site/de/holders/{code.lower()}.html").text
    assert "Außendurchmesser" in german
    assert "Ring für die Kelpmoor" in german
    assert "German: “about it”, “materials and colours” missing" in as_read(owner_client.get("/window/").text)
    owner_client.post("/window/write/")
    assert (folder() / f"holders/{code.lower()}.html").is_file()
    owner_client.post(f"/window/holders/{design.pk}/state/", {"do": "out"})
    assert "The folder still holds, as it was written last: “Ring for the Kelpmoor”" in as_read(
        owner_client.get("/window/").text
    )
    owner_client.post("/window/write/")
    assert not (folder() / f"holders/{code.lower()}.html").exists()


def test_a_name_in_a_holders_words_stops_the_site_until_it_is_cleared(owner_client, shown, design):  # noqa: F811
    shown()
    CustomerFactory(name="Ottilie Quenby")
    put_holder(owner_client, design, story="As made for Ottilie Quenby.")
    page = owner_client.get("/window/write/").text
    assert "is a customer" in page.replace("&#x27;", "'")
    assert f"/window/holders/{design.pk}/" in page
    keys = re.findall(r'name="key" value="([^"]+)"', page)
    for key in keys:
        owner_client.post("/window/clear/", {"entry": WindowHolder.objects.get().code, "key": key})
    assert "Ready to write" in owner_client.get("/window/write/").text


def test_a_message_with_a_holders_code_leads_to_its_order(owner_client, design):
    put_holder(owner_client, design)
    words = f"From: Oda <oda@fen.example>\nSubject: Order: Ring, {WindowHolder.objects.get().code}\n\nTwo, please."
    page = owner_client.post("/enquiries/new/", {"do": "read", "words": words}).text
    assert f"/holder-orders/new/?design={design.pk}" in page
