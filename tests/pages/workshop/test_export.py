"""Everything as open files: by the owner's button and by the command."""

import csv
import io
import json
import sqlite3
import zipfile
from contextlib import closing

import pytest
from django.core.management import call_command
from django.db import connection
from django.urls import reverse
from PIL import Image

from jobs.demo.open_jobs import fill_bench
from jobs.demo.people import open_shop
from jobs.models import Customer, Job, Photo
from jobs.photos.storing import store_pictures
from parts.demo import fill_workshop
from parts.models import Pairing, Stem
from parts.tools.pictures import as_kept
from tests.factories import PASSWORD, CustomerFactory, JobFactory, StemFactory
from workshop.safekeeping import export

pytestmark = pytest.mark.django_db


def exported():
    out = io.BytesIO()
    export.write_export(out)
    return zipfile.ZipFile(out)


def rows(archive, name):
    return json.loads(archive.read(f"json/{name}.json"))


def test_the_owner_takes_everything_along(owner_client, owner):
    job = JobFactory()
    store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (40, 30), "#457"))], by=owner)
    answer = owner_client.post(reverse("export"))
    assert answer["Content-Disposition"].startswith('attachment; filename="dialside-export-')
    archive = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))
    assert archive.testzip() is None
    assert rows(archive, "job")[0]["number"] == job.number
    photo = Photo.objects.get()
    with photo.file.open() as kept:
        assert archive.read(f"files/{photo.file.name}") == kept.read()
    assert "       1  job\n" in archive.read("README.txt").decode()
    assert reverse("export") in owner_client.get(reverse("jobs:shop")).text


def test_json_loses_nothing_and_csv_has_as_many_rows():
    open_shop()
    fill_workshop()
    fill_bench()
    archive = exported()
    for model in export.tables():
        name = model._meta.model_name
        stored = list(model._base_manager.order_by("pk").values())
        assert len(rows(archive, name)) == len(stored), name
        lines = list(csv.reader(io.StringIO(archive.read(f"csv/{name}.csv").decode("utf-8-sig"), newline="")))
        assert len(lines) == len(stored) + 1, name
    one, kept = rows(archive, "pairing")[0], Pairing.objects.order_by("pk").first()
    assert (one["what_if"], one["report"]) == (kept.what_if, kept.report)
    assert f"sheets/{kept.pk}.json" in archive.namelist()
    assert any(name.startswith("reports/") for name in archive.namelist())


def test_every_table_is_in_it_or_follows_from_others():
    kept = {model.__name__ for model in export.tables()}
    assert {"Customer", "Job", "Event", "Quote", "PaperOut", "Shop", "Movement", "HolderPhoto", "PartNote"} <= kept
    assert {model.__name__ for model in export.DERIVED} == {"Past", "PastCheck", "PastText", "PastWord", "StaleRecord"}


def test_no_secret_is_in_it(owner_client, owner):
    archive = exported()
    everything = b"".join(archive.read(name) for name in archive.namelist())
    assert owner.password.encode() not in everything
    assert PASSWORD.encode() not in everything
    assert owner_client.session.session_key.encode() not in everything
    assert rows(archive, "account") == [
        {
            "id": owner.pk,
            "username": "owner",
            "is_active": True,
            "is_staff": True,
            "is_superuser": True,
            "date_joined": rows(archive, "account")[0]["date_joined"],
            "last_login": rows(archive, "account")[0]["last_login"],
        }
    ]


def test_what_looks_like_a_formula_is_none_in_a_spreadsheet_and_stays_itself_in_json():
    CustomerFactory(name="=HYPERLINK(1)", notes='two\nlines, "quoted"', phone="")
    archive = exported()
    (line,) = csv.DictReader(io.StringIO(archive.read("csv/customer.csv").decode("utf-8-sig"), newline=""))
    assert (line["name"], line["notes"], line["archived"]) == ("'=HYPERLINK(1)", 'two\nlines, "quoted"', "no")
    assert rows(archive, "customer")[0]["name"] == "=HYPERLINK(1)"


def test_ten_thousand_rows():
    Customer.objects.bulk_create(Customer(name=f"Customer {n}") for n in range(10_000))
    assert [one["name"] for one in rows(exported(), "customer")] == [f"Customer {n}" for n in range(10_000)]


def test_a_file_that_is_gone_is_named_and_stops_nothing(owner):
    job = JobFactory()
    (photo,) = store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (40, 30)))], by=owner)
    photo.file.storage.delete(photo.file.name)
    archive = exported()
    assert f"Missing files that records name: {photo.file.name}" in archive.read("README.txt").decode()
    assert f"files/{photo.thumbnail.name}" in archive.namelist()


@pytest.mark.django_db(transaction=True)
def test_others_write_while_it_is_made_and_it_stays_at_its_moment(monkeypatch):
    """Between two tables somebody else adds a stem; the export does not hold them up, and does not hold the stem."""
    if connection.vendor != "sqlite":
        pytest.skip("looks at the locks of SQLite's file")
    StemFactory()
    put = export.open_files.put_table

    def put_and_write(archive, name, *more):
        count = put(archive, name, *more)
        if name == "customer":
            with closing(sqlite3.connect(connection.settings_dict["NAME"], timeout=0.1)) as other:
                other.execute("UPDATE parts_stem SET name = 'written meanwhile'")
                other.commit()
        return count

    monkeypatch.setattr(export.open_files, "put_table", put_and_write)
    (stem,) = rows(exported(), "stem")
    assert stem["name"] != "written meanwhile"
    assert Stem.objects.get().name == "written meanwhile"


@pytest.mark.django_db(transaction=True)
def test_the_database_is_written_to_again_after_an_export():
    StemFactory(name="before")
    assert [one["name"] for one in rows(exported(), "stem")] == ["before"]
    StemFactory(name="after")
    assert sorted(one["name"] for one in rows(exported(), "stem")) == ["after", "before"]


def test_the_command_writes_the_same(tmp_path, capsys):
    JobFactory()
    call_command("export", str(tmp_path / "all.zip"))
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        assert len(rows(archive, "job")) == Job.objects.count() == 1
    assert not list(tmp_path.glob("*.part"))
    assert "all.zip holds" in capsys.readouterr().out


def test_nobody_but_the_owner_exports(hand, reader, client):
    assert [one.post(reverse("export")).status_code for one in (hand, reader, client)] == [403, 403, 302]
