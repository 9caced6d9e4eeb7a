"""Photos of a holder's pieces by revision."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from parts.demo import fill_workshop
from parts.models import HolderDesign, HolderPhoto

pytestmark = [pytest.mark.django_db, pytest.mark.alike]


@pytest.fixture
def design():
    fill_workshop()
    return HolderDesign.objects.first()


def picture(name="a.jpg"):
    out = io.BytesIO()
    Image.new("RGB", (1200, 800), "#457").save(out, "JPEG")
    return SimpleUploadedFile(name, out.getvalue(), "image/jpeg")


def test_photos_are_kept_with_their_revision_shown_and_put_away(owner_client, design):
    page = reverse("parts:holder", args=[design.pk])
    owner_client.post(reverse("parts:holder-photo-add", args=[design.pk]), {"photos": [picture(), picture("b.jpg")]})
    first, second = design.photos.all()
    small = reverse("parts:holder-photo-small", args=[design.pk, first.pk])
    assert small in owner_client.get(page).text
    shown = owner_client.get(small)
    assert (shown.headers["Content-Type"], shown.headers["X-Content-Type-Options"]) == ("image/jpeg", "nosniff")
    with Image.open(io.BytesIO(b"".join(shown.streaming_content))) as kept:
        assert max(kept.size) == 240
    away = reverse("parts:holder-photo-put-away", args=[design.pk, first.pk])
    owner_client.post(away)
    assert small not in owner_client.get(page).text
    owner_client.post(away, {"do": "bring-back"})
    assert small in owner_client.get(page).text
    assert second.file.name.startswith(f"holders/{design.pk}/")


def test_what_is_no_photo_is_refused_whole(owner_client, design):
    bad = SimpleUploadedFile("x.jpg", b"<svg/>", "image/jpeg")
    url = reverse("parts:holder-photo-add", args=[design.pk])
    response = owner_client.post(url, {"photos": [picture(), bad]}, follow=True)
    assert "x.jpg is not a JPEG, PNG, WebP or HEIC photo" in response.text
    assert HolderPhoto.objects.count() == 0


def test_a_photo_of_another_design_is_not_found(owner_client, design):
    owner_client.post(reverse("parts:holder-photo-add", args=[design.pk]), {"photos": [picture()]})
    other = HolderDesign.objects.exclude(pk=design.pk).first()
    assert owner_client.get(reverse("parts:holder-photo", args=[other.pk, design.photos.get().pk])).status_code == 404
