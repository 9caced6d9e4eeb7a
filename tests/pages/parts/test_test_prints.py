"""Test prints: recorded, refused, archived, and the corrected files that come of them."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from parts.designs.correction import corrections
from parts.designs.revisions import keep_design
from parts.holder.edges import span_of
from parts.models import PrintedPiece
from tests.factories import PairingFactory
from tests.holder.pieces import ring
from tests.holder.readers import read_stl

pytestmark = pytest.mark.django_db
PAGE = "/parts/holders/prints/"


@pytest.fixture
def kept():
    pairing = PairingFactory()
    facts = {"family": pairing.case.family, "movement": pairing.movement, "pairing": pairing}
    return keep_design(kind="ring", parameters=ring(), **facts)


def measured(outside, inside, **changes):
    """A print that comes out at 0.99 times its size, 0.10 too wide in every line."""
    sizes = {"nominal_outside": outside, "measured_outside": round(0.99 * outside + 0.1, 4)}
    sizes |= {"nominal_inside": inside, "measured_inside": round(0.99 * inside - 0.1, 4)}
    return {"printer": "bench", "material": "tough resin"} | sizes | changes


def test_a_print_is_recorded_with_its_design(owner_client, kept):
    assert 'value="26.00"' in owner_client.get(PAGE, {"design": kept.pk}).text
    response = owner_client.post(f"{PAGE}?design={kept.pk}", measured(26.0, 22.0), follow=True)
    piece = PrintedPiece.objects.get()
    assert (piece.design, piece.measured_outside, piece.measured_height) == (kept, 25.84, None)
    assert "Measure 1 more outside or inside size." in response.text


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"measured_inside": ""}, "Enter the measured inside too, or leave both blank."),
        ({"measured_outside": "36"}, "36 is more than a tenth off 26: is it the same part?"),
        ({"nominal_outside": "0"}, "0.00 mm is out of range: it must be above 0, at most 100 mm."),
        ({"nominal_outside": "-3"}, "\N{MINUS SIGN}3.00 mm is out of range: it must be above 0"),
        ({"printer": ""}, "Fill this in."),
        (dict.fromkeys(("nominal_outside", "measured_outside", "nominal_inside", "measured_inside"), ""),
         "Enter at least one size, as designed and as measured."),
    ],
)  # fmt: skip
def test_what_cannot_be_a_measured_print_is_refused(owner_client, changes, words):
    response = owner_client.post(PAGE, measured(26.0, 22.0, **changes))
    assert response.status_code == 422
    assert words in response.text
    assert PrintedPiece.objects.count() == 0


def test_the_sizes_of_the_design_stand_there_with_two_decimals(owner_client, kept):
    text = owner_client.get(f"{PAGE}?design={kept.pk}").text
    standing = dict(re.findall(r'name="nominal_(\w+)" value="([^"]*)"', text))
    outside, inside, height = span_of(ring().outer), span_of(ring().inner), ring().height
    assert standing == {"outside": f"{outside:.2f}", "inside": f"{inside:.2f}", "height": f"{height:.2f}"}


def test_measured_prints_correct_the_next_files(owner_client, kept):
    for outside, inside in ((24.0, 20.0), (33.0, 30.0)):
        owner_client.post(PAGE, measured(outside, inside))
    page = owner_client.get(reverse("parts:holder", args=[kept.pk])).text
    assert "Corrected for bench, tough resin" in page
    wanted = (26.0 - 0.1) / 0.99
    assert f"<output>26.00 mm</output> → <output>{wanted:.2f} mm</output>" in page
    address = re.search(r'href="([^"]*stl\?[^"]*)"', page)[1].replace("&amp;", "&")
    response = owner_client.get(address)
    assert "bench-tough-resin.stl" in response["Content-Disposition"]
    corners = [corner for triangle in read_stl(response.content) for corner in triangle]
    assert max(x for x, _, _ in corners) == pytest.approx(wanted / 2, abs=0.001)


def test_an_unknown_printer_has_no_corrected_file(owner_client, kept):
    assert owner_client.get(reverse("parts:holder-file", args=[kept.pk, "stl"]), {"printer": "x"}).status_code == 404


def test_a_print_put_away_no_longer_counts(owner_client):
    owner_client.post(PAGE, measured(26.0, 22.0))
    piece = PrintedPiece.objects.get()
    owner_client.post(reverse("parts:holder-print-put-away", args=[piece.pk]))
    piece.refresh_from_db()
    assert piece.archived
    assert "No test print yet." in owner_client.get(PAGE).text


COUPON = "/parts/holders/prints/coupon"


def of_the_coupon(outsides=(), insides=(), heights=(), **more):
    sizes = {f"outside_{i}": size for i, size in enumerate(outsides)}
    sizes |= {f"inside_{i}": size for i, size in enumerate(insides)} | {f"height_{i}": h for i, h in enumerate(heights)}
    return {"printer": "bench", "material": "filament", "layer": "0,15", "first_layer": "0.2"} | sizes | more


def test_one_coupon_is_enough_for_a_correction(owner_client):
    """A printer that shrinks by 1 %, lays its lines 0.10 mm too wide and its layers 2 % too thick."""
    sizes = of_the_coupon(
        [round(0.99 * size + 0.1, 3) for size in (30, 22, 14)],
        [round(0.99 * size - 0.1, 3) for size in (8, 11)],
        [round(1.02 * height, 3) for height in (1.25, 2.45, 4.25)],
    )
    page = owner_client.post(f"{COUPON}/", sizes, follow=True).text
    assert "The coupon is saved for bench, filament." in page
    (correction,) = corrections(list(PrintedPiece.objects.all()))
    assert (correction.across.scale, correction.across.offset) == (
        pytest.approx(0.99, abs=1e-4),
        pytest.approx(0.1, abs=2e-3),
    )
    assert correction.upward.scale == pytest.approx(1.02, abs=1e-3)


@pytest.mark.parametrize(
    ("goes_in", "notes"),
    [
        ("", "coupon"),
        ("0.15", "coupon: the plug goes in with 0.15 mm of play, 0.08 mm all round"),
        ("none", "coupon: the plug goes into no hole, not with 0.40 mm of play either"),
    ],
)
def test_the_hole_that_the_plug_goes_into_is_told_with_the_print(owner_client, goes_in, notes):
    page = owner_client.post(f"{COUPON}/", of_the_coupon([30.1], goes_in=goes_in), follow=True).text
    assert PrintedPiece.objects.get().notes == notes
    assert notes in page


def test_a_hole_that_the_plate_has_not_is_refused(owner_client):
    response = owner_client.post(f"{COUPON}/", of_the_coupon([30.1], goes_in="0.17"))
    assert (response.status_code, PrintedPiece.objects.exists()) == (422, False)


def test_a_size_that_is_far_off_is_refused_at_its_field_and_nothing_is_saved(owner_client):
    response = owner_client.post(f"{COUPON}/", of_the_coupon([30.1, 14.2]))
    assert response.status_code == 422
    assert "14.2 is more than a tenth off 22: is it the same part?" in response.text
    assert 'value="30.1"' in response.text
    assert not PrintedPiece.objects.exists()


def test_a_coupon_of_which_nothing_was_measured_is_refused(owner_client):
    response = owner_client.post(f"{COUPON}/", of_the_coupon())
    assert "Measure at least one of the sizes." in response.text


@pytest.mark.parametrize("ending", ["stl", "3mf"])
def test_the_coupon_is_as_high_as_its_layers_make_it(owner_client, ending):
    content = owner_client.get(f"{COUPON}.{ending}", {"layer": "0.2", "first_layer": "0.2"}).content
    if ending == "stl":
        corners = [corner for face in read_stl(content) for corner in face]
        assert max(z for *_, z in corners) == pytest.approx(4.2, abs=1e-4)
        assert max(y for _, y, _ in corners) == pytest.approx(15.0, abs=1e-3)
    else:
        assert content.startswith(b"PK")


def test_layers_stand_there_with_two_decimals(owner_client):
    coupon = owner_client.get(PAGE).context["coupon"]
    assert [field.value() for field in coupon.layers] == ["0.15", "0.20"]


def test_the_coupons_files_are_fetched_without_the_forms_token(owner_client):
    page = owner_client.get(PAGE).text
    form = page[page.index('action="/parts/holders/prints/coupon/"') :].partition("</form>")[0]
    assert 'type="hidden"' not in form
    token = re.search(r'<button name="csrfmiddlewaretoken"\s+value="(\w{64})"[^>]*>Save the coupon', form).group(1)
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = owner_client.cookies
    sent = of_the_coupon([30.1])
    assert strict.post(f"{COUPON}/", sent).status_code == 403
    assert strict.post(f"{COUPON}/", sent | {"csrfmiddlewaretoken": token}).status_code == 302


@pytest.mark.parametrize("layer", ["nonsense", "0", "-1", "1e400", "nan", "5"])
def test_layers_that_cannot_be_are_told_at_their_field(owner_client, layer):
    response = owner_client.get(f"{COUPON}.stl", {"layer": layer, "first_layer": "0.2"})
    assert response.status_code == 422
    assert "mm" in response.context["coupon"].errors["layer"][0]
    assert {*response.context["coupon"].errors} <= {"layer", "first_layer"}


def test_a_measured_coupon_gives_new_designs_their_plus_minus(owner_client):
    pairing = PairingFactory()
    new = f"/parts/holders/new/?pairing={pairing.pk}&kind=ring"

    def proposed(name="plus_minus"):
        return owner_client.post(new, {"process": "filament"}).context["form"].proposals[name]

    usual = proposed()
    assert (usual.value, usual.note) == (0.05, "usual for this way of making")
    sizes = {"outside_0": 30.10, "outside_1": 22.04, "outside_2": 14.08, "inside_0": 7.95, "inside_1": 10.93}
    coupon = {"printer": "bench", "material": "tough filament", "layer": "0.15", "first_layer": "0.2"}
    sent = owner_client.post(f"{PAGE}coupon/", coupon | sizes | {"process": "filament"}, follow=True)
    assert sent.status_code == 200
    (correction,) = sent.context["corrections"]
    assert "for so few. New designs in filament begin with that." in sent.text
    fed = proposed()
    assert fed.value == correction.plus_minus > 0.05
    assert fed.note == "your test prints, bench, tough filament: take the corrected files"
    assert (usual_height := proposed("heights_plus_minus")).value == 0.10
    tall = {"height_0": 1.26, "height_1": 2.40, "height_2": 4.15}
    for _ in range(2):
        sent = owner_client.post(f"{PAGE}coupon/", coupon | sizes | tall | {"process": "filament"}, follow=True)
    (correction,) = sent.context["corrections"]
    assert f"Corrected heights come out true to ±{correction.heights_plus_minus:.2f} mm." in sent.text
    assert proposed("heights_plus_minus").value == correction.heights_plus_minus != usual_height.value
    PrintedPiece.objects.update(process="resin")
    assert proposed() == usual
