"""Test prints: recorded, refused, archived, and the corrected files that come of them."""

import re

import pytest
from django.urls import reverse

from parts.designs.revisions import keep_design
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
    assert 'value="26.0"' in owner_client.get(PAGE, {"design": kept.pk}).text
    response = owner_client.post(f"{PAGE}?design={kept.pk}", measured(26.0, 22.0), follow=True)
    piece = PrintedPiece.objects.get()
    assert (piece.design, piece.measured_outside, piece.measured_height) == (kept, 25.84, None)
    assert "Measure 1 more outside or inside size." in response.text


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"measured_inside": ""}, "Enter the measured inside too, or leave both blank."),
        ({"measured_outside": "36"}, "36 is more than a tenth off 26: is it the same part?"),
        ({"nominal_outside": "0"}, "0 mm is out of range: it must be above 0, at most 100 mm."),
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
