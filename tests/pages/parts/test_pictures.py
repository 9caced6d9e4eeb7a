"""Measuring from a picture: a print of the mat and its bars, an upload, picks, and the numbers in their part."""

import io
import json
from copy import deepcopy

import cv2
import numpy as np
import pypdfium2
import pytest
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import ExifTags, Image

from parts.fit import check_sheet
from parts.fit.drawings.look import look_side
from parts.models import Dial, MatPrint, PartPicture
from parts.pairings.look import look_png
from parts.picture.find import find_mat
from parts.pictured import adding
from parts.pictured.adding import add_picture
from parts.pictured.reading import plane_of
from parts.pictured.using import lines_of
from parts.sheets import sheet_of
from tests.factories import CaseFactory, DialFactory, HandSetFactory, MovementFactory, PairingFactory
from tests.pages.parts.test_bad_pictures import WIDE, on_screens, profile
from tests.picture.dial import DIAL, its_plane
from tests.reading import as_read

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
HTMX = {"HX-Request": "true"}


@pytest.fixture
def mat():
    """The print whose marks the rendered picture shows, with its bars as they came off the printer."""
    return MatPrint.objects.create(pk=7, field=50, across=140.29, down=139.85, plus_minus=0.02)


def upload(grey, name="dial.jpg"):
    out = io.BytesIO()
    Image.fromarray(grey).save(out, "JPEG", quality=92)
    return SimpleUploadedFile(name, out.getvalue(), "image/jpeg")


@pytest.fixture(scope="module")
def as_read_once():
    """What reading the picture gave and its picture at true scale, once a test of this module has had it read."""
    return {}


@pytest.fixture
def taken(owner_client, mat, picture, as_read_once):
    """A picture of a dial, uploaded and read; read once, and put back for every further test."""
    dial = DialFactory(diameter=None, window_radius=None, window_radial=None, centre_hole_diameter=None)
    if not as_read_once:
        made = sent_and_read(owner_client, dial, picture)
        as_read_once["flat"], as_read_once["file"] = made.flat.read(), made.file.read()
        kept = ("subject", "height", "height_pm", "plane", "picks")
        as_read_once["row"] = {name: getattr(made, name) for name in kept}
        return made
    made = PartPicture(dial=dial, **deepcopy(as_read_once["row"]))
    for name in ("file", "flat"):
        getattr(made, name).save(f"{name}.jpg", ContentFile(as_read_once[name]), save=False)
    made.save()
    return made


def sent_and_read(client, dial, picture):
    """The picture as a person has it read: uploaded on its dial's page, and waited for."""
    data = {"subject": "dial-front", "file": upload(picture), "height": "0.40", "height_pm": "0.05"}
    response = client.post(reverse("parts:part-pictures", args=["dials", dial.pk]), data)
    made = PartPicture.objects.get()
    assert response.url == reverse("parts:picture", args=[made.pk])
    assert "Reading the picture" in client.get(response.url).text
    assert client.post(reverse("parts:picture-read", args=[made.pk]), headers=HTMX)["HX-Refresh"] == "true"
    made.refresh_from_db()
    assert made.fault == ""
    return made


def pick(client, made, key, *points):
    data = {"key": key, "points": json.dumps(points)}
    return client.post(reverse("parts:picture-pick", args=[made.pk]), data, headers=HTMX)


def test_a_print_of_the_mat_is_true_and_carries_its_number(owner_client):
    owner_client.post(reverse("parts:mats"), {"field": 50, "paper": "A4"})
    made = MatPrint.objects.get()
    content = owner_client.get(reverse("parts:mat-paper", args=[made.pk])).content
    pages = pypdfium2.PdfDocument(content)
    assert len(pages) == 1
    assert pages[0].get_size() == pytest.approx((210 / 25.4 * 72, 297 / 25.4 * 72), abs=0.1)
    grey = pages[0].render(scale=12 * 25.4 / 72, grayscale=True).to_numpy().squeeze().copy()
    sighting = find_mat(grey)
    assert (sighting.mat.field, sighting.number) == (50, made.number)
    across = np.ptp(sighting.pixels[:, 0]) / np.ptp(sighting.places[:, 0])
    down = np.ptp(sighting.pixels[:, 1]) / np.ptp(sighting.places[:, 1])
    assert (across, down) == pytest.approx((12.0, 12.0), abs=0.01)


def test_bars_far_from_their_length_are_refused_and_stay_as_typed(owner_client, mat):
    address = reverse("parts:mat-bars", args=[mat.pk])
    response = owner_client.post(address, {"p7-across": "104", "p7-down": "140.1", "p7-plus_minus": "0.02"})
    assert response.status_code == 422
    assert "104 mm is out of range" in response.text
    assert 'value="104"' in response.text
    owner_client.post(address, {"p7-across": "139,9", "p7-down": "140.1", "p7-plus_minus": "0.02"})
    mat.refresh_from_db()
    assert (mat.across, mat.down) == (139.9, 140.1)


def test_what_is_found_by_itself_waits_for_a_person(owner_client, taken):
    page = owner_client.get(reverse("parts:picture", args=[taken.pk])).text
    assert "Found by itself" in page
    assert lines_of(taken) == []
    page = owner_client.post(reverse("parts:picture-pick", args=[taken.pk]), {"accept": "1"}, headers=HTMX).text
    assert "Dial diameter" in page
    assert "28.50 ±" in page
    assert 'id="pick-shapes"' in page


def test_picks_are_snapped_and_stored_in_the_part(owner_client, taken):
    owner_client.post(reverse("parts:picture-pick", args=[taken.pk]), {"accept": "1"}, headers=HTMX)
    x, y = DIAL.middle
    pick(owner_client, taken, "hole", (x + 0.1, y), (x + 1.05, y + 0.1))
    page = pick(owner_client, taken, "twelve", (x, y - 13)).text
    assert "Window angle" in page or "window angle" in page
    paths = ["dial.diameter", "dial.centre_hole_diameter", "dial.window.radius", "dial.window.radial"]
    response = owner_client.post(reverse("parts:picture-use", args=[taken.pk]), {"path": paths})
    assert response.url == reverse("parts:detail", args=["dials", taken.dial_id])
    dial = Dial.objects.get()
    assert dial.diameter == pytest.approx(28.5, abs=0.03)
    assert dial.centre_hole_diameter == pytest.approx(2.0, abs=0.03)
    assert dial.window_radius == pytest.approx(9.0, abs=0.03)
    assert dial.window_radial == pytest.approx(2.2, abs=0.03)
    assert 0 < dial.diameter_pm < 0.1
    assert dial.taken["diameter"]["instrument"] == "Picture"
    assert "picture" in owner_client.get(response.url).text


def test_a_number_that_stands_is_not_overwritten_and_a_disagreement_is_told(owner_client, taken):
    Dial.objects.update(diameter=28.9, diameter_pm=0.02)
    page = owner_client.post(reverse("parts:picture-pick", args=[taken.pk]), {"accept": "1"}, headers=HTMX).text
    line = page.split('value="dial.diameter"')[1].split("</li>")[0]
    assert "checked" not in line
    assert "they do not agree" in line
    assert "now 28.90 ±0.02 mm" in line


def test_feet_become_rows_of_the_dial(owner_client, mat, picture):
    dial = DialFactory()
    dial.feet.all().delete()
    data = {"subject": "dial-back", "file": upload(picture), "height": "0.40", "height_pm": "0.05"}
    owner_client.post(reverse("parts:part-pictures", args=["dials", dial.pk]), data)
    made = PartPicture.objects.get()
    owner_client.post(reverse("parts:picture-read", args=[made.pk]))
    owner_client.post(reverse("parts:picture-pick", args=[made.pk]), {"accept": "1"}, headers=HTMX)
    x, y = DIAL.middle
    pick(owner_client, made, "hole", (x, y), (x + 1, y))
    pick(owner_client, made, "twelve", (x, y - 13))
    pick(owner_client, made, "foot-1", (x - 4, y + 9.5), (x - 4.4, y + 9.5))
    paths = [f"dial.feet[0].{key}" for key in ("angle", "radius", "diameter")]
    owner_client.post(reverse("parts:picture-use", args=[made.pk]), {"path": paths})
    foot = dial.feet.get()
    assert foot.radius == pytest.approx(np.hypot(4, 9.5), abs=0.03)
    clockwise = np.degrees(np.arctan2(-4, -9.5)) % 360
    assert foot.angle == pytest.approx(360 - clockwise, abs=0.3)
    assert foot.diameter == pytest.approx(0.8, abs=0.03)


def kept(taken, subject, **picks):
    """A picture of the same dial that was read, with these picks: places, circles, and boxes of four edges."""
    own = np.eye(3) * 0.008**2

    def one(key, values):
        size = len(values)
        sway, spread = np.zeros((size, 13)).tolist(), own[:size, :size].tolist()
        return {
            "key": key,
            "values": list(values),
            "sway": sway,
            "own": spread,
            "fit": 0.0,
            "share": 1.0,
            "proposed": False,
        }

    rows = [one(key.replace("__", ".").replace("_", "-"), values) for key, values in picks.items()]
    return PartPicture.objects.create(
        dial=taken.dial, subject=subject, plane=taken.plane, flat=taken.flat.name, picks=rows
    )


def window_at(x, y, wide=2.2, high=1.6):
    edges = (
        (x, y - high / 2, 0.0),
        (x + wide / 2, y, np.pi / 2),
        (x, y + high / 2, np.pi),
        (x - wide / 2, y, -np.pi / 2),
    )
    return {f"window__{i}": edge for i, edge in enumerate(edges)}


FRONT = {"rim": (0, 0, 14.25), "hole": (0, 0, 1.0), "twelve__0": (0, -13)} | window_at(9, 0)


def test_a_back_takes_twelve_from_the_front_and_its_feet_are_saved_so(owner_client, taken):
    """From behind the window lies at the left where 12 lies up; the foot is at 7 o'clock of the front."""
    kept(taken, "dial-front", **FRONT)
    back = kept(taken, "dial-back", hole=(0, 0, 1.0), foot_1=(5, 5 * 3**0.5, 0.4))
    page = owner_client.get(reverse("parts:picture", args=[back.pk])).text
    assert "dial.feet[0].angle" not in page
    assert "Pick next" in page
    back.delete()
    back = kept(taken, "dial-back", hole=(0, 0, 1.0), foot_1=(5, 5 * 3**0.5, 0.4), **window_at(-9, 0))
    page = owner_client.get(reverse("parts:picture", args=[back.pk])).text
    assert "by the date window that both show" in page
    assert "Pick next" not in page
    taken.dial.feet.all().delete()
    owner_client.post(
        reverse("parts:picture-use", args=[back.pk]), {"path": ["dial.feet[0].angle", "dial.feet[0].radius"]}
    )
    foot = taken.dial.feet.get()
    assert foot.angle == pytest.approx(210.0, abs=0.05)
    assert foot.radius == pytest.approx(10.0, abs=0.005)


def test_what_both_sides_see_is_held_against_each_other_in_words(owner_client, taken):
    front = kept(taken, "dial-front", **FRONT, notch__0=(0, 14))
    behind = {"rim": (0, 0, 14.4), "hole": (0, 0, 1.0), "twelve__0": (0, -13), "notch__0": (0.5, 14)}
    back = kept(taken, "dial-back", **behind, **window_at(-9, 0))

    def line(picture, path):
        page = as_read(owner_client.get(reverse("parts:picture", args=[picture.pk])).text)
        return page.split(f'value="{path}"')[1].split("</li>")[0]

    assert "28.50 ±0.04 mm in the picture from the front: <strong>they do not agree" in line(back, "dial.diameter")
    assert "28.80 ±0.04 mm in the picture from behind: <strong>they do not agree" in line(front, "dial.diameter")
    assert "they agree" in line(back, "dial.window.angle")
    assert "they agree" in line(back, "dial.centre_hole_diameter")
    page = as_read(owner_client.get(reverse("parts:picture", args=[back.pk])).text)
    assert "Notch from 12 o’clock: 182 ±0.2° here, 180 ±0.2° from the other side: <strong>they do not" in page
    assert Dial.objects.get().diameter is None
    PartPicture.objects.filter(pk=back.pk).update(archived=True)
    assert "in the picture from behind" not in line(front, "dial.diameter")


def test_the_other_side_is_the_newest_on_which_something_was_picked(owner_client, taken):
    kept(taken, "dial-front", rim=(0, 0, 14.25))
    kept(taken, "dial-front")
    back = kept(taken, "dial-back", rim=(0, 0, 14.25))
    page = as_read(owner_client.get(reverse("parts:picture", args=[back.pk])).text)
    assert "28.50 ±0.04 mm in the picture from the front: they agree" in page


@pytest.mark.parametrize(("wider", "said"), [(0.0, "they agree"), (0.5, "they do not agree")])
def test_an_outline_picked_on_both_sides_is_held_against_itself(owner_client, taken, wider, said):
    """The same tonneau with its 3 o'clock side one mm out, seen from both sides, turned by a quarter on the back."""

    def places(*corners):
        return {f"outline__{i}": corner for i, corner in enumerate(corners)}

    axis = {"hole": (0, 0, 1.0)}
    kept(taken, "dial-front", **axis, twelve__0=(0, -13), **places((-10, -14), (11, -14), (11, 14), (-10, 14)))
    turned = places((-14, -11 - wider), (14, -11 - wider), (14, 10), (-14, 10))
    back = kept(taken, "dial-back", **axis, twelve__0=(13, 0), **turned)
    page = as_read(owner_client.get(reverse("parts:picture", args=[back.pk])).text)
    line = page.split('value="dial.outline"')[1].split("</li>")[0]
    assert f"4 places, off by at most {wider:.2f} mm in the picture from the front" in line
    assert said in line


def test_raised_markers_become_rows_without_a_height(owner_client, taken):
    made = kept(taken, "dial-front", hole=(0, 0, 1.0), raised_2__0=(0, 8.0), raised_2__1=(0, 11.5))
    taken.dial.furniture.all().delete()
    taken.dial.furniture.create(name="Logo", inner_radius=4.0)
    page = owner_client.get(reverse("parts:picture", args=[made.pk])).text
    assert 'data-label="Logo"' in page
    assert page.count('data-label="Raised marker or logo"') == 2  # the one that was picked, and another
    paths = ["dial.furniture[1].inner_radius", "dial.furniture[1].outer_radius"]
    owner_client.post(reverse("parts:picture-use", args=[made.pk]), {"path": paths})
    logo, marker = taken.dial.furniture.all()
    assert (logo.inner_radius, logo.outer_radius) == (4.0, None)
    assert (marker.inner_radius, marker.outer_radius, marker.height) == (8.0, 11.5, None)
    assert marker.inner_radius_pm > 0
    assert marker.taken["inner_radius"]["instrument"] == "Picture"


def test_a_second_foot_alone_becomes_one_row(owner_client, taken):
    taken.dial.feet.all().delete()
    made = kept(taken, "dial-back", hole=(0, 0, 1.0), twelve__0=(0, -13), foot_2=(-10, 0, 0.4))
    paths = [f"dial.feet[1].{key}" for key in ("angle", "radius", "diameter")]
    owner_client.post(reverse("parts:picture-use", args=[made.pk]), {"path": paths})
    foot = taken.dial.feet.get()
    assert (foot.angle, foot.radius, foot.diameter) == (90.0, 10.0, 0.8)


@pytest.mark.parametrize(
    "points", ["", "[]", "nonsense", "[[1]]", '[["a", 2]]', "[[1e9, 0], [0, 0]]", "[[1, 2], [1, 2]]"]
)
def test_points_that_are_none_change_nothing_and_say_so(owner_client, taken, points):
    before = taken.picks
    response = owner_client.post(
        reverse("parts:picture-pick", args=[taken.pk]), {"key": "hole", "points": points}, headers=HTMX
    )
    assert response.status_code == 200
    assert 'role="alert"' in response.text
    taken.refresh_from_db()
    assert taken.picks == before


def test_an_unknown_pick_is_told(owner_client, taken):
    assert "not asked for here" in pick(owner_client, taken, "nothing", (0, 0)).text


def test_without_measured_bars_the_picture_says_what_to_do_and_is_read_again(owner_client, mat, picture):
    MatPrint.objects.update(across=None)
    dial = DialFactory()
    owner_client.post(
        reverse("parts:part-pictures", args=["dials", dial.pk]), {"subject": "dial-front", "file": upload(picture)}
    )
    made = PartPicture.objects.get()
    owner_client.post(reverse("parts:picture-read", args=[made.pk]))
    page = owner_client.get(reverse("parts:picture", args=[made.pk])).text
    assert "The two control bars of print 7 are not measured." in page
    MatPrint.objects.update(across=140.29)
    owner_client.post(reverse("parts:picture-read", args=[made.pk]), {"again": "1"})
    assert PartPicture.objects.get().fault == ""


@pytest.mark.parametrize(
    ("content", "told"),
    [(b"no picture", "is not a JPEG"), (b"", "empty"), (b"\xff\xd8\xff" + b"0" * 500, "is not a JPEG")],
)
def test_what_is_no_picture_gets_a_sentence(owner_client, mat, content, told):
    dial = DialFactory()
    data = {"subject": "dial-front", "file": SimpleUploadedFile("x.jpg", content)}
    response = owner_client.post(reverse("parts:part-pictures", args=["dials", dial.pk]), data)
    assert response.status_code == 422
    assert told in response.text
    assert not PartPicture.objects.exists()


@pytest.mark.parametrize(
    ("kind", "factory"),
    [("cases", CaseFactory), ("dials", DialFactory), ("movements", MovementFactory), ("hand-sets", HandSetFactory)],
)
def test_each_kind_of_part_offers_what_can_be_pictured(owner_client, kind, factory):
    page = owner_client.get(reverse("parts:part-pictures", args=[kind, factory().pk])).text
    assert "What it shows" in page
    assert "No print of a measuring mat is measured yet" in page


def test_a_stem_has_no_pictures(owner_client):
    assert owner_client.get("/parts/pictures/of/stems/1/").status_code == 404


def test_a_picture_turned_in_its_file_and_in_wide_colours_is_seen_upright_and_in_those_of_the_screen(
    owner_client, mat, picture
):
    """A sticker on the dial, on the true-scale picture and, written as JPEG once more, on the dial as it will be."""
    own, spot = (90, 180, 120), np.array([-5.0, -6.0])
    coloured = cv2.cvtColor(picture, cv2.COLOR_GRAY2RGB)
    centre = its_plane(picture).camera.project(np.array([[*(DIAL.middle + spot), -0.4]]))[0]
    cv2.circle(coloured, tuple(int(at) for at in centre.round()), 25, own, -1)
    exif, out = Image.Exif(), io.BytesIO()
    exif[ExifTags.Base.Orientation] = 6
    Image.fromarray(coloured).rotate(90, expand=True).save(
        out, "JPEG", quality=95, subsampling=0, exif=exif, icc_profile=profile(WIDE)
    )
    pairing = PairingFactory()
    sent = SimpleUploadedFile("dial.jpg", out.getvalue(), "image/jpeg")
    data = {"subject": "dial-front", "file": sent, "height": "0.40", "height_pm": "0.05"}
    owner_client.post(reverse("parts:part-pictures", args=["dials", pairing.dial.pk]), data)
    made = PartPicture.objects.get()
    owner_client.post(reverse("parts:picture-read", args=[made.pk]), headers=HTMX)
    pick(owner_client, made, "hole", DIAL.middle, (DIAL.middle[0] + 1.0, DIAL.middle[1]))
    pick(owner_client, made, "twelve", (DIAL.middle[0], DIAL.middle[1] - 12))
    made.refresh_from_db()
    with Image.open(made.flat) as flat:
        (at,) = plane_of(made).to_pixels(np.array([DIAL.middle + spot]))
        shown = np.array(flat.convert("RGB"))[tuple(at.round().astype(int)[::-1])]
    assert shown == pytest.approx(on_screens(own), abs=2)
    report = check_sheet(sheet_of(pairing))
    look = Image.open(io.BytesIO(look_png(pairing=pairing, report=report, minutes=180)))
    at = look.width / 2 + spot * look.width / look_side(report)
    assert np.array(look.convert("RGB"))[tuple(at.round().astype(int)[::-1])] == pytest.approx(on_screens(own), abs=4)


def test_a_large_picture_is_made_smaller_before_its_colours_are_turned(mat, monkeypatch):
    """Each copy of fifty million pixels takes 150 MB."""
    sizes = []
    turned = adding.in_plain_colours
    monkeypatch.setattr(adding, "in_plain_colours", lambda seen: sizes.append(seen.size) or turned(seen))
    for side in (7000, 5000):
        out = io.BytesIO()
        Image.new("RGB", (side, side), "grey").save(out, "JPEG")
        file = SimpleUploadedFile("large.jpg", out.getvalue(), "image/jpeg")
        add_picture(part=DialFactory(), field="dial", subject="dial-front", file=file, height=0.4, height_pm=0.1)
    assert sizes == [(3500, 3500), (4000, 4000)]


def test_nothing_of_the_camera_is_kept(owner_client, mat, picture):
    whole = Image.fromarray(picture)
    exif = Image.Exif()
    exif[0x010F] = "Some maker"
    exif.get_ifd(0x8769)[0xA405] = 26
    out = io.BytesIO()
    whole.save(out, "JPEG", exif=exif.tobytes())
    dial = DialFactory()
    data = {"subject": "dial-front", "file": SimpleUploadedFile("x.jpg", out.getvalue())}
    owner_client.post(reverse("parts:part-pictures", args=["dials", dial.pk]), data)
    made = PartPicture.objects.get()
    assert made.focal == pytest.approx(26 / 43.27 * np.hypot(4000, 3000), rel=1e-3)
    with made.file.open("rb") as file:
        assert b"Some maker" not in file.read()


def test_two_spots_tell_whether_their_colours_go_together(owner_client, taken):
    x, y = DIAL.middle
    pick(owner_client, taken, "colour-marker", (x + 4, y + 4))
    page = pick(owner_client, taken, "colour-hand", (x - 4, y - 4)).text
    assert "(CIEDE2000): no difference is seen." in page
    page = pick(owner_client, taken, "colour-hand", (x, y)).text
    assert "a customer sees that they differ" in page


SQUARE = [(9.0, -12.0), (9.0, 12.0), (-9.0, 12.0), (-9.0, -12.0), (0.0, -12.5)]


def test_an_outline_is_picked_place_by_place_and_saved_in_the_watchs_own_frame(owner_client, taken):
    page = reverse("parts:picture-pick", args=[taken.pk])
    owner_client.post(page, {"accept": "1"}, headers=HTMX)
    taken.refresh_from_db()
    x, y = next(each["values"][:2] for each in taken.picks if each["key"] == "hole")
    few = pick(owner_client, taken, "outline", (x, y), (x + 1, y), (x, y + 1))
    assert "3 places; an outline takes 4 to 200" in few.text
    assert "dial.outline" not in [line.path for line in lines_of(taken)]
    pick(owner_client, taken, "twelve", (x + 10.0, y))  # the print lies turned: 12 points to the right
    shown = pick(owner_client, taken, "outline", *[(x + px, y + py) for px, py in SQUARE])
    assert "5 places, 24.50 × 18.00 mm" in shown.text
    assert "Dial outline" in shown.text
    owner_client.post(reverse("parts:picture-use", args=[taken.pk]), {"path": ["dial.outline"]})
    outline = Dial.objects.get().outline
    assert outline["shape"] == "polyline"
    wanted = [(py, px) for px, py in SQUARE]
    for corner, (across, up) in zip(outline["points"], wanted, strict=True):
        assert corner == pytest.approx((across, up), abs=0.002)
    again = owner_client.get(reverse("parts:picture", args=[taken.pk])).text
    assert "Close the outline" in again


def test_an_outline_that_crosses_itself_is_refused_with_its_reason(owner_client, taken):
    owner_client.post(reverse("parts:picture-pick", args=[taken.pk]), {"accept": "1"}, headers=HTMX)
    taken.refresh_from_db()
    x, y = next(each["values"][:2] for each in taken.picks if each["key"] == "hole")
    pick(owner_client, taken, "twelve", (x, y - 10.0))
    crossed = [(9.0, -9.0), (-9.0, 9.0), (9.0, 9.0), (-9.0, -9.0)]
    pick(owner_client, taken, "outline", *[(x + px, y + py) for px, py in crossed])
    response = owner_client.post(reverse("parts:picture-use", args=[taken.pk]), {"path": ["dial.outline"]})
    assert response.status_code == 422
    assert "cross" in response.text
    assert Dial.objects.get().outline is None
