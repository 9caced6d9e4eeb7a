"""What a person does is saved whole or not at all, whichever of its writes fails."""

import io
import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from jobs.models import Job, LuminousClearance, QuoteLine, Shop
from jobs.options import choosing
from jobs.quotes import versions
from jobs.timing import timing_runs
from parts.models import HolderDesign, Pairing
from tests.breaking import break_each_write
from tests.factories import CaseFactory, CaseFamilyFactory, CustomerFactory, JobFactory, PairingFactory, StemFactory
from tests.pages.parts.test_part_entry import filled

pytestmark = pytest.mark.django_db(transaction=True)


def picture(name="a.jpg"):
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "#886644").save(out, "JPEG")
    return SimpleUploadedFile(name, out.getvalue(), content_type="image/jpeg")


@pytest.fixture
def job(owner):
    Shop.objects.create(currency="EUR")
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(), by=owner), by=owner)
    return job


@pytest.fixture
def send(owner_client, job):
    """Send a form to an address of the job, fresh files and all, as often as it is asked for."""

    def to(name, data, *place):
        def action():
            sent = data() if callable(data) else data
            return owner_client.post(reverse(f"jobs:{name}", args=[job.number, *place]), sent)

        return action

    return to


def a_quote(job, owner, *, sent=False):
    quote = versions.propose(job=job, options=[job.options.get()], by=owner)
    QuoteLine.objects.filter(price=None).update(price=5)
    return versions.send(quote=quote, by=owner) if sent else quote


def today():
    return timezone.localdate().isoformat()


def test_logging_a_watch_with_photos(owner_client, monkeypatch):
    def action():
        typed = {
            "customer": "Ottilie Reed",
            "phone": "555 0101",
            "wish": "Quartz",
            "luminous": "none",
            "family": "Marsh 30",
        }
        return owner_client.post("/jobs/log/", typed | {"photos": [picture(), picture("b.jpg")]})

    assert break_each_write(action, monkeypatch) > 12
    assert Job.objects.get().photos.count() == 2


def test_what_was_agreed(job, send, monkeypatch):
    typed = {"wish": "A date.", "luminous": "none", "watch": "cream dial", "keep": "the hands"}
    assert break_each_write(send("edit", typed), monkeypatch) > 6


def test_a_go_ahead_and_taking_it_back(job, send, monkeypatch):
    typed = {"how": "phone", "said_by": "Ms Reed", "on": today()}
    assert break_each_write(send("go-ahead", typed), monkeypatch) == 3
    said = job.go_aheads.get()
    assert break_each_write(send("take-back", {}, "go-ahead", said.pk), monkeypatch) == 3


def test_a_clearance_and_taking_it_back(job, send, monkeypatch):
    Job.objects.update(luminous="aged")
    assert break_each_write(send("luminous", {"how": "reading", "note": "0.1", "on": today()}), monkeypatch) > 2
    clearance = LuminousClearance.objects.get()
    assert break_each_write(send("take-back", {}, "clearance", clearance.pk), monkeypatch) > 2


def test_an_option_is_added_ruled_out_and_chosen(job, send, monkeypatch):
    other = PairingFactory()
    assert break_each_write(send("option-add", {"pairing": other.pk}), monkeypatch) > 3
    second = job.options.last()
    assert break_each_write(send("option", {"do": "rule-out"}, second.pk), monkeypatch) > 2
    assert break_each_write(send("option", {"do": "choose"}, second.pk), monkeypatch) > 3


def test_a_quote_is_drafted(job, send, monkeypatch):
    assert break_each_write(send("quote-draft", {}), monkeypatch) > 3
    assert job.quotes.count() == 1


def test_a_quote_is_sent_with_its_paper(job, send, owner, monkeypatch):
    quote = a_quote(job, owner)
    assert break_each_write(send("quote-send", {}, quote.version), monkeypatch) > 5
    quote.refresh_from_db()
    assert (quote.state, quote.papers.count()) == ("sent", 1)


def test_the_next_version_of_a_quote(job, send, owner, monkeypatch):
    quote = a_quote(job, owner, sent=True)
    assert break_each_write(send("quote-next", {}, quote.version), monkeypatch) > 3


def test_an_answer_with_its_signature_and_taking_it_back(job, send, owner, monkeypatch):
    quote = a_quote(job, owner, sent=True)

    def typed():
        said = {"do": "accept", "how": "signed", "said_by": "Ms Reed", "on": today()}
        return said | {"part": quote.parts.get().pk, "signature": picture()}

    assert break_each_write(send("quote-answer", typed, quote.version), monkeypatch) > 8
    assert (job.photos.count(), job.quotes.get().state) == (1, "accepted")
    assert break_each_write(send("quote-answer", {"do": "undo"}, quote.version), monkeypatch) > 4


def test_a_declined_quote(job, send, owner, monkeypatch):
    quote = a_quote(job, owner, sent=True)
    typed = {"do": "refuse", "how": "phone", "said_by": "Ms Reed", "on": today()}
    assert break_each_write(send("quote-answer", typed, quote.version), monkeypatch) > 3


def test_a_part_to_buy(job, send, monkeypatch):
    Job.objects.update(waits_for="parts")
    assert break_each_write(send("order-add", {"text": "Crown 5.0", "state": "wanted"}), monkeypatch) == 3
    order = job.orders.get()
    assert break_each_write(send("order", {"text": "Crown 5.0", "state": "arrived"}, order.pk), monkeypatch) == 4
    job.refresh_from_db()
    assert job.waits_for == "me"


def test_photos_come_all_or_none(job, send, monkeypatch):
    typed = lambda: {"stage": "dial", "photos": [picture(), picture("b.jpg")]}  # noqa: E731
    assert break_each_write(send("photo-add", typed), monkeypatch) == 10
    assert break_each_write(send("photo-put-away", {}, job.photos.first().pk), monkeypatch) == 3


def test_a_paper(job, send, monkeypatch):
    assert break_each_write(send("paper", {}, "receipt"), monkeypatch) == 4


def test_a_timing_run(job, send, owner, monkeypatch):
    assert break_each_write(send("runs", {"bench_temperature": "20"}), monkeypatch) == 3
    run = job.timing_runs.get()
    assert break_each_write(send("run-change", {"note": "on the sill", "as_found": "on"}, run.pk), monkeypatch) == 7
    later = timezone.now().timestamp() - 600
    assert break_each_write(send("tap", {"at": later, "plus_minus": "0.01"}, run.pk), monkeypatch) == 1
    reading = timing_runs.add_reading(run=run, at=timezone.now(), offset_s=0.1, how="typed")
    assert break_each_write(send("reading-take-back", {}, run.pk, reading.pk), monkeypatch) == 3
    assert break_each_write(send("run-put-away", {}, run.pk), monkeypatch) == 3


def test_a_stage(job, send, monkeypatch):
    assert break_each_write(send("stage-skip", {"reason": "no dial work"}, "dial"), monkeypatch) > 3
    assert break_each_write(send("stage-open", {}, "dial"), monkeypatch) > 3
    assert break_each_write(send("remarks", {"remarks": "verdigris"}, "dial"), monkeypatch) == 2
    assert break_each_write(send("time", {"do": "add", "minutes": "30"}, "dial"), monkeypatch) == 3


def test_a_measurement_with_the_report_that_follows_and_taking_it_back(job, send, monkeypatch):
    assert break_each_write(send("measurements", {"case.back_depth": "4.21 ±0.02"}, "teardown"), monkeypatch) > 5
    typed = {"case.back_depth": "", "case.back_depth-was": "4.21 ±0.02"}
    assert break_each_write(send("measurements", typed, "teardown"), monkeypatch) > 5


def test_the_state_of_a_job(job, send, monkeypatch):
    assert break_each_write(send("state", {"waits_for": "parts"}), monkeypatch) == 3
    assert break_each_write(send("state", {"do": "returned"}), monkeypatch) >= 3
    assert break_each_write(send("state", {"do": "archive"}), monkeypatch) == 3


def test_how_it_turned_out(job, send, monkeypatch):
    typed = {"word": "trouble", "went_wrong": "The tube was oval.", "found-back-gap": "work", "note-back-gap": "tight"}
    assert break_each_write(send("outcome", typed), monkeypatch) > 6


def test_stock(job, owner_client, send, monkeypatch):
    stem = job.options.get().pairing.stem
    count = reverse("jobs:stock-count", args=["stems", stem.pk])
    assert break_each_write(lambda: owner_client.post(count, {"number": "3", "reason": "counted"}), monkeypatch) == 2
    assert break_each_write(send("stock-aside", {}, "stems", stem.pk), monkeypatch) == 3
    use = job.stock_uses.get() if hasattr(job, "stock_uses") else job.stockuse_set.get()
    assert break_each_write(send("stock-settle", {"do": "use"}, use.pk), monkeypatch) == 4


def test_a_customer(owner_client, monkeypatch):
    known = CustomerFactory()
    url = reverse("jobs:customer-edit", args=[known.pk])
    assert break_each_write(lambda: owner_client.post(url, {"name": "Ben Alder"}), monkeypatch) == 1


def test_a_part_with_its_rows(owner_client, monkeypatch):
    typed = {"name": "grey", "feet-0-angle": "55", "feet-0-radius": "11.8", "feet-0-diameter": "0.7"}
    typed = filled(owner_client, "/parts/dials/add/", **typed)
    assert break_each_write(lambda: owner_client.post("/parts/dials/add/", typed), monkeypatch) == 2


def test_a_fit_check_with_its_report(owner_client, monkeypatch):
    stem = StemFactory()
    typed = {"do": "save", "name": "Grey one", "stem": stem.pk, "placement": "auto"}
    assert break_each_write(lambda: owner_client.post("/parts/pairings/new/", typed), monkeypatch) == 1


def test_the_records_of_an_uploaded_sheet(owner_client, monkeypatch):
    sheet = json.dumps({"case": {"bore_diameter": 26.0}, "stem": {"length": 12.0}})

    def action():
        file = SimpleUploadedFile("sheet.json", sheet.encode())
        return owner_client.post("/parts/pairings/upload/", {"name": "Came by mail", "sheet": file})

    assert break_each_write(action, monkeypatch) == 3
    assert Pairing.objects.get().case.bore_diameter == 26.0


def test_a_holders_revision_and_its_photos(owner_client, job, monkeypatch):
    pairing = PairingFactory(case=CaseFactory(bore_diameter=28.0, family=CaseFamilyFactory()))
    new = f"{reverse('parts:holder-new')}?pairing={pairing.pk}&kind=ring"
    assert break_each_write(lambda: owner_client.post(new, {"do": "keep"}), monkeypatch) == 1
    url = reverse("parts:holder-photo-add", args=[HolderDesign.objects.get().pk])
    assert break_each_write(lambda: owner_client.post(url, {"photos": [picture(), picture()]}), monkeypatch) == 6
