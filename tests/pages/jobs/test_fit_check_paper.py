"""The printed report, read back with independent readers."""

import io
import re

import pypdfium2
import pytest
from django.urls import reverse
from pypdf import PdfReader

from jobs.models import Shop
from jobs.options import choosing
from jobs.papers.fit_check import fit_check_pdf
from parts.fit import check_sheet
from parts.sheets import sheet_of
from tests.factories import CaseFactory, DialFactory, JobFactory, MovementFactory, PairingFactory
from tests.reading import pdf_pages, pdf_words

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
MM = 72 / 25.4


@pytest.fixture
def pdf(owner_client):
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True), name="Grey, 36 mm")
    response = owner_client.get(reverse("jobs:fit-check-paper", args=[pairing.pk]))
    assert response.headers["Content-Disposition"].endswith(f'"fit-check-{pairing.pk:04d}-grey-36-mm.pdf"')
    return pairing, response.content


def test_the_paper_is_a4_with_title_language_and_embedded_fonts(pdf):
    reader = PdfReader(io.BytesIO(pdf[1]))
    page = reader.pages[0]
    assert float(page.mediabox.width) == pytest.approx(210 * MM, abs=0.1)
    assert float(page.mediabox.height) == pytest.approx(297 * MM, abs=0.1)
    assert reader.metadata.title == "Fit check: Grey, 36 mm"
    assert reader.trailer["/Root"]["/Lang"] == "en"
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    names = {font["/BaseFont"] for font in fonts}
    assert {name.split("+")[1].split("-")[0] for name in names} == {"Plex"}


def test_the_paper_tells_the_report(pdf):
    text = pdf_words(pdf[1])
    report = check_sheet(sheet_of(pdf[0]))
    assert report.why in text
    for check in report.checks:
        assert check.title in text
    assert "Section along the stem scale 5:1" in text
    assert "You decide at the bench" in text


def test_a_case_under_pressure_is_told_as_advice(owner_client):
    numbers = {"stated_pressure": 3.0, "back_material": "steel", "back_thickness": 0.5, "back_span": 28.0}
    pairing = PairingFactory(case=CaseFactory(**numbers))
    response = owner_client.get(reverse("jobs:fit-check-paper", args=[pairing.pk]))
    text = pdf_words(response.content)
    assert "Under pressure Verdict Check Number" in text
    assert "Case back under pressure. The case back gives way by 0.08 mm with its edge held fast" in text
    assert "promise no water resistance" in text


def test_the_section_is_printed_at_exactly_its_stated_scale(pdf):
    scale = int(re.search(r"Section along the stem scale (\d+):1", pdf_pages(pdf[1])[0])[1])
    pixels_a_mm = 20
    page = pypdfium2.PdfDocument(pdf[1])[0]
    picture = page.render(scale=pixels_a_mm / MM).to_pil().convert("L")
    lengths = [(end - begin) / pixels_a_mm for begin, end in _dark_runs(picture)]
    dot, line = 1 / pixels_a_mm, 0.23
    """A dot, and the width of the outlines that end the runs, mm of paper."""
    assert any(-dot <= length - 28.0 * scale <= line + dot for length in lengths), (
        "the case back between the crown seats"
    )
    assert any(-dot <= length - 26.2 * scale <= line + dot for length in lengths), "the bore, 26.20 mm"


def _dark_runs(picture):
    """Begin and end of every unbroken run of ink along a row of pixels, from 10 mm."""
    for y in range(picture.height):
        row = picture.crop((0, y, picture.width, y + 1)).point(lambda grey: 255 if grey < 150 else 0).tobytes()
        yield from (run.span() for run in re.finditer(rb"\xff{200,}", row))


def test_words_in_any_form_stay_words_and_no_file_is_read():
    pairing = PairingFactory(name='<img src="file:///etc/hosts"> {{ pairing }} & Ωж漢')
    content = fit_check_pdf(pairing=pairing, report=check_sheet(sheet_of(pairing)))
    assert '<img src="file:///etc/hosts">' in pdf_pages(content)[0]
    assert "{{ pairing }} & Ωж" in pdf_pages(content)[0]


def test_the_paper_names_every_part_and_every_changed_number(owner_client):
    pairing = PairingFactory(stem__name="long stem", crown__name="onion", what_if={"case.back_depth": "4.30 ±0.02"})
    text = pdf_pages(owner_client.get(reverse("jobs:fit-check-paper", args=[pairing.pk])).content)[0]
    assert "long stem · onion" in text
    assert "With 1 number changed: case back depth 4.30 ±0.02." in text


def test_little_measured_still_prints(owner_client):
    pairing = PairingFactory(case=None, movement=None, hands=None)
    text = pdf_pages(owner_client.get(reverse("jobs:fit-check-paper", args=[pairing.pk])).content)[0]
    assert "Section along the stem" not in text
    assert "not known yet" in text


def test_a_pairing_that_cannot_be_a_watch_prints_nothing(owner_client):
    pairing = PairingFactory(case__crown_seat_radius=5.0)
    response = owner_client.get(reverse("jobs:fit-check-paper", args=[pairing.pk]), follow=True)
    assert "There is no report to print" in response.text


def test_the_paper_has_the_shops_letterhead_and_size_and_the_number_of_its_job(owner):
    Shop.objects.create(name="Bench & Ligne", address="4 Tannery Yard", paper="letter")
    job = JobFactory()
    option = choosing.add_option(job=job, pairing=PairingFactory(), by=owner)
    content = fit_check_pdf(pairing=option.pairing, report=check_sheet(sheet_of(option.pairing)))
    reader = PdfReader(io.BytesIO(content))
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((612, 792), abs=0.5)
    assert f"Bench & Ligne 4 Tannery Yard {job.number} Fit check" in pdf_pages(content)[0]
    assert job.number in reader.metadata.title
    assert f"page 1 of {len(reader.pages)}" in pdf_pages(content)[0]
