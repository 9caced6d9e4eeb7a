"""The measuring sheet: one page whatever is asked for, read back as text."""

import io

import pypdfium2
import pytest
from django.urls import reverse
from pypdf import PdfReader

from jobs.models import PaperOut, Shop
from jobs.options import choosing
from jobs.papers.measuring_sheet import measuring_pdf
from parts.demo import fill_workshop
from parts.measuring.sheet import blocks_of
from parts.models import Pairing
from tests.factories import CaseFactory, DialFactory, JobFactory, MovementFactory, PairingFactory
from tests.reading import pdf_pages

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
SHEET = reverse("jobs:measuring-sheet")
PAPERS = {"A4": (595, 842), "letter": (612, 792)}


@pytest.fixture
def pairing():
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True), name="Grey")
    pairing.case.back_depth = None
    pairing.case.save()
    return pairing


def text_of(content):
    return pdf_pages(content)[0]


def box_of(content, words):
    """Left, bottom, right and top of the first letter of these words on the first page, in points."""
    page = pypdfium2.PdfDocument(content)[0].get_textpage()
    first, _ = page.search(words, match_case=True).get_next()
    return page.get_charbox(first)


def bottom_of(content, words):
    return box_of(content, words)[1]


def top_of(content, words):
    return box_of(content, words)[3]


def printed(size):
    shop = Shop.current()
    shop.paper = size
    shop.save()


@pytest.mark.parametrize("size", PAPERS)
def test_a_blank_sheet_is_one_page_with_everything_that_decides(owner_client, size):
    printed(size)
    response = owner_client.get(SHEET)
    assert response["Content-Type"] == "application/pdf"
    reader = PdfReader(io.BytesIO(response.content))
    assert len(reader.pages) == 1
    assert [round(side) for side in reader.pages[0].mediabox[2:]] == list(PAPERS[size])
    text = text_of(response.content)
    for word in (
        "Luminous paint first.",
        "Crystal flat",
        "Bore diameter calliper ±0.05, step discs ±0.02",
        "Post height",
    ):
        assert word in text
    for word in ("4 Empty case", "6 Dial off", "9 Stem and crown", "seconds", "Foot angle", "Date numeral radial size"):
        assert word in text
    assert "furniture" not in text
    assert "Mass" not in text


@pytest.mark.parametrize("size", PAPERS)
def test_a_fit_checks_sheet_asks_for_what_is_missing_and_tells_the_rest(owner_client, pairing, size):
    printed(size)
    content = owner_client.get(SHEET, {"pairing": pairing.pk}).content
    assert len(pdf_pages(content)) == 1
    text = text_of(content)
    assert "Grey" in text
    assert "Back depth calliper ±0.08" in text
    assert "Bore diameter 26.20" in text
    assert "Bore diameter calliper" not in text


@pytest.mark.parametrize("size", PAPERS)
def test_no_fit_check_of_the_demo_runs_onto_a_second_page(owner, size):
    fill_workshop()
    printed(size)
    pairings = Pairing.objects.with_parts()[:12]
    assert len(pairings) > 5
    assert {len(pdf_pages(measuring_pdf(pairing=pairing))) for pairing in pairings} == {1}


def test_a_dial_without_a_window_is_asked_for_none(owner_client, pairing):
    dial = pairing.dial
    dial.has_window, dial.fixing = False, "pads"
    dial.save()
    text = text_of(owner_client.get(SHEET, {"pairing": pairing.pk}).content)
    assert "Window" not in text
    assert "Foot angle" not in text


def test_a_jobs_sheet_names_the_job_and_is_kept_with_its_papers(owner_client, owner, pairing):
    job = JobFactory(number="26-014")
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    response = owner_client.post(reverse("jobs:paper", args=[job.number, "measure"]))
    content = b"".join(owner_client.get(response.url).streaming_content)
    assert PaperOut.objects.get().kind == "measure"
    assert len(pdf_pages(content)) == 1
    text = text_of(content)
    assert f"26-014 {job.title}" in text
    assert "Back depth calliper" in text
    frame = top_of(content, "Luminous paint first.") + 6.4
    assert bottom_of(content, "Grey") > frame + 1


def test_a_jobs_sheet_without_an_option_asks_for_everything(owner_client):
    job = JobFactory(number="26-015")
    response = owner_client.post(reverse("jobs:paper", args=[job.number, "measure"]))
    content = b"".join(owner_client.get(response.url).streaming_content)
    assert len(pdf_pages(content)) == 1
    assert "Bore diameter calliper" in text_of(content)


@pytest.mark.parametrize("key", ["0", "99999", "x", ""])
def test_a_fit_check_that_is_not_there_has_no_sheet(owner_client, key):
    assert owner_client.get(SHEET, {"pairing": key}).status_code == 404


def test_a_reader_may_print_one(reader):
    assert reader.get(SHEET).status_code == 200


def test_a_number_has_the_letter_that_the_quick_check_calls_it_by():
    def letters(**case):
        return {row.label: row.letter for block in blocks_of({"case": case}) for row in block.rows}

    back, front = letters(), letters(construction="front")
    assert (back["Bore diameter"], back["Back depth"], back["Seat wall"]) == ("A", "E", "")
    assert (front["Bore diameter"], front["Floor to stem axis"], front["Floor to ring"]) == ("A", "E", "F")


def test_a_case_loaded_from_the_front_asks_for_its_own_numbers_and_for_a_split_stem():
    def asked(**case):
        return {row.label for block in blocks_of({"case": case}) for row in block.rows}

    back, front = asked(), asked(construction="front")
    assert front - back == {
        "Front opening diameter",
        "Floor to stem axis",
        "Floor to ring",
        "Floor to crystal at the centre",
        "Stem joint inner length",
        "Stem joint outer length",
        "Stem joint overlap",
    }
    assert {"Back depth", "Seat wall", "Dial seat diameter", "Crystal gap at the centre"} <= back - front


def test_the_sheet_of_a_case_loaded_from_the_front_is_one_page(pairing):
    pairing.case = CaseFactory(name="one piece", loading="front")
    pairing.save()
    assert len(pdf_pages(measuring_pdf(pairing=pairing))) == 1


def test_what_was_looked_at_is_told_and_not_asked_again():
    def asked_and_told(**sheet):
        blocks = blocks_of(sheet)
        return {words for block in blocks for words, _ in block.ticks}, {
            word for block in blocks for word in block.known
        }

    choices = {"Date window", "Loads from the", "Dial held by"}
    asked, told = asked_and_told()
    assert (choices <= asked, told) == (True, set())
    asked, told = asked_and_told(case={"construction": "front"}, dial={"window": "none", "fixing": "pads"})
    assert not choices & asked
    assert {"Date window none", "Loads from the front", "Dial held by pads"} <= told
    assert "Date window" in asked_and_told(dial={"window": {"angle": 90.0}})[0]


def test_without_a_window_only_the_ring_of_a_date_disc_is_asked_for_under_which_pads_may_not_lie():
    def dates(**sheet):
        return {row.label for block in blocks_of(sheet) for row in block.rows if row.label.startswith("Date ")}

    disc = {"Date disc inner radius", "Date disc outer radius"}
    assert disc < dates()
    assert dates(dial={"window": "none"}) == disc


def test_no_diameter_is_asked_of_an_edge_that_is_not_round():
    rectangle = {"shape": "rectangle", "width": 31.2, "height": 31.2, "corner": 11.0}
    shaped = {"case": {"bore_outline": rectangle, "opening_outline": rectangle}, "dial": {"outline": rectangle}}
    labels = [row.label for block in blocks_of(shaped) for row in block.rows]
    assert not {"Bore diameter", "Dial opening diameter", "Diameter"} & {*labels}
    assert "Dial seat diameter" in labels
    carried = {"dial": {"rests_on": "movement"}}
    assert "Dial seat diameter" not in [row.label for block in blocks_of(carried) for row in block.rows]
