"""CSV files through the pages: template, export, check, import."""

import csv
import io
import re
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from parts.csv import files
from parts.library.kinds import KINDS
from parts.models import Case, CsvFile
from tests.factories import CaseFactory, CrownFactory, StemFactory
from tests.reading import as_read


def upload(owner_client, text, *, slug="cases", name="cases.csv"):
    data = text if isinstance(text, bytes) else text.encode()
    return owner_client.post(f"/parts/{slug}/import/", {"file": SimpleUploadedFile(name, data)}, follow=True)


def test_a_file_is_checked_and_then_imported(owner_client):
    page = upload(owner_client, "name,bore diameter\none,27.40 ±0.02 measured\ntwo,\n")
    assert "All 2 rows can be imported." in page.text
    assert not Case.objects.exists()
    done = owner_client.post(page.request["PATH_INFO"], follow=True)
    assert "2 cases imported from cases.csv." in done.text
    assert list(Case.objects.values_list("name", "bore_diameter")) == [("one", 27.4), ("two", None)]


def test_bad_rows_are_listed_and_nothing_can_be_imported(owner_client):
    page = upload(owner_client, "name,bore diameter\none,<b>wide\ntwo,27\nthree,-1\n")
    assert "2 rows cannot be imported, so nothing was." in page.text
    text = as_read(page.text)
    rows = [re.findall(r">([^<>]+)<", row) for row in re.findall(r'<tr><td class="number".*?</tr>', text)]
    assert [[cell for cell in row if cell.strip()][:3] for row in rows] == [
        ["2", "bore diameter", "&lt;b&gt;wide"],
        ["4", "bore diameter", "-1"],
    ]
    assert "1 row is fine" in text
    assert "Import all" not in text
    again = owner_client.post(page.request["PATH_INFO"], follow=True)
    assert "Nothing imported" in again.text
    assert not Case.objects.exists()


def test_names_that_are_there_already_are_told(owner_client):
    CaseFactory(name="one", family=None)
    assert "1 of the names is already in the library" in upload(owner_client, "name\none\ntwo\n").text


def test_a_file_that_is_no_csv_is_refused_on_its_field(owner_client):
    page = upload(owner_client, "name\né\n".encode("latin-1"))
    assert page.status_code == 422
    assert "This file is not UTF-8 text." in page.context["form"].errors["file"][0]
    assert not CsvFile.objects.exists()


def test_a_file_over_two_megabytes_is_refused(owner_client):
    page = upload(owner_client, b"name\n" + b"a" * 2_100_000)
    assert "larger than 2 MB" in page.context["form"].errors["file"][0]


@pytest.mark.parametrize("data", [{}, {"file": ""}])
def test_a_file_must_be_chosen(owner_client, data):
    page = owner_client.post("/parts/cases/import/", data)
    assert page.status_code == 422
    assert "file" in page.context["form"].errors


def test_an_empty_file_is_refused(owner_client):
    assert "no headings" in upload(owner_client, b"").context["form"].errors["file"][0]


def test_a_file_is_imported_once_and_only_as_its_own_kind(owner_client):
    page = upload(owner_client, "name\none\n")
    address = page.request["PATH_INFO"]
    assert owner_client.get(address.replace("cases", "stems")).url == "/parts/stems/import/"
    owner_client.post(address)
    again = owner_client.post(address, follow=True)
    assert "no longer here" in again.text
    assert Case.objects.count() == 1


def test_the_export_is_a_file_that_spreadsheets_read(owner_client):
    StemFactory(name="tapped", notes="=1+1", length=12.5)
    StemFactory(archived=True)
    answer = owner_client.get("/parts/stems/export/")
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert answer["Content-Disposition"] == 'attachment; filename="dialside-stems.csv"'
    assert answer.content.startswith(b"\xef\xbb\xbf")
    (line,) = csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"), newline=""))
    assert line["name"] == "tapped"
    assert line["length"] == "12.50 measured"
    assert line["notes"] == "'=1+1"


@pytest.mark.parametrize("slug", KINDS)
def test_each_kind_has_its_template_and_every_column_is_explained(owner_client, slug):
    headings = owner_client.get(f"/parts/{slug}/template/").content.decode("utf-8-sig").strip().split(",")
    page = owner_client.get(f"/parts/{slug}/import/").text
    assert "name" in headings
    for heading in headings:
        assert f'<th scope="row">{heading}</th>' in page


def test_an_export_takes_a_fixed_number_of_queries(owner_client, django_assert_num_queries):
    CaseFactory.create_batch(5)
    with django_assert_num_queries(3):
        owner_client.get("/parts/cases/export/")


def test_an_export_larger_than_the_import_takes_comes_as_several_files_that_it_takes(owner_client, monkeypatch):
    CrownFactory.create_batch(12, notes="x" * 200)
    monkeypatch.setattr(files, "MAX_ROWS", 7)
    monkeypatch.setattr(files, "MAX_BYTES", 1500)
    answer = owner_client.get("/parts/crowns/export/")
    assert answer["Content-Disposition"] == 'attachment; filename="dialside-crowns.zip"'
    archive = zipfile.ZipFile(io.BytesIO(answer.content))
    rows = 0
    for name in archive.namelist():
        stored = files.keep(kind=KINDS["crowns"], name=name, data=archive.read(name), sees_money=True)
        rows += files.import_all(kind=KINDS["crowns"], file=stored, sees_money=True)
    assert (rows, len(archive.namelist()) > 1) == (12, True)
