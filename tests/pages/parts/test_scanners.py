"""Flat scanners on the page: calibrated by a scan of a mat, chosen for a picture, archived."""

import io
import re

import cv2
import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from parts.models import MatPrint, PartPicture, Scanner
from tests.factories import DialFactory
from tests.picture.dial import DIAL
from tests.picture.test_scan import ACROSS, DOTS, DOWN, mat_scan, scanned
from tests.reading import as_read

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
__all__ = ["mat_scan"]


def upload(grey, dots=600):
    out = io.BytesIO()
    stated = {"dpi": (dots, dots)} if dots else {}
    Image.fromarray(grey).save(out, "PNG", **stated)
    return SimpleUploadedFile("scan.png", out.getvalue(), "image/png")


def test_a_part_is_measured_on_a_scanner_that_was_calibrated_once(owner_client, mat_scan):
    MatPrint.objects.create(pk=7, field=35, across=140.28, down=139.86, plus_minus=0.02)
    page = owner_client.post(reverse("parts:scanner"), {"name": "Window desk", "scan": upload(mat_scan)}, follow=True)
    assert re.search(r"Window desk is ready: off by \+0\.3\d % across and -0\.3\d % down", page.text)
    scanner = Scanner.objects.get()
    assert (scanner.across, scanner.down) == pytest.approx((ACROSS, DOWN), abs=scanner.plus_minus)
    face, inside = DIAL.texture()
    dial = DialFactory(diameter=None)
    address = reverse("parts:part-pictures", args=["dials", dial.pk])
    assert "Window desk" in owner_client.get(address).text
    scan = scanned(face * inside + 250 * (1 - inside))
    data = {"subject": "dial-front", "file": upload(scan), "scanner": scanner.pk}
    owner_client.post(address, data)
    made = PartPicture.objects.get()
    assert made.per_mm == pytest.approx(DOTS * ACROSS, rel=0.001)
    owner_client.post(reverse("parts:picture-read", args=[made.pk]))
    owner_client.post(reverse("parts:picture-pick", args=[made.pk]), {"accept": "1"})
    page = owner_client.get(reverse("parts:picture", args=[made.pk])).text
    assert "Scanned with Window desk" in as_read(page)
    owner_client.post(reverse("parts:picture-use", args=[made.pk]), {"path": "dial.diameter"})
    dial.refresh_from_db()
    assert dial.diameter == pytest.approx(28.5, abs=0.03)


def test_a_scan_that_states_no_resolution_is_refused_with_the_way_on(owner_client, mat_scan):
    response = owner_client.post(reverse("parts:scanner"), {"name": "Desk", "scan": upload(mat_scan, dots=None)})
    assert response.status_code == 422
    assert "scan.png does not say how many dots to the inch" in response.text
    assert 'value="Desk"' in response.text
    assert not Scanner.objects.exists()


def test_a_scan_without_a_mat_tells_no_scale(owner_client):
    blank = cv2.GaussianBlur(np.full((900, 900), 230, np.uint8), (0, 0), 1)
    response = owner_client.post(reverse("parts:scanner"), {"name": "Desk", "scan": upload(blank)})
    assert "No measuring mat was found" in response.text


def test_an_archived_scanner_is_no_longer_offered(owner_client):
    scanner = Scanner.objects.create(name="Old desk", across=1.0, down=1.0, plus_minus=0.001)
    address = reverse("parts:part-pictures", args=["dials", DialFactory().pk])
    assert "Old desk" in owner_client.get(address).text
    owner_client.post(reverse("parts:scanner-put-away", args=[scanner.pk]))
    assert "Old desk" not in owner_client.get(address).text
    owner_client.post(reverse("parts:scanner-put-away", args=[scanner.pk]), {"do": "bring-back"})
    assert "Old desk" in owner_client.get(address).text
