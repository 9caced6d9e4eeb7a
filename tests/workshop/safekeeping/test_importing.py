"""An export read back into an empty workshop is the workshop again; anything else changes nothing."""

import io
import json
import zipfile

import pytest
from django.contrib.auth import get_user_model
from django.core.management import CommandError, call_command
from django.core.management.color import no_style
from django.db import connection, transaction
from PIL import Image

from jobs.demo.open_jobs import fill_bench
from jobs.demo.people import open_shop
from jobs.models import Job, PastText, Photo
from jobs.past.record import rebuild_all
from jobs.photos.storing import store_pictures
from parts.demo import fill_workshop
from parts.models import Instrument
from parts.tools.pictures import as_kept
from tests.factories import CustomerFactory, JobFactory, StemFactory
from workshop.accounts.links import find_link
from workshop.safekeeping import export
from workshop.safekeeping.copying import importing
from workshop.serving import serving_lock

pytestmark = pytest.mark.django_db(transaction=True)


def write(path):
    with path.open("wb") as target:
        export.write_export(target)
    return path


def tables_of(path):
    """Every table of an export, its records in their order."""
    with zipfile.ZipFile(path) as archive:
        names = [name for name in archive.namelist() if name.startswith("json/")]
        return {name: json.loads(archive.read(name)) for name in names}


def change(path, **changes):
    """The same archive with some of its files in other words; None leaves one out."""
    with zipfile.ZipFile(path) as archive:
        contents = {name: archive.read(name) for name in archive.namelist()}
    contents |= changes
    with zipfile.ZipFile(path, "w") as archive:
        for name, text in contents.items():
            if text is not None:
                archive.writestr(name, text)


def clear(files):
    """Make an empty workshop of this one: no rows, no files."""
    tables = [model._meta.db_table for model in (*importing._models().values(), *export.DERIVED)]
    with transaction.atomic(), connection.cursor() as cursor:
        for statement in connection.ops.sql_flush(no_style(), tables, allow_cascade=True):
            cursor.execute(statement)
    for path in (path for path in files.rglob("*") if path.is_file()):
        path.unlink()


@pytest.fixture
def out(tmp_path_factory):
    return tmp_path_factory.mktemp("out") / "all.zip"


@pytest.fixture
def exported(out, owner, files):
    """An export of a small workshop, which is empty afterwards."""
    job = JobFactory(customer=CustomerFactory(name="Mara Quist"), wish="a quartz movement")
    store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (40, 30), "#457"))], by=owner)
    write(out)
    clear(files)
    return out


def test_everything_comes_back_row_by_row(out, files, owner, tmp_path_factory):
    open_shop()
    fill_workshop()
    fill_bench()
    StemFactory(name="line\nbreak, \u2028 and “]” in a name")
    owner.last_login = owner.date_joined
    owner.save()
    rebuild_all()
    texts = set(PastText.objects.values_list("job", "head", "body"))
    before = {path.relative_to(files): path.read_bytes() for path in files.rglob("*") if path.is_file()}
    write(out)
    clear(files)
    counts = importing.read_export(out)
    again = write(tmp_path_factory.mktemp("again") / "again.zip")
    first, second = tables_of(out), tables_of(again)
    assert {name for name, rows in first.items() if rows != second[name]} == set()
    assert sum(counts.values()) == sum(map(len, first.values())) > 500
    assert {path.relative_to(files): path.read_bytes() for path in files.rglob("*") if path.is_file()} == before
    assert set(PastText.objects.values_list("job", "head", "body")) == texts
    newest = max(row["id"] for row in first["json/stem.json"])
    assert StemFactory().pk > newest
    assert not get_user_model().objects.get(username="owner").has_usable_password()


def test_times_come_back_to_the_microsecond(exported):
    with zipfile.ZipFile(exported) as archive:
        written = json.loads(archive.read("json/job.json"))[0]["logged"]
    importing.read_export(exported)
    assert Job.objects.get().logged.isoformat() == written
    assert Job.objects.get().logged.microsecond % 1000


def test_the_archive_says_what_it_is(exported):
    with zipfile.ZipFile(exported) as archive:
        facts, readme = json.loads(archive.read("format.json")), archive.read("README.txt").decode()
    assert (facts["format"], facts["records"]["job"], facts["missing"]) == (1, 1, [])
    assert facts["tables"].keys() == {"jobs", "parts"}
    assert "in format 1" in readme
    assert "make import FILE=..." in readme


def test_a_workshop_that_is_not_empty_is_left_alone(exported):
    customer = CustomerFactory()
    with pytest.raises(importing.CannotImport, match="not empty: it has 1 customer .* Point DIALSIDE_DATA to a new"):
        importing.read_export(exported)
    assert customer.__class__.objects.get() == customer
    assert not Job.objects.exists()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"format.json": None}, "no export of Dialside"),
        ({"format.json": '{"format": 99, "tables": {}, "program": "2031.2"}'}, "Import it with version 2031.2"),
        ({"format.json": "[]"}, "damaged"),
        ({"json/job.json": "[\n{}\n]\n"}, "damaged: .*columns of job differ"),
        ({"json/job.json": "[\n{"}, "damaged"),
        ({"json/job.json": "[]\n"}, "damaged"),
        ({"json/customer.json": None}, "damaged"),
        ({"json/customer.json": "[]\n"}, "damaged"),
        ({"json/photo.json": "\xff\xfe"}, "damaged"),
    ],
)
def test_an_archive_that_is_not_whole_changes_nothing(exported, files, changes, words):
    change(exported, **changes)
    with pytest.raises(importing.CannotImport, match=words):
        importing.read_export(exported)
    nothing_is_there(files)


def nothing_is_there(files):
    assert [model for model in importing._models().values() if model is not Instrument and model.objects.exists()] == []
    assert not [path for path in files.rglob("*") if path.is_file()]


def test_a_file_that_lacks_or_leads_elsewhere_changes_nothing(exported, files):
    rows = tables_of(exported)["json/photo.json"]
    for name in ("photos/gone.jpg", "../outside.jpg"):
        change(exported, **{"json/photo.json": f"[\n{json.dumps(rows[0] | {'thumbnail': name})}\n]\n"})
        change(exported, **{f"files/{name}": b"x"} if ".." in name else {})
        with pytest.raises(importing.CannotImport, match="damaged"):
            importing.read_export(exported)
        nothing_is_there(files)


def _inside_the_largest(exported, whole):
    """Where, in the file, the packed bytes of its largest member have their middle."""
    exported.write_bytes(whole)
    with zipfile.ZipFile(exported) as archive:
        largest = max(archive.infolist(), key=lambda member: member.compress_size)
    return largest.header_offset + 30 + len(largest.filename.encode()) + largest.compress_size // 2


def test_cut_off_or_flipped_it_is_refused(exported, files):
    whole = exported.read_bytes()
    exported.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(importing.CannotImport, match="damaged"):
        importing.read_export(exported)
    at = _inside_the_largest(exported, whole)
    exported.write_bytes(whole[:at] + bytes(byte ^ 0xFF for byte in whole[at : at + 4]) + whole[at + 4 :])
    with pytest.raises(importing.CannotImport, match="damaged"):
        importing.read_export(exported)
    with pytest.raises(importing.CannotImport, match="No file"):
        importing.read_export("/nowhere/all.zip")
    nothing_is_there(files)


def test_a_file_that_was_missing_before_is_missing_after(out, files, owner):
    (photo,) = store_pictures(job=JobFactory(), pictures=[as_kept(Image.new("RGB", (40, 30)))], by=owner)
    photo.file.storage.delete(photo.file.name)
    write(out)
    clear(files)
    importing.read_export(out)
    assert Photo.objects.get().file.name == photo.file.name
    assert len([path for path in files.rglob("*") if path.is_file()]) == 1


def test_the_command_imports_and_lets_the_owner_in(exported, capsys, monkeypatch):
    monkeypatch.setattr(serving_lock, "take", io.BytesIO)
    call_command("import_export", str(exported))
    said = capsys.readouterr().out
    assert f"tables are imported from {exported}." in said
    token = said.rsplit("/choose-password/", 1)[1].strip().rstrip("/")
    assert find_link(token).user.username == "owner"
    with pytest.raises(CommandError, match="not empty"):
        call_command("import_export", str(exported))
