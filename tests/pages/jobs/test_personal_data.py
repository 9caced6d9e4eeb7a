"""One customer's personal data: given out, and erased while the technical record stays."""

import io
import json
import re
import zipfile
from pathlib import Path
from types import SimpleNamespace

import pytest
from django.contrib.admin.models import CHANGE, LogEntry
from django.core.files.base import ContentFile
from django.db import connection
from django.urls import reverse
from PIL import Image

from jobs import models
from jobs.customers.personal_data import WAYS
from jobs.customers.traces import Traces
from jobs.history import record
from jobs.job.state import close_job
from jobs.models import Customer, Event, GoAhead, Job, PaperOut, Past, PastText, Photo, Quote, Stage
from jobs.past.record import rebuild, refresh_stale
from jobs.past.search import word_index
from jobs.photos.storing import store_pictures, store_signed
from jobs.quotes.versions import empty_draft
from parts.tools.pictures import as_kept
from tests.factories import CustomerFactory, JobFactory, PairingFactory
from tests.reading import as_read

pytestmark = pytest.mark.django_db

NAME, MAIL, PHONE, ADDRESS = "Orla Quenby", "orla@quenby.example", "+44 1632 960 123", "7 Tansy Row\nLowmoor"
TRACES = ("quenby", "960123", "960 123", "960-123", "tansy", "orla@")


@pytest.fixture
def customer():
    return CustomerFactory(name=NAME, email=MAIL, phone=PHONE, address=ADDRESS, notes="Ring Quenby after six.")


@pytest.fixture
def job(customer, owner):
    """A finished job whose records name the customer wherever that is possible."""
    pairing = PairingFactory(name="For Orla Quenby")
    job = JobFactory(
        customer=customer, wish="Mrs Quenby wants the date.\nFor ORLA  QUENBY", remarks="01632 960-123", serial="S 77"
    )
    models.Option.objects.create(job=job, pairing=pairing, chosen=True)
    models.Condition.objects.create(job=job, subject="case", finding="worn", remark="engraved Quenby")
    GoAhead.objects.create(job=job, how="phone", said_by="Tom Quenby", note="Tom rang", on="2026-11-02", by=owner)
    record(job=job, by=owner, kind=Event.Kind.GO_AHEAD, data={"how": "phone"}, after="Tom Quenby")
    stage = Stage.objects.get(job=job, kind="stem")
    stage.remarks, stage.measured = "left at 7 Tansy Row, stem cut to length", {"stem.length": "11.42"}
    stage.save()
    models.WorkTime.objects.create(
        stage=stage, started="2026-11-02T10:00Z", ended="2026-11-02T10:30Z", by=owner, note="call with Orla"
    )
    paper = PaperOut(job=job, kind="receipt", by=owner)
    paper.file.save("receipt.pdf", ContentFile(b"%PDF receipt for Orla Quenby"))
    template = PaperOut(job=job, kind="template", by=owner)
    template.file.save("template.pdf", ContentFile(b"%PDF template"))
    pictures = [as_kept(Image.new("RGB", (40, 30), "#457"))]
    store_pictures(job=job, pictures=pictures, by=owner, caption="the dial")
    store_signed(quote=empty_draft(job=job, by=owner), picture=pictures[0], by=owner)
    close_job(job=job, state=Job.State.RETURNED, by=owner)
    refresh_stale()
    return Job.objects.get(pk=job.pk)


def erased(owner_client, customer, **choices):
    url = reverse("jobs:customer-erase", args=[customer.pk])
    return owner_client.post(url, {"name": customer.name, **choices}, follow=True)


def everything(files):
    """Every cell of every table, the word index's included, and every file, in lower case."""
    with connection.cursor() as cursor:
        text = ""
        for table in connection.introspection.table_names(cursor):
            if "pasttext_" in table or table.startswith("django_session"):
                continue
            cursor.execute(f'SELECT * FROM "{table}"')
            text += "\n".join(f"{table} {row}" for row in cursor.fetchall()) + "\n"
    kept = b"".join(path.read_bytes() for path in sorted(files.rglob("*")) if path.is_file())
    return (text + kept.decode("latin-1")).casefold()


def test_after_erasing_nothing_names_the_customer_and_the_technical_record_stays(
    owner_client, customer, job, files, owner
):
    other = JobFactory(remarks="Comes on the word of Orla Quenby, who lives at 7 Tansy Row. Quenby brass.")
    models.Draft.objects.create(user=owner, data={"customer": "Orla Quenby", "wish": ["call 01632960123"]})
    LogEntry.objects.log_actions(owner.pk, [customer], CHANGE, change_message="name", single_object=True)
    refresh_stale()
    assert all(trace in everything(files) for trace in ("orla quenby", "tansy", "960123", "receipt for"))
    page = erased(owner_client, customer)
    assert f"The jobs stay under “erased customer {customer.pk}”" in page.text
    other.refresh_from_db()
    assert other.remarks == "Comes on the word of [erased], who lives at [erased]. Quenby brass."
    other.remarks = ""
    other.save()
    models.StaleRecord.objects.create(job=other)
    refresh_stale()
    left = everything(files)
    assert [
        trace for trace in (*TRACES, "tom quenby", "receipt for") if trace in left.replace("quenby brass", "")
    ] == []
    job.refresh_from_db()
    assert (job.state, job.wish) == (Job.State.RETURNED, "Mrs [erased] wants the date.\nFor [erased]")
    stage = Stage.objects.get(job=job, kind="stem")
    assert (stage.measured, stage.remarks) == ({"stem.length": "11.42"}, "left at [erased], stem cut to length")
    assert stage.work_times.get().ended is not None
    assert job.options.get().pairing.name == "For [erased]"
    assert [one.caption for one in job.photos.all()] == ["the dial"]
    assert {one.kind: bool(one.file) for one in job.papers.all()} == {"receipt": False, "template": True}
    assert Event.objects.filter(job=job, kind=Event.Kind.ERASED, by=owner).count() == 1
    assert Customer.objects.get(pk=customer.pk).archived


def test_free_texts_and_photos_go_where_that_is_ticked(owner_client, customer, job, files):
    erased(owner_client, customer, empty_texts="on", drop_photos="on")
    job.refresh_from_db()
    assert (job.wish, job.remarks, job.serial, Photo.objects.count()) == ("", "", "", 0)
    assert not list(files.rglob("*.jpg"))
    assert set(Event.objects.filter(job=job).values_list("before", "after")) == {("", "")}
    assert "s 77" not in PastText.objects.get(job=job).body
    assert Stage.objects.get(job=job, kind="stem").measured == {"stem.length": "11.42"}
    assert owner_client.get(job.get_absolute_url()).status_code == 200


def test_past_swaps_find_the_job_but_not_by_its_customer(owner_client, customer, job):
    assert job.number in owner_client.get(reverse("jobs:past"), {"q": "quenby", "state": "returned"}).text
    erased(owner_client, customer)
    assert job.number not in owner_client.get(reverse("jobs:past"), {"q": "quenby", "state": "returned"}).text
    assert job.number in owner_client.get(reverse("jobs:past"), {"q": "wants the date", "state": "returned"}).text
    assert Past.objects.filter(job=job).exists()


@pytest.mark.django_db(transaction=True)
def test_it_is_erased_for_good_outside_a_tests_own_transaction(owner_client, customer, job):
    erased(owner_client, customer)
    assert Customer.objects.get(pk=customer.pk).is_erased
    assert not Job.objects.filter(remarks__contains="960").exists()


def raw_database():
    """SQLite's own file and its log, in lower case; nothing on another database."""
    path = Path(connection.settings_dict["NAME"])
    parts = (path, path.with_name(f"{path.name}-wal")) if connection.vendor == "sqlite" else ()
    return b"".join(part.read_bytes() for part in parts if part.exists()).lower()


@pytest.mark.django_db(transaction=True)
def test_not_even_the_databases_free_pages_hold_the_name(owner_client, customer, job):
    if connection.vendor != "sqlite":
        pytest.skip("reads SQLite's own file")
    assert b"quenby" in raw_database()
    erased(owner_client, customer)
    assert [trace for trace in TRACES if trace.encode() in raw_database()] == []


@pytest.mark.django_db(transaction=True)
def test_no_record_index_or_file_of_the_database_holds_a_name_that_other_jobs_mention(
    owner_client, customer, job, owner
):
    other = JobFactory(remarks="Taken for Orla Quenby, collected by her.")
    models.Outcome.objects.create(job=other, word="trouble", went_wrong="Orla Quenby rang about the crown")
    named = JobFactory()
    models.Option.objects.create(job=named, pairing=PairingFactory(name="Orla Quenby's other watch"), chosen=True)
    rebuild([other.pk, named.pk])
    assert "quenby" in PastText.objects.get(job=other).body
    assert models.PastWord.objects.filter(word="quenby").exists()
    page = erased(owner_client, customer)
    assert f"The name is also taken out of jobs {other.number} and {named.number}" in as_read(page.text)
    for record_of in (other, named):
        text, past = PastText.objects.get(job=record_of), Past.objects.get(job=record_of)
        assert "quenby" not in f"{text.head} {text.body} {text.told} {past.facts}".casefold()
    assert not models.PastWord.objects.filter(word="quenby").exists()
    assert [trace for trace in TRACES if trace.encode() in raw_database()] == []
    assert other.number not in owner_client.get(reverse("jobs:past"), {"q": "quenby", "state": "any"}).text


def test_it_is_refused_while_the_disk_has_no_room_to_write_the_database_anew(owner_client, customer, job, monkeypatch):
    if connection.vendor != "sqlite":
        pytest.skip("SQLite's own file")
    monkeypatch.setattr(word_index.shutil, "disk_usage", lambda _place: SimpleNamespace(free=1000))
    page = erased(owner_client, customer)
    assert page.status_code == 422
    assert re.search(r"the disk lacks \d+\.\d MB for it. Free some space, then erase.", page.text)
    assert Customer.objects.get(pk=customer.pk).name == NAME


def test_it_is_refused_while_a_job_is_open(owner_client, customer, job):
    still = JobFactory(customer=customer)
    page = erased(owner_client, customer)
    assert page.status_code == 422
    assert f"Job {still.number} is still open" in page.text
    assert Customer.objects.get(pk=customer.pk).name == NAME
    assert PaperOut.objects.get(kind="receipt").file


@pytest.mark.parametrize("typed", ["", "orla", "Orla Quenbi"])
def test_another_name_changes_nothing(owner_client, customer, job, typed):
    url = reverse("jobs:customer-erase", args=[customer.pk])
    page = owner_client.post(url, {"name": typed, "empty_texts": "on"})
    assert page.status_code == 422
    assert page.context["form"].errors["name"]
    assert Customer.objects.get(pk=customer.pk).name == NAME


def test_the_page_says_what_goes_what_stays_and_how_long_backups_hold_it(owner_client, customer, job):
    text = as_read(owner_client.get(reverse("jobs:customer-erase", args=[customer.pk])).text)
    assert "The files of the papers that name the customer (1)" in text
    assert "1 photo of signed quotes" in text
    assert "After 12 months no older one is left" in text
    assert "This cannot be undone" in text


def test_a_quote_that_nobody_decided_is_not_said_to_be_decided_by_somebody_erased(owner_client, customer, job, owner):
    decided = empty_draft(job=job, by=owner)
    Quote.objects.filter(pk=decided.pk).update(decided_by="Orla Quenby")
    erased(owner_client, customer)
    assert list(job.quotes.order_by("version").values_list("decided_by", flat=True)) == ["", "erased"]


def test_erased_once_is_erased_and_its_papers_say_so(owner_client, customer, job):
    erased(owner_client, customer)
    again = owner_client.get(reverse("jobs:customer-erase", args=[customer.pk]), follow=True)
    assert "already erased" in again.text
    assert "intake receipt, erased" in owner_client.get(reverse("jobs:papers", args=[job.number])).text.casefold()
    gone = PaperOut.objects.get(kind="receipt")
    assert owner_client.get(reverse("jobs:saved-paper", args=[job.number, gone.pk])).status_code == 404


def test_what_another_customer_has_too_stays_with_the_other(owner_client, customer, job):
    sister = CustomerFactory(name="Nell Quenby", phone=PHONE, address=ADDRESS)
    hers = JobFactory(customer=sister, remarks=f"ring {PHONE}")
    erased(owner_client, customer)
    sister.refresh_from_db()
    hers.refresh_from_db()
    assert (sister.name, sister.phone, hers.remarks) == ("Nell Quenby", PHONE, f"ring {PHONE}")


def test_all_that_is_held_is_given_out(owner_client, customer, job):
    JobFactory(remarks="somebody else's")
    answer = owner_client.post(reverse("jobs:customer-export", args=[customer.pk]))
    archive = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))
    assert [one["name"] for one in json.loads(archive.read("json/customer.json"))] == [NAME]
    assert [one["number"] for one in json.loads(archive.read("json/job.json"))] == [job.number]
    assert json.loads(archive.read("json/stage.json"))[-3]["job_id"] == job.pk
    papers = list(PaperOut.objects.values_list("file", flat=True))
    photos = [name for one in Photo.objects.all() for name in (one.file.name, one.thumbnail.name)]
    assert {f"files/{name}" for name in papers + photos} <= set(archive.namelist())
    assert "csv/customer.csv" in archive.namelist()


def test_every_table_that_leads_to_a_job_is_given_out_and_erased():
    leading = {
        model
        for model in models.__dict__.values()
        if isinstance(model, type) and any(field.related_model in WAYS for field in model._meta.fields)
    }
    following = {models.Past, models.PastCheck, models.PastText, models.StaleRecord}
    assert leading - following == WAYS.keys() - {Customer, *(one for one in WAYS if one._meta.app_label == "parts")}


def test_nobody_but_the_owner_may(hand, reader, customer):
    for client in (hand, reader):
        assert client.get(reverse("jobs:customer-erase", args=[customer.pk])).status_code == 403
        assert client.post(reverse("jobs:customer-export", args=[customer.pk])).status_code == 403
        assert "Personal data" not in client.get(customer.get_absolute_url()).text


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("Ask orla quenby.", "Ask [erased]."),
        ("Quenby, Orla", "[erased], [erased]"),
        ("Quenby's dial, the quenbyesque one", "[erased]'s dial, the quenbyesque one"),
        ("ring 01632/960123 or +441632960123", "ring [erased] or [erased]"),
        ("7  Tansy Row, Lowmoor", "[erased]"),
        ("dial 27.40 mm, job 26-014", "dial 27.40 mm, job 26-014"),
    ],
)
def test_traces_are_found_as_people_write_them(text, left):
    traces = Traces(Customer(name=NAME, email=MAIL, phone=PHONE, address=ADDRESS))
    assert traces.own.sub("[erased]", text) == left


def test_what_was_said_at_a_go_ahead_goes_without_a_tick(owner_client, customer, job):
    GoAhead.objects.update(note="the blue gate, rings twice")
    owner_client.post(reverse("jobs:customer-erase", args=[customer.pk]), {"name": customer.name})
    assert list(GoAhead.objects.values_list("note", "said_by")) == [("", "erased")]
