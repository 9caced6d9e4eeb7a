"""A job's photos: captions, order, cover, pairs, marks, and as they came."""

import io
import re
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image
from pypdf import PdfReader

from jobs import bench
from jobs.customers.erase import erase
from jobs.customers.personal_data import personal_file
from jobs.models import Customer, Event, Job, Photo, Shop
from jobs.papers.making import paper_pdf
from jobs.photos import arranging, marks
from jobs.photos.storing import store_pictures, store_signed
from jobs.quotes import versions
from parts.tools.pictures import as_kept
from tests.factories import JobFactory
from tests.jobs.photos.test_originals import SECRET, jpeg
from tests.pages.jobs.test_papers import picture_of
from tests.reading import pdf_words

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
ARROW = {"kind": "arrow", "x": "10", "y": "20", "x2": "50", "y2": "50"}


@pytest.fixture
def job(files):
    return JobFactory()


def shown(job, owner, count=1, stage="intake", colour="grey", size=(600, 400)):
    return store_pictures(job=job, pictures=[as_kept(Image.new("RGB", size, colour))] * count, by=owner, stage=stage)


def at(name, photo):
    return reverse(f"jobs:photo-{name}", args=[photo.job.number, photo.pk])


def order(job, stage="intake"):
    return list(job.photos.filter(stage=stage, archived=False).values_list("pk", flat=True))


def test_a_caption_is_typed_on_the_photos_page_and_told_in_the_history(owner_client, job, owner):
    [photo] = shown(job, owner)
    assert owner_client.post(at("caption", photo), {"caption": "Scratch <at> 4"}).url == at("page", photo)
    photo.refresh_from_db()
    assert photo.caption == "Scratch <at> 4"
    event = job.events.filter(kind=Event.Kind.PHOTO_CAPTION).get()
    assert (event.before, event.after) == ("", "Scratch <at> 4")
    assert "Scratch &lt;at&gt; 4" in owner_client.get(at("page", photo)).text
    owner_client.post(at("caption", photo), {"caption": "Scratch <at> 4"})
    assert job.events.filter(kind=Event.Kind.PHOTO_CAPTION).count() == 1
    response = owner_client.post(at("caption", photo), {"caption": "x" * 201})
    assert response.status_code == 422
    assert "x" * 201 in response.text


@pytest.mark.parametrize(
    ("which", "steps", "becomes"),
    [(0, 1, [1, 0, 2, 3]), (3, -2, [0, 3, 1, 2]), (0, -1, [0, 1, 2, 3]), (1, 99, [0, 2, 3, 1]), (2, 0, [0, 1, 2, 3])],
)
def test_a_photo_moves_among_those_of_its_stage(owner_client, job, owner, which, steps, becomes):
    photos = shown(job, owner, 4)
    dial = shown(job, owner, 2, stage="dial")
    response = owner_client.post(at("move", photos[which]), {"steps": steps, "stage": "intake"})
    assert response.url == f"{job.get_absolute_url()}#photos"
    assert order(job) == [photos[i].pk for i in becomes]
    assert order(job, "dial") == [photo.pk for photo in dial]
    [last] = shown(job, owner)
    assert order(job)[-1] == last.pk, "a new photo comes last"


@pytest.mark.parametrize("steps", ["", "x", "²", "--1", "9" * 40])
def test_a_move_that_is_no_number_moves_nothing(owner_client, job, owner, steps):
    photos = shown(job, owner, 2)
    assert owner_client.post(at("move", photos[0]), {"steps": steps}).status_code == 302
    assert order(job) == [photo.pk for photo in photos]


def test_the_cover_stands_for_its_job_and_comes_first_on_papers(owner_client, job, owner):
    photos = shown(job, owner, 3)
    owner_client.post(at("cover", photos[1]))
    owner_client.post(at("cover", photos[2]))
    assert list(job.photos.filter(is_cover=True)) == [photos[2]]
    assert [each.thumbnail for each in bench.groups()[0].jobs] == [photos[2].pk]
    assert "Cover." in owner_client.get(job.get_absolute_url()).text
    content = paper_pdf(job=job, kind="receipt", address="")
    assert content
    owner_client.post(at("cover", photos[2]), {"do": "drop"})
    assert [each.thumbnail for each in bench.groups()[0].jobs] == [photos[0].pk]


def test_a_signed_quote_is_no_cover(owner_client, job, owner):
    quote = versions.empty_draft(job=job, by=owner)
    signed = store_signed(quote=quote, picture=as_kept(Image.new("RGB", (60, 40))), by=owner)
    owner_client.post(at("cover", signed))
    assert not job.photos.filter(is_cover=True).exists()


def test_a_chosen_pair_stands_on_the_page_and_on_the_handover_note(owner_client, job, owner):
    [before, other] = [*shown(job, owner, colour="#f00000"), *shown(job, owner, colour="#00a000")]
    [after] = shown(job, owner, stage="dial", colour="#0000f0")
    owner_client.post(at("caption", after), {"caption": "New dial"})
    owner_client.post(at("pair", after), {"before": before.pk})
    assert "Before and after" not in owner_client.get(reverse("jobs:stage", args=[job.number, "dial"])).text
    assert "Before and after" in owner_client.get(job.get_absolute_url()).text
    assert "Before the work" in owner_client.get(at("page", after)).text
    assert "After the work" in owner_client.get(at("page", before)).text
    content = paper_pdf(job=job, kind="handover", address="")
    words = pdf_words(content)
    assert "As it came" in words
    assert "New dial" in words
    colours = {colour for _, colour in picture_of(content, dots_a_mm=4).convert("RGB").getcolors(10**6)}
    assert any(red > 200 and green < 40 for red, green, _ in colours)
    assert any(blue > 200 and red < 40 for red, _, blue in colours)
    owner_client.post(at("pair", other), {"before": before.pk})
    after.refresh_from_db()
    assert after.before is None, "a photo is the first of one pair only"
    owner_client.post(at("pair", other), {"before": ""})
    other.refresh_from_db()
    assert other.before is None


def test_what_makes_no_pair_is_refused(owner_client, job, owner):
    one, two, three = shown(job, owner, 3)
    [strange] = shown(JobFactory(), owner)
    for key in (one.pk, strange.pk, 999, "x"):
        assert owner_client.post(at("pair", one), {"before": key}).status_code == 422
    owner_client.post(at("pair", two), {"before": one.pk})
    response = owner_client.post(at("pair", three), {"before": two.pk})
    assert response.status_code == 422
    assert "itself the second of a pair" in response.text
    with pytest.raises(arranging.NoPair):
        arranging.pair(photo=one, before=strange)


def test_marks_are_kept_as_data_drawn_over_and_undone(owner_client, job, owner):
    [photo] = shown(job, owner)
    with photo.file.open("rb") as file:
        untouched = file.read()
    owner_client.post(at("mark", photo), ARROW)
    owner_client.post(at("mark", photo), {"kind": "text", "x": "70", "y": "30", "text": "crack & <b>"})
    photo.refresh_from_db()
    assert photo.marks == [
        {"kind": "arrow", "x": 0.1, "y": 0.2, "x2": 0.5, "y2": 0.5},
        {"kind": "text", "x": 0.7, "y": 0.3, "text": "crack & <b>"},
    ]
    page = owner_client.get(at("page", photo)).text
    assert 'd="M 60 80 L 300 200' in page
    assert "crack &amp; &lt;b&gt;</text>" in page
    assert "style=" not in page[page.index('class="photo-stage"') : page.index("photo-zoom")]
    owner_client.post(at("mark", photo), {"do": "undo"})
    assert "crack" not in owner_client.get(at("page", photo)).text
    owner_client.post(at("mark", photo), {"do": "redo"})
    assert "crack" in owner_client.get(at("page", photo)).text
    owner_client.post(at("mark", photo), {"do": "undo"})
    owner_client.post(at("mark", photo), ARROW | {"kind": "ring"})
    owner_client.post(at("mark", photo), {"do": "redo"})
    photo.refresh_from_db()
    assert [mark["kind"] for mark in photo.marks] == ["arrow", "ring"]
    with photo.file.open("rb") as file:
        assert file.read() == untouched


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (ARROW | {"kind": "star"}, "kind"),
        (ARROW | {"x": "101"}, "x"),
        (ARROW | {"y": "nan"}, "y"),
        (ARROW | {"x2": ""}, "x2"),
        ({"kind": "text", "x": "1", "y": "1", "text": " "}, "text"),
        ({"kind": "text", "x": "1", "y": "1", "text": "x" * 61}, "text"),
    ],
)
def test_a_mark_that_cannot_be_is_refused_on_its_field(owner_client, job, owner, typed, field):
    [photo] = shown(job, owner)
    response = owner_client.post(at("mark", photo), typed)
    assert response.status_code == 422
    assert field in response.context["mark_form"].errors
    photo.refresh_from_db()
    assert photo.marks == []


def test_a_photo_takes_only_so_many_marks(owner_client, job, owner):
    [photo] = shown(job, owner)
    Photo.objects.update(marks=[marks_of()] * marks.MOST)
    response = owner_client.post(at("mark", photo), ARROW)
    assert "A photo takes 40 marks." in response.text


def marks_of(**more):
    return {"kind": "ring", "x": 0.5, "y": 0.5, "x2": 0.6, "y2": 0.5} | more


def test_marks_lie_at_their_place_on_papers(job, owner):
    """Measured on the paper's picture: the ring's colour at its four ends, the photo's own inside it."""
    [photo] = shown(job, owner, colour="#00a000", size=(900, 600))
    photo.marks = [marks_of(x2=0.7), {"kind": "text", "x": 0.1, "y": 0.9, "text": "here"}]
    photo.save()
    content = paper_pdf(job=job, kind="receipt", address="")
    assert "here" in pdf_words(content)
    picture = picture_of(content, dots_a_mm=20).convert("RGB")
    green = picture.point(lambda value: value).split()
    box = _box(green, lambda red, g, blue: red < 60 and 130 < g < 190 and blue < 60)
    wide, high = box[2] - box[0], box[3] - box[1]
    assert wide / high == pytest.approx(1.5, abs=0.02)
    centre, radius = (box[0] + 0.5 * wide, box[1] + 0.5 * high), 0.2 * wide
    for x, y in ((radius, 0), (-radius, 0), (0, radius), (0, -radius)):
        red, g, _ = picture.getpixel((round(centre[0] + x), round(centre[1] + y)))
        assert (red > 150, g < 90) == (True, True)
    assert picture.getpixel((round(centre[0]), round(centre[1])))[1] > 120


def _box(bands, matches):
    width = bands[0].size[0]
    pixels = list(zip(*(band.tobytes() for band in bands), strict=True))
    places = [divmod(i, width) for i, pixel in enumerate(pixels) if matches(*pixel)]
    rows, columns = [row for row, _ in places], [column for _, column in places]
    return min(columns), min(rows), max(columns) + 1, max(rows) + 1


def test_a_marked_photo_has_words_on_a_paper(job, owner):
    [photo] = shown(job, owner)
    Photo.objects.filter(pk=photo.pk).update(marks=[marks_of(kind="text", text="crack")], caption="Dial")
    root = PdfReader(io.BytesIO(paper_pdf(job=job, kind="sheet", address=""))).trailer["/Root"]
    assert re.search(r"photo, crack|Dial", str(_alternatives(root["/StructTreeRoot"])))


def _alternatives(node):
    node = node.get_object()
    if isinstance(node, list):
        return [words for each in node for words in _alternatives(each)]
    if not hasattr(node, "get"):
        return []
    own = [node["/Alt"]] if "/Alt" in node else []
    return own + (_alternatives(node["/K"]) if "/K" in node else [])


def upload(name="a.jpg", content=None):
    return SimpleUploadedFile(name, content or jpeg(6), "image/jpeg")


def test_the_original_is_kept_only_where_the_shop_says_so_and_without_its_place(owner_client, job):
    add = reverse("jobs:photo-add", args=[job.number])
    owner_client.post(add, {"photos": [upload()], "stage": "intake"})
    assert not job.photos.get().original
    Shop.objects.create(keep_originals=True)
    owner_client.post(add, {"photos": [upload("b.jpg"), upload("x.jpg", b"none"), upload("c.jpg")], "stage": "intake"})
    assert job.photos.count() == 3, "the good ones of a batch"
    kept = job.photos.last()
    with kept.original.open("rb") as file:
        content = file.read()
    assert SECRET not in content
    response = owner_client.get(at("original", kept))
    assert (response.headers["Content-Type"], b"".join(response.streaming_content)) == ("image/jpeg", content)
    assert response.headers["Content-Disposition"].startswith("attachment;")
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert "As it came, full size" in owner_client.get(at("page", kept)).text
    assert owner_client.get(at("original", job.photos.first())).status_code == 404


def test_a_reader_looks_and_changes_nothing(job, owner, reader):
    [photo] = shown(job, owner)
    page = reader.get(at("page", photo))
    assert page.status_code == 200
    assert "Draw on the photo" not in page.text
    for name, data in (("caption", {"caption": "x"}), ("mark", ARROW), ("cover", {}), ("move", {"steps": "1"})):
        assert reader.post(at(name, photo), data).status_code == 403


def test_a_photo_whose_file_is_gone_is_told(owner_client, job, owner):
    [photo] = shown(job, owner)
    photo.file.storage.delete(photo.file.name)
    page = owner_client.get(at("page", photo))
    assert page.status_code == 200
    assert "The file of this photo is missing." in page.text


def test_photos_lead_from_one_to_the_next(owner_client, job, owner):
    one, two, three = shown(job, owner, 3)
    page = owner_client.get(at("page", two)).text
    assert "Photo 2 of 3" in page
    assert f'rel="prev" href="{at("page", one)}"' in page
    assert f'rel="next" href="{at("page", three)}"' in page
    assert 'rel="prev"' not in owner_client.get(at("page", one)).text
    owner_client.post(reverse("jobs:photo-put-away", args=[job.number, two.pk]), {"stage": "intake"})
    assert "Archived photo" in owner_client.get(at("page", two)).text


def test_erasing_takes_originals_and_marks_along_and_the_download_has_them(owner_client, job, owner, files):
    Shop.objects.create(keep_originals=True)
    owner_client.post(reverse("jobs:photo-add", args=[job.number]), {"photos": [upload()], "stage": "intake"})
    photo = job.photos.get()
    Photo.objects.update(marks=[marks_of(kind="text", text="engraved: Q. Zorn")])
    Job.objects.update(state="finished")
    with zipfile.ZipFile(personal_file(job.customer)) as archive:
        assert f"files/{photo.original.name}" in archive.namelist()
    erase(customer=job.customer, by=owner, empty_texts=True)
    assert Photo.objects.get().marks == []
    assert (files / photo.original.name).exists()
    Customer.objects.update(is_erased=False)
    erase(customer=Customer.objects.get(), by=owner, drop_photos=True)
    assert [path for path in files.rglob("*") if path.is_file()] == []
