"""The papers of a job, read back with independent readers."""

import datetime as dt
import io
import re
from datetime import timedelta
from decimal import Decimal as D

import pypdfium2
import pytest
import zxingcpp
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image
from pypdf import PdfReader

from jobs.models import PaperOut, QuoteLine, QuotePart, Shop
from jobs.options import choosing
from jobs.papers import facts
from jobs.papers.dates import months_later
from jobs.papers.facts import PAINT
from jobs.papers.labels import SIZES
from jobs.papers.making import NothingToPrint, paper_pdf
from jobs.photos.storing import store_pictures
from jobs.quotes import versions
from jobs.quotes.ways import ways_of
from jobs.stages import progress
from jobs.stages.checklist import items_of
from jobs.timing import timing_runs
from parts.demo import fill_workshop
from parts.fit.drawings import foot_cutting_svg, foot_template_svg
from parts.fit.drawings.foot_template import CONTROL
from parts.models import Dial, Pairing
from parts.pairings.answer import answer
from parts.tools.pictures import as_kept, encoded
from tests.factories import DialFactory, JobFactory, MovementFactory, PairingFactory
from tests.reading import pdf_pages, pdf_words

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
MM = 72 / 25.4
ADDRESS = "http://127.0.0.1:8000/jobs/26-001/"


@pytest.fixture
def job(owner):
    job = JobFactory(customer__name="Ottilie Reed", keep="dial", promised=timezone.localdate() + timedelta(days=9))
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True), name="Grey")
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    return job


def picture_of(content, page=0, dots_a_mm=20):
    return pypdfium2.PdfDocument(content)[page].render(scale=dots_a_mm / MM).to_pil()


def test_papers_open_beside_the_page_that_they_come_from(owner_client, job):
    """The button's own form, or the link, says so."""
    for name in ("logged", "job"):
        text = owner_client.get(reverse(f"jobs:{name}", args=[job.number])).text
        forms = [form for form in re.findall(r"<form.*?</form>", text, re.DOTALL) if "/papers/" in form]
        assert forms
        assert all('target="_blank"' in form.partition(">")[0] for form in forms)
    owner_client.post(reverse("jobs:paper", args=[job.number, "receipt"]))
    link = re.search(r'<a\s+href="[^"]*/papers/kept/\d+/"[^>]*>', owner_client.get(job.get_absolute_url()).text)[0]
    assert 'target="_blank"' in link


def made(job, kind, **more):
    return paper_pdf(job=job, kind=kind, address=ADDRESS, **more)


@pytest.mark.parametrize("kind", ["receipt", "label", "sheet", "template", "handover"])
def test_a_paper_is_made_kept_and_opened_again_as_it_went_out(owner_client, job, kind):
    response = owner_client.post(reverse("jobs:paper", args=[job.number, kind]))
    kept = PaperOut.objects.get()
    content = b"".join(owner_client.get(response.url).streaming_content)
    assert content == kept.file.read()
    reader = PdfReader(io.BytesIO(content))
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert job.number in reader.metadata.title
    fonts = reader.pages[0]["/Resources"]["/Font"].values()
    assert {font.get_object()["/BaseFont"].split("+")[1][:5] for font in fonts} == {"Plex-"}
    assert kept.file.name.startswith(f"papers/{job.number}-{kind}-")


def test_luminous_paint_that_was_chosen_is_not_called_unseen(owner_client):
    for luminous, unseen in (("none", False), ("", True)):
        job = JobFactory(luminous=luminous)
        assert ("luminous paint" in facts.receipt(job, shop=Shop.current())["not_looked"]) is unseen


@pytest.mark.parametrize("kind", ["label", "receipt", "sheet"])
def test_the_code_opens_the_job(job, kind):
    codes = zxingcpp.read_barcodes(picture_of(made(job, kind), dots_a_mm=12))
    assert [code.text for code in codes] == [ADDRESS]


def test_the_papers_have_the_size_that_the_shop_has_set(job):
    Shop.objects.create(paper="letter")
    box = PdfReader(io.BytesIO(made(job, "receipt"))).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((612, 792), abs=0.5)
    box = PdfReader(io.BytesIO(made(job, "label"))).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((90 * MM, 40 * MM), abs=0.5)


@pytest.mark.parametrize("size", list(SIZES))
def test_the_label_is_one_page_however_long_the_names_are_with_its_warning_first_and_inverse(job, size):
    job.luminous = "aged"
    job.save()
    job.customer.name, job.watch, job.case_family = "W" * 80, "x " * 100, None
    content = paper_pdf(job=job, kind="label", address=ADDRESS, shop=Shop(label=size))
    (words,) = pdf_pages(content)
    assert words.startswith(f"KEEP CLOSED: old luminous paint {job.number}")
    picture = picture_of(content, dots_a_mm=12).convert("L")
    assert [code.text for code in zxingcpp.read_barcodes(picture)] == [ADDRESS]
    black = picture.point(lambda grey: 255 if grey < 60 else 0).getbbox()
    top = picture.crop((black[0], black[1], black[0] + 200, black[1] + 6)).tobytes()
    assert top.count(0) > 0.9 * len(top), "the warning stands on black"


@pytest.mark.parametrize(
    ("size", "place", "left", "top"),
    [("a4-24", 1, 0, 0.5), ("a4-24", 24, 140, 259.5), ("a4-21", 5, 73.25, 53.25), ("letter-30", 30, 144.4, 241.3)],
)
def test_a_label_lies_at_its_place_of_the_sheet(job, size, place, left, top):
    """The corners, mm, from the sheets' own dimensions: 24 of 70 x 37 mm begin 0.50 mm below the edge of A4."""
    content = paper_pdf(job=job, kind="label", address=ADDRESS, shop=Shop(label=size), place=place)
    assert len(PdfReader(io.BytesIO(content)).pages) == 1
    ink = picture_of(content, dots_a_mm=8).convert("L").point(lambda grey: 255 if grey < 128 else 0).getbbox()
    width, height = SIZES[size].width, SIZES[size].height
    assert left <= ink[0] / 8 < left + 0.2 * width
    assert top <= ink[1] / 8 < top + 0.3 * height
    assert ink[2] / 8 < left + width
    assert ink[3] / 8 < top + height


def test_a_code_opens_on_another_device_or_carries_the_number_alone(owner_client, job, settings):
    def code(**more):
        response = owner_client.post(reverse("jobs:paper", args=[job.number, "label"]), **more)
        content = b"".join(owner_client.get(response.url).streaming_content)
        return [code.text for code in zxingcpp.read_barcodes(picture_of(content, dots_a_mm=12))]

    settings.ALLOWED_HOSTS = ["*"]
    assert code(headers={"host": "127.0.0.1:8000"}) == [job.number]
    assert code(headers={"host": "localhost"}) == [job.number]
    assert code(headers={"host": "bench.example:8000"}) == [f"http://bench.example:8000/jobs/{job.number}/"]
    settings.DIALSIDE_LAN = "192.0.2.7"
    assert code(headers={"host": "127.0.0.1:8000"}, SERVER_PORT="8000") == [
        f"https://192.0.2.7:8000/jobs/{job.number}/"
    ]


def test_the_place_on_a_label_sheet_is_asked_for_where_there_is_one(owner_client, job):
    assert 'name="place"' not in owner_client.get(job.get_absolute_url()).text
    Shop.objects.create(label="a4-24")
    assert 'name="place"' in owner_client.get(job.get_absolute_url()).text
    for place in ("24", "25", "²", "-1", "", "9" * 30):
        assert owner_client.post(reverse("jobs:paper", args=[job.number, "label"]), {"place": place}).status_code == 302


def test_every_size_of_a_label_has_its_dimensions():
    assert list(SIZES) == Shop.Label.values


def test_both_control_bars_of_the_template_are_printed_at_exactly_one_to_one(job):
    picture = picture_of(made(job, "template")).convert("L")
    for turned in (picture, picture.transpose(Image.Transpose.TRANSPOSE)):
        dark = turned.point(lambda grey: 255 if grey < 150 else 0).tobytes()
        rows = (dark[at : at + turned.width] for at in range(0, len(dark), turned.width))
        runs = {len(run) for row in rows for run in re.findall(rb"\xff{101,}", row)}
        assert any(abs(run - CONTROL * 20) <= 4 for run in runs), "a control bar of 20.00 mm"


def test_the_template_has_a_copy_to_cut_a_minute_ring_and_pads(job):
    text = pdf_words(made(job, "template"))
    for words in ("seen from behind", "To cut out", "5 10 15", "Where pads may lie", "pad 3", "each must be 20.00 mm"):
        assert words in text


def test_without_foot_holes_the_template_still_maps_the_pads(job, owner):
    job = JobFactory()
    pairing = PairingFactory(movement=MovementFactory(foot_holes=False, foot_holes_recorded=False))
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    text = pdf_words(made(job, "template"))
    assert "Where pads may lie" in text
    assert "Not measured, so not kept clear:" in text
    assert "To read" not in text


def test_a_template_that_nothing_measured_could_be_laid_on_by_says_what_lacks(job, owner):
    option = choosing.chosen_option(job)
    Dial.objects.filter(pk=option.pairing.dial_id).update(diameter=None)
    with pytest.raises(NothingToPrint, match="Measure it first: dial diameter."):
        made(job, "template")
    shape = {"shape": "rectangle", "width": 25.0, "height": None, "corner": 2.0}
    Dial.objects.filter(pk=option.pairing.dial_id).update(outline=shape)
    with pytest.raises(NothingToPrint, match="Measure it first: dial outline height."):
        made(job, "template")


def test_a_template_of_a_dial_that_is_not_round_has_its_outline(job):
    shape = {"shape": "rectangle", "width": 25.0, "height": 29.0, "corner": 2.0}
    pairing = choosing.chosen_option(job).pairing
    Dial.objects.filter(pk=pairing.dial_id).update(diameter=None, outline=shape)
    report = answer(Pairing.objects.with_parts().get(pk=pairing.pk)).report
    for drawn in (foot_template_svg(report), foot_cutting_svg(report)):
        assert 'width="25" height="29"' in drawn
        assert 'r="15" class="outline"' not in drawn


def test_the_template_needs_a_pairing(owner_client):
    job = JobFactory()
    response = owner_client.post(reverse("jobs:paper", args=[job.number, "template"]), follow=True)
    assert "The template needs a chosen option" in response.text
    assert PaperOut.objects.count() == 0


def test_the_job_sheet_has_numbers_checklists_and_cautions(job):
    text = pdf_words(made(job, "sheet"))
    for words in (
        "Top of the hour hand 0.90 mm above the dial.",
        "Must be kept dial",
        "Stem length L",
        "scale 5:1",
        "Hour hand set to 12 as the date jumps.",
        "Eye protection when cutting",
        "page 1 of 3",
        "page 3 of 3",
    ):
        assert words in text


def test_the_job_sheet_names_every_part_that_goes_in(job):
    pairing = choosing.chosen_option(job).pairing
    text = pdf_words(made(job, "sheet"))
    hands = pairing.hands
    for words in (
        f"Movement {pairing.movement} quartz",
        f"Dial {pairing.dial}",
        f"Hour hand {hands}",
        f"Minute hand {hands}",
        f"Seconds hand {hands}",
        f"Stem {pairing.stem} cut to L",
        f"Crown {pairing.crown}",
        f"Cell {pairing.movement.cell_type}",
    ):
        assert words in text


def test_the_job_sheet_tells_how_the_watch_came_and_how_to_reach_its_owner(job):
    job.came_with, job.remarks, job.serial = "leather strap", "Call before Friday.", "A-1187"
    job.save()
    job.conditions.all().delete()
    job.conditions.create(subject="crystal", finding="worn", remark="hairline near 4")
    text = pdf_words(made(job, "sheet"))
    customer = job.customer
    for words in (
        f"Ottilie Reed, {customer.phone}",
        "serial number A-1187",
        "Came with leather strap",
        "Remarks Call before Friday.",
        "Crystal: worn, hairline near 4",
    ):
        assert words in text


def test_the_job_sheet_tells_in_full_what_the_customer_accepts(job, owner, quote):
    QuoteLine.objects.filter(part__quote=quote).delete()
    part = QuotePart.objects.get()
    QuoteLine.objects.create(part=part, text="Fit the hands", price=D("36.00"))
    QuoteLine.objects.create(part=part, text="A sliver of the next date will show.", kind="accept")
    assert "A sliver of the next date will show." not in pdf_words(made(job, "sheet"))
    out = versions.send(quote=quote, by=owner)
    today = timezone.localdate()
    versions.accept(quote=out, part=out.parts.get(), taken=set(), by=owner, said_by="x", how="phone", on=today)
    text = pdf_words(made(job, "sheet"))
    assert "The customer accepted, quote version 1" in text
    assert "A sliver of the next date will show." in text


def test_the_job_sheet_asks_only_for_what_is_not_known(job):
    pairing = choosing.chosen_option(job).pairing
    case = pairing.case
    assert "Case back depth not measured" not in pdf_words(made(job, "sheet"))
    case.back_depth = None
    case.save()
    text = pdf_words(made(job, "sheet"))
    assert "Case back depth not measured" in text
    assert "Case bore diameter" not in text


def test_photos_stand_with_their_captions_or_without_any(job, owner):
    store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (60, 40), "grey"))] * 3, by=owner)
    photo = job.photos.first()
    photo.caption = "scratch on the lug"
    photo.save()
    text = pdf_words(made(job, "sheet"))
    assert "Photos scratch on the lug" in text
    assert "photo 1" not in text


def test_the_job_sheet_draws_the_design_that_fitted(owner):
    fill_workshop()
    pairing = Pairing.objects.get(name="Tollgate 40, crown at 4")
    job = JobFactory(case_family=pairing.case.family)
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    pages = pdf_pages(made(job, "sheet"))
    [page] = [page for page in pages if "Holder ring for Tollgate 40 with Wick date at 3, revision 1" in page]
    for drawn in ("Section along the stem scale 5:1", "Plan from the dial side scale 1.5:1", "Wall sections scale 6:1"):
        assert drawn in page, re.findall(r"scale \S+", page)


def test_the_job_sheet_tells_the_holder_ring(owner):
    job = JobFactory()
    pairing = PairingFactory(case__bore_diameter=28.0)
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    text = pdf_words(made(job, "sheet"))
    assert "Holder ring outside 27.80 mm, inside 26.10 mm, wall 0.85 mm" in text


def test_the_handover_note_tells_the_rate_the_date_and_the_cautions(job, owner):
    run = timing_runs.start_run(job=job, by=owner)
    for day in range(5):
        at = timezone.now() - timedelta(days=4 - day)
        timing_runs.add_reading(run=run, at=at, offset_s=-0.3 * day, how="tap")
    text = pdf_words(made(job, "handover"))
    for words in (
        "It loses about 0.30 seconds a day",
        "That is within the maker's limits.",
        "Do not set it between 9 p.m. and 3 a.m.",
        "Battery: SR621",
        "out of reach of children",
        "its water-resistance rating no longer counts",
    ):
        assert words in text
    assert "pressure test is recorded" not in text


def test_the_handover_note_tells_the_rate_that_the_verdict_is_of(job, owner):
    """0.62 s/day at 25 °C are 0.55 on the wrist at 30 °C, where the limits are held."""
    run = timing_runs.start_run(job=job, by=owner, bench_temperature=25.0)
    for days, offset in ((50, 0.0), (0, 31.0)):
        at = timezone.now() - timedelta(days=days)
        timing_runs.add_reading(run=run, at=at, offset_s=offset, how="tap")
    text = pdf_words(made(job, "handover"))
    assert "worked out its rate on the wrist, at 30 °C. It gains about 0.55 seconds a day" in text
    assert "about 17 seconds a month" in text


def test_the_handover_note_tells_no_rate_that_is_not_known_yet(job, owner):
    run = timing_runs.start_run(job=job, by=owner)
    for minutes, offset in ((20, 0.0), (0, 0.3)):
        at = timezone.now() - timedelta(minutes=minutes)
        timing_runs.add_reading(run=run, at=at, offset_s=offset, how="tap")
    text = pdf_words(made(job, "handover"))
    assert "We did not time it over several days." in text
    assert "seconds a day" not in text


def test_an_unfinished_jobs_handover_note_says_so(job):
    assert "Draft: not yet finished. Still to do: teardown, holder" in pdf_words(made(job, "handover"))
    job.stages.exclude(kind="handover").update(state="done")
    assert "Draft" not in pdf_words(made(job, "handover"))


@pytest.mark.parametrize(
    ("facts", "said", "not_said"),
    [
        (
            {"movement__kind": "mechanical", "movement__cell_type": ""},
            ["a mechanical movement", "If your watch is hand-wound"],
            ["cell is", "button battery", "Caution."],
        ),
        ({"movement__kind": "", "movement__cell_type": ""}, ["button battery", "Caution."], []),
        (
            {
                "movement__kind": "",
                "movement__cell_type": "",
                "movement__cell_capacity": None,
                "movement__current": None,
            },
            [],
            ["button battery"],
        ),
        ({"hands__seconds": False}, ["When the watch loses time or stops, the battery"], ["seconds hand jumps"]),
        (
            {},
            ["seconds hand jumps", "We did not time it over several days."],
            ["Do not set it between", "unscrew", "If your watch is hand-wound"],
        ),
        ({"crown__style": "screw"}, ["unscrew it first, and screw it down again"], []),
    ],
)
def test_the_handover_note_is_true_of_the_watch(owner, facts, said, not_said):
    job = JobFactory(wish="It should run.")
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(**facts), by=owner), by=owner)
    text = pdf_words(made(job, "handover"))
    assert [words for words in said if words not in text] == []
    assert [words for words in not_said if words in text] == []


@pytest.fixture
def accepted(job, owner):
    """The job's quote, accepted without its one extra."""
    made_quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    QuoteLine.objects.filter(text="New hands").update(optional=True)
    QuoteLine.objects.filter(price=None).update(price=D(1))
    out = versions.send(quote=made_quote, by=owner)
    today = timezone.localdate()
    return versions.accept(quote=out, part=out.parts.get(), taken=set(), by=owner, said_by="x", how="phone", on=today)


def test_the_handover_note_lists_the_work_and_parts_that_were_agreed(job, accepted):
    text = pdf_words(made(job, "handover"))
    assert "Work Open the watch and remove movement, dial and hands" in text.replace("• ", "")
    assert "Parts New quartz movement New crown New stem" in text.replace("• ", "")
    assert "New hands" not in text
    assert "nickel" in text
    assert "Agreed total" not in text
    (way,) = ways_of(quote=accepted)
    assert f"Agreed total €{way.sums.total}" in pdf_words(made(job, "handover", sees_money=True))


def test_a_note_without_a_quote_lists_nothing_and_names_no_new_crown(job):
    text = pdf_words(made(job, "handover", sees_money=True))
    assert not [words for words in ("New stem", "Open the watch", "nickel", "Agreed total") if words in text]


def test_old_parts_come_back_only_where_they_are_ticked(job, owner):
    words = "The parts we removed are returned to you"
    assert words not in pdf_words(made(job, "handover"))
    items = {item.name: item for item in items_of("handover", None, job)}
    progress.tick(stage=job.stages.get(kind="handover"), item=items["old-parts-packed"], done=True, by=owner)
    assert words in pdf_words(made(job, "handover"))


@pytest.mark.parametrize(
    ("day", "months", "end"),
    [
        (dt.date(2026, 11, 26), 12, dt.date(2027, 11, 26)),
        (dt.date(2024, 2, 29), 12, dt.date(2025, 2, 28)),
        (dt.date(2026, 8, 31), 6, dt.date(2027, 2, 28)),
        (dt.date(2026, 1, 15), 24, dt.date(2028, 1, 15)),
        (dt.date(2026, 12, 1), 1, dt.date(2027, 1, 1)),
    ],
)
def test_a_warranty_ends_on_the_same_day_some_months_on(day, months, end):
    assert months_later(day, months) == end


def test_the_warranty_has_its_dates_once_the_work_is_finished(job):
    assert "ends on" not in pdf_words(made(job, "handover"))
    job.stages.exclude(kind="handover").update(state="done")
    end = months_later(timezone.localdate(), 12)
    assert f"ends on {end:%-d %B %Y}" in pdf_words(made(job, "handover"))
    Shop.objects.create(warranty_months=0)
    assert "ends on" not in pdf_words(made(job, "handover"))


def photo(job, owner, stage, colour, caption=""):
    picture = as_kept(Image.new("RGB", (300, 300), colour))
    return store_pictures(job=job, pictures=[picture], by=owner, stage=stage, caption=caption)[0]


def red_and_blue(content):
    colours = picture_of(content, dots_a_mm=4).convert("RGB").getcolors(1_000_000)
    red = sum(count for count, (r, g, b) in colours if r > 200 and g < 60 and b < 60)
    return red, sum(count for count, (r, g, b) in colours if r < 60 and g < 60 and b > 200)


def test_the_note_shows_the_watch_before_and_after(job, owner):
    photo(job, owner, "intake", "#f00000")
    assert red_and_blue(made(job, "handover")) == (0, 0), "one picture is no pair"
    photo(job, owner, "hands", "#0000f0")
    assert all(dots > 30_000 for dots in red_and_blue(made(job, "handover")))


def test_the_receipt_tells_what_is_known_of_the_luminous_paint(job):
    for choice, words in PAINT.items():
        job.luminous = choice
        assert f"Luminous paint {words}" in pdf_words(made(job, "receipt"))
    job.luminous = ""
    assert "Luminous paint" not in pdf_words(made(job, "receipt"))


def test_the_receipt_shows_the_pictures_and_what_was_not_looked_at(job, owner):
    photo(job, owner, "intake", "#f00000", "Scratch at 4")
    job.conditions.create(subject="crystal", finding="worn", remark="fine scratches")
    job.customer.email, job.declared_value = "ottilie@reed.example", D(1200)
    content = made(job, "receipt")
    text = pdf_words(content)
    for words in (
        "555 0100 ottilie@reed.example",
        "Value you declared €1,200.00",
        "Crystal worn fine scratches",
        "Not looked at yet: case, crown, tube, gasket, dial, hands, movement runs, signs of water.",
        "Scratch at 4",
        "the value declared above is the basis",
        "Please collect your watch within three months",
        "We use your details only for this job",
        "The workshop's copy",
        "page 1 of 1",
    ):
        assert words in text, words
    assert red_and_blue(content)[0] > 5_000


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_an_ordinary_receipt_is_one_page(job, owner, paper):
    Shop.objects.create(paper=paper, name="The Bench", address="Two lanes\nOne mill\nHollin Ferry\n555 0199")
    job.customer.address, job.customer.email = "3 Weir Lane\nHollin Ferry", "o@reed.example"
    photo(job, owner, "intake", "#f00000", "As it came")
    for subject in ("crystal", "runs", "water"):
        job.conditions.create(subject=subject, remark="as it was said")
    assert len(PdfReader(io.BytesIO(made(job, "receipt"))).pages) == 1


def test_a_receipt_of_many_photos_tells_how_many_more_there_are(job, owner):
    for _ in range(10):
        photo(job, owner, "intake", "#f00000")
    assert "We took 2 more photos." in pdf_words(made(job, "receipt"))


def test_texts_that_the_shop_has_cleared_are_not_printed(job):
    Shop.objects.create(liability="", uncollected="", privacy="")
    text = pdf_words(made(job, "receipt"))
    assert "Please quote the job number" in text
    assert "declared above" not in text


@pytest.mark.parametrize("kind", ["handover", "receipt"])
def test_every_picture_on_a_paper_has_words(job, owner, kind):
    shop = Shop.objects.create(name="The Bench")
    shop.logo.save("logo.jpg", ContentFile(encoded(Image.new("RGB", (90, 90)), 90)))
    photo(job, owner, "intake", "#f00000")
    photo(job, owner, "hands", "#0000f0")
    pictures = [element for element in elements(made(job, kind)) if element.get("/S") == "/Figure"]
    assert pictures
    assert all(element.get("/Alt") for element in pictures)


@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_words_without_a_gap_stay_within_the_margins(job, owner, quote, paper):
    long = "Wasserdichtigkeit" * 18
    Shop.objects.create(paper=paper, name=long[:120], address=long, terms=long, liability=long, greeting=long)
    job.customer.name, job.customer.address, job.customer.email = long[:80], long, f"{long[:60]}@{long[:60]}.example"
    job.watch, job.serial, job.wish, job.came_with, job.keep = long[:200], long[:60], long, long, long
    job.conditions.create(subject="crystal", finding="worn", remark=long[:300])
    quote.title, quote.note = long[:160], long
    second = QuotePart.objects.create(quote=quote, title=long[:160], position=2)
    most = {"price": D("9999999.99"), "tax_rate": D(20)}
    QuoteLine.objects.create(part=quote.parts.first(), text=long[:300], optional=True, **most)
    QuoteLine.objects.create(part=second, text=f"a{long[:299]}", **most)
    quote.save()
    out = versions.send(quote=quote, by=owner)
    for kind, more in (("quote", {"quote": out}), ("receipt", {}), ("handover", {})):
        for page in pypdfium2.PdfDocument(made(job, kind, **more)):
            words = page.get_textpage()
            boxes = [words.get_charbox(i) for i in range(words.count_chars())]
            assert max(right for _, _, right, _ in boxes) <= page.get_width() - 13 * MM, kind
            assert min(left for left, _, _, _ in boxes if left) >= 12 * MM, kind


def elements(content):
    """Every element of the PDF's structure tree."""
    todo = [PdfReader(io.BytesIO(content)).trailer["/Root"]["/StructTreeRoot"]]
    while todo:
        element = todo.pop().get_object() if hasattr(todo[-1], "get_object") else todo.pop()
        if isinstance(element, list):
            todo += element
        elif isinstance(element, dict):
            yield element
            todo += [element["/K"]] if "/K" in element else []


def test_the_handover_note_tells_a_pressure_test_only_when_it_held(job, owner):
    stage = job.stages.get(kind="handover")
    items = {item.name: item for item in items_of("handover", None, job)}
    progress.tick(stage=stage, item=items["pressure"], done=True, by=owner)
    assert "We did not pressure-test your watch." in pdf_words(made(job, "handover"))
    progress.tick(stage=stage, item=items["tight"], done=True, by=owner)
    assert "your watch passed a pressure test." in pdf_words(made(job, "handover"))
    stage.pressure_bar = D("3.5")
    stage.save()
    text = pdf_words(made(job, "handover"))
    assert "your watch passed a pressure test at 3.5 bar" in text
    assert "its water-resistance rating no longer counts" not in text


def test_an_archived_timing_run_is_not_printed(job, owner):
    run = timing_runs.start_run(job=job, by=owner)
    for day in range(5):
        timing_runs.add_reading(run=run, at=timezone.now() - timedelta(days=4 - day), offset_s=9.0 * day, how="tap")
    assert "9.00 seconds a day" in pdf_words(made(job, "handover"))
    timing_runs.archive(run=run, archived=True, by=owner)
    assert "We did not time it over several days." in pdf_words(made(job, "handover"))


def test_a_rate_of_nothing_is_told_in_words(job, owner):
    run = timing_runs.start_run(job=job, by=owner)
    for day in range(5):
        timing_runs.add_reading(run=run, at=timezone.now() - timedelta(days=4 - day), offset_s=0.0, how="tap")
    text = pdf_words(made(job, "handover"))
    assert "neither gains nor loses" in text
    assert "0.00" not in text


@pytest.fixture
def quote(job, owner):
    made = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    made.parts.get().lines.all().delete()
    return made


def test_the_quote_prints_its_lines_sums_and_disclosures(job, quote):
    part = QuotePart.objects.get()
    QuoteLine.objects.create(part=part, text="Fit the hands", price=D("36.00"), tax_rate=D(19))
    QuoteLine.objects.create(part=part, text="A sliver will show.", kind="accept", from_check="date-neighbours")
    text = pdf_words(made(job, "quote", quote=quote))
    for words in ("Fit the hands €36.00", "includes tax, 19 % €5.75", "Total €36.00", "A sliver will show."):
        assert words in text
    assert "The date in its window, enlarged" in text


def test_the_quote_says_what_its_sum_holds(job, quote):
    part = QuotePart.objects.get()
    QuoteLine.objects.create(part=part, text="Fit the hands", price=D("36.00"))
    polish = QuoteLine.objects.create(part=part, text="Polish", price=D("10.00"), optional=True)
    text = pdf_words(made(job, "quote", quote=quote))
    assert "Polish (optional) €10.00" in text
    assert "Total with all extras €46.00" in text
    polish.taken = False
    polish.save()
    text = pdf_words(made(job, "quote", quote=quote))
    assert "Polish (not chosen, not included) €10.00" in text
    assert "€36.00" in text


def test_sixty_lines_break_with_the_total_beside_a_line(job, quote):
    part = QuotePart.objects.get()
    QuoteLine.objects.bulk_create(
        QuoteLine(part=part, position=i, text=f"Line {i} " + "word " * 30, price=D(1)) for i in range(60)
    )
    pages = pdf_pages(made(job, "quote", quote=quote))
    holding = [page for page in pages if "Total" in page]
    assert len(holding) == 1
    assert "Line 59" in holding[0]
    assert len(pages) > 2


def test_words_of_any_script_print_and_nothing_runs(job):
    Shop.objects.create(name="{{ 7|add:7 }} <script>alert(1)</script>", care='<img src="file:///etc/passwd"> Ωж')
    text = pdf_words(made(job, "handover"))
    assert "{{ 7|add:7 }} <script>alert(1)</script>" in text
    assert '<img src="file:///etc/passwd"> Ωж' in text


def test_the_logo_is_printed(owner_client, job):
    out = io.BytesIO()
    Image.new("RGB", (400, 200), "#ff00ff").save(out, "PNG")
    shop = {
        name: field.value_from_object(Shop()) for field in Shop._meta.fields for name in [field.name] if name != "logo"
    }
    data = {name: value for name, value in shop.items() if value not in (None, False)}
    logo = SimpleUploadedFile("logo.png", out.getvalue(), "image/png")
    response = owner_client.post(reverse("jobs:shop"), data | {"deposit": "0", "tax_rate": "0", "new_logo": logo})
    assert response.status_code == 302, response.context["form"].errors
    colours = picture_of(made(job, "receipt"), dots_a_mm=4).convert("RGB").getcolors(1_000_000)
    assert sum(count for count, (r, g, b) in colours if r > 220 and g < 60 and b > 220) > 1000


def test_an_unknown_paper_is_not_found(owner_client, job):
    assert owner_client.post(reverse("jobs:paper", args=[job.number, "poem"])).status_code == 404
    assert owner_client.post(reverse("jobs:paper", args=[job.number, "quote"])).status_code == 404


@pytest.mark.parametrize("version", ["9" * 30, "²", "-1", "1 or 1"])
def test_a_quote_of_an_unknown_version_is_not_printed(owner_client, job, version):
    address = reverse("jobs:paper", args=[job.number, "quote"])
    assert owner_client.post(f"{address}?version={version}").status_code == 404


@pytest.mark.parametrize("version", ["9" * 30, "0"])
def test_a_quote_page_of_an_unknown_version_is_not_found(owner_client, job, version):
    for page in ("", "send/", "next/", "answer/"):
        assert owner_client.post(f"/jobs/{job.number}/quotes/{version}/{page}").status_code == 404
    assert owner_client.get(f"/jobs/{job.number}/papers/kept/{version}/").status_code == 404
    assert owner_client.get(f"/jobs/{job.number}/orders/{version}/").status_code == 404
    assert owner_client.post(f"/jobs/{job.number}/stock/{version}/").status_code == 404
    assert owner_client.get(f"/stock/movements/{version}/").status_code == 404


def test_a_word_without_end_stays_on_the_page(job, quote):
    quote.note = "note" + "x" * 300 + "end"
    part = QuotePart.objects.get()
    QuoteLine.objects.create(part=part, text="line" + "y" * 300 + "end", price=D("36.00"))
    for page in pypdfium2.PdfDocument(made(job, "quote", quote=quote)):
        text = page.get_textpage()
        ends = [text.get_charbox(i)[2] for i in range(text.count_chars())]
        assert max(ends, default=0) <= page.get_width() - 14 * MM
    assert "€36.00" in pdf_words(made(job, "quote", quote=quote))


def test_of_two_ways_the_customer_marks_one_on_the_paper(job, owner, quote):
    first = quote.parts.get()
    second = QuotePart.objects.create(quote=quote, title="With the old hands", position=2)
    for part, price, extra in ((first, D(40), "New hands"), (second, D(30), "Polish")):
        QuoteLine.objects.create(part=part, text="Fit the movement", price=D(100))
        QuoteLine.objects.create(part=part, text=extra, price=price, optional=extra == "Polish")
    out = versions.send(quote=quote, by=owner)
    text = pdf_words(made(job, "quote", quote=out))
    assert "Your options Option 1: Quartz movement with date Option 2: With the old hands" in text
    assert "New hands €40.00 no Polish no €30.00, optional" in text
    assert "Total €140.00 €100.00; with all extras €130.00" in text
    assert "I choose, one of these" in text
    assert "Option 2: With the old hands, without extras €100.00 with this extra: Polish + €30.00" in text


def test_a_quote_of_one_option_asks_for_no_choice_and_compares_nothing(job, owner, quote):
    QuoteLine.objects.create(part=quote.parts.get(), text="Fit the movement", price=D(100))
    text = pdf_words(made(job, "quote", quote=versions.send(quote=quote, by=owner)))
    assert "Your options" not in text
    assert "I choose" not in text
    assert "Signature" in text


def test_nobody_signs_a_draft_and_a_line_without_a_price_makes_no_total(job, quote):
    assert "Signature" not in pdf_words(made(job, "quote", quote=quote))
    part = quote.parts.get()
    QuoteLine.objects.create(part=part, text="Fit the movement", price=D("123.45"))
    QuoteLine.objects.create(part=part, text="New stem", kind="part")
    text = pdf_words(made(job, "quote", quote=quote))
    assert "Total not yet known: 1 line without a price" in text
    assert text.count("123.45") == 1
    assert "Signature" not in text


@pytest.mark.parametrize("every", [4, pytest.param(1, marks=pytest.mark.long)])
def test_what_is_accepted_its_terms_and_the_signature_are_on_one_page(job, owner, quote, every):
    """Of quotes of one to twenty lines in the long trials, of every fourth of them in every run."""
    Shop.objects.create(terms="These are our terms. " * 30)
    part = quote.parts.get()
    for count in range(1, 21):
        QuoteLine.objects.create(part=part, text=f"Line {count}", price=D(1), position=count)
        if count % every:
            continue
        quote.state = "sent"
        pages = pdf_pages(made(job, "quote", quote=quote))
        (last,) = [page for page in pages if "Signature" in page]
        assert "I accept quote" in last
        assert " ".join(last.split()).count("These are our terms.") == 30
        assert f"€{count}.00" in last


def test_an_answered_quote_says_by_whom_and_asks_for_no_signature(job, owner, quote):
    QuoteLine.objects.create(part=quote.parts.get(), text="Fit the movement", price=D(100))
    out = versions.send(quote=quote, by=owner)
    today = timezone.localdate()
    versions.accept(quote=out, part=out.parts.get(), taken=(), by=owner, said_by="O. Reed", how="phone", on=today)
    out.refresh_from_db()
    text = pdf_words(made(job, "quote", quote=out))
    assert "Accepted by phone by O. Reed on" in text
    assert "Signature" not in text


def test_the_customers_window_has_no_construction_lines(job, quote):
    part = quote.parts.get()
    QuoteLine.objects.create(part=part, text="Fit the movement", price=D(100))
    QuoteLine.objects.create(part=part, text="A sliver will show.", kind="accept", from_check="date-neighbours")
    ((_, window, _),) = facts.quote(job, quote=quote)["ways"]
    for word in ("disc-edge", "numeral-box", 'class="dot"', "callout", "mark"):
        assert word not in window["svg"], word
    assert "17" in window["svg"]


def test_a_quote_has_no_code_that_only_the_shop_can_open(job, quote):
    assert zxingcpp.read_barcodes(picture_of(made(job, "quote", quote=quote), dots_a_mm=12)) == []


@pytest.mark.parametrize("kind", ["label", "sheet", "template"])
def test_every_picture_of_a_paper_has_a_text_in_its_place_and_no_paper_claims_more(job, owner, kind):
    store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (60, 40), "grey"))] * 2, by=owner)
    job.photos.filter(pk=job.photos.first().pk).update(caption="scratch on the lug")
    root = PdfReader(io.BytesIO(made(job, kind))).trailer["/Root"]
    figures = list(figures_of(root["/StructTreeRoot"]))
    assert figures
    assert all(str(figure.get("/Alt", "")).strip() for figure in figures)
    assert b"pdfuaid" not in (root["/Metadata"].get_data() if "/Metadata" in root else b"")


def figures_of(node):
    """The figures of a tree of tags."""
    node = node.get_object()
    if isinstance(node, list):
        for child in node:
            yield from figures_of(child)
    elif isinstance(node, dict):
        if node.get("/S") == "/Figure":
            yield node
        if "/K" in node:
            yield from figures_of(node["/K"])


def test_a_quote_shows_the_dial_as_it_will_be_with_each_option(job, owner, quote):
    first = quote.parts.get()
    first.option = None
    first.save()
    assert "As it will look" not in pdf_words(made(job, "quote", quote=quote))
    option = choosing.add_option(job=job, pairing=PairingFactory(), by=owner)
    first.option = option
    first.save()
    QuoteLine.objects.create(part=first, text="Fit the movement", price=D(100))
    text = pdf_words(made(job, "quote", quote=quote))
    assert text.count("As it will look") == 1
    assert "Colours in print are not promised" in text
    second = QuotePart.objects.create(quote=quote, title="With the old hands", position=2, option=option)
    QuoteLine.objects.create(part=second, text="Fit the movement", price=D(90))
    assert pdf_words(made(job, "quote", quote=quote)).count("As it will look") == 2
