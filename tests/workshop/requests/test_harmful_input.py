"""What nobody types but anybody can send: far too much of it, or words that no page sends."""

import io

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse

from jobs.models import GoAhead, Photo
from tests.factories import JobFactory
from workshop.safekeeping.durable import DurableFiles

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner):
    return JobFactory()


def many(count):
    return [io.BytesIO(b"no photo") for _ in range(count)]


def test_more_photos_than_at_once_are_refused_in_words(owner_client, job):
    page = owner_client.post(reverse("jobs:photo-add", args=[job.number]), {"photos": many(120)}, follow=True)
    assert "120 photos are too many at once; choose up to 40, then the rest." in page.text
    assert not Photo.objects.exists()


def test_more_files_than_any_page_takes_are_refused_in_words(owner_client, job):
    page = owner_client.post(reverse("jobs:photo-add", args=[job.number]), {"photos": many(501)})
    assert (page.status_code, "More than 500 files at once" in page.text) == (400, True)
    page = owner_client.post(reverse("jobs:customer-edit", args=[job.customer.pk]), {f"x{i}": "" for i in range(1001)})
    assert (page.status_code, "More than 1000 fields" in page.text) == (400, True)


def test_taking_back_something_that_there_is_not_takes_nothing_back(owner_client, owner, job):
    said = GoAhead.objects.create(job=job, how="phone", said_by="Mara Quist", on="2026-11-02", by=owner)
    url = reverse("jobs:take-back", args=[job.number, "nonsense", said.pk])
    assert owner_client.post(url).status_code == 404
    assert GoAhead.objects.get() == said
    assert not said.undone


def test_a_file_that_cannot_be_written_whole_leaves_no_part_of_it(tmp_path):
    class Full(io.BytesIO):
        """Breaks off as on a full disk."""

        def chunks(self):
            yield b"the first part"
            raise OSError(28, "No space left on device")

    files = DurableFiles(location=tmp_path)
    with pytest.raises(OSError, match="No space"):
        files._save("photos/2026/a.jpg", Full())
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_a_name_that_is_taken_meanwhile_is_not_overwritten(tmp_path):
    files = DurableFiles(location=tmp_path)
    first, second = (files._save("a.jpg", ContentFile(content)) for content in (b"first", b"second"))
    assert first == "a.jpg"
    assert first != second
    assert [files.open(name).read() for name in (first, second)] == [b"first", b"second"]
    assert {path.stat().st_mode & 0o777 for path in tmp_path.iterdir()} == {0o600}
