"""Photos and papers in S3-compatible storage, with a small server that speaks as much of it as is needed."""

import io
import threading
import zipfile
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from jobs.models import Photo
from tests.factories import JobFactory
from workshop.safekeeping import backup, export, orphan_files
from workshop.safekeeping.copying import bucket as copying
from workshop.safekeeping.databases.file import SqliteFile
from workshop.safekeeping.filestore import FOLDER, FilesSettingError, file_storage


class Bucket(BaseHTTPRequestHandler):
    """Keeps objects by their path: PUT, GET, HEAD, DELETE."""

    protocol_version = "HTTP/1.1"
    kept: dict = {}

    def _answer(self, status, body=b""):
        self.send_response(status)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Last-Modified", "Wed, 25 Nov 2026 12:00:00 GMT")
        self.send_header("ETag", '"e"')
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def do_PUT(self):
        self.kept[self._key()] = self.rfile.read(int(self.headers["Content-Length"]))
        self._answer(200)

    def do_GET(self):
        found = self.kept.get(self._key())
        self._answer(404 if found is None else 200, found or b"")

    do_HEAD = do_GET  # noqa: N815 - the library's own name

    def do_DELETE(self):
        self.kept.pop(self._key(), None)
        self._answer(204)

    def _key(self):
        return unquote(urlsplit(self.path).path)

    def log_message(self, *_):
        """Nothing."""


@pytest.fixture
def storage(monkeypatch):
    """The end of an address in storage that keeps its objects in memory."""
    monkeypatch.setenv("AWS_ACCESS_KEY_ID", "key")
    monkeypatch.setenv("AWS_SECRET_ACCESS_KEY", "secret")
    server = ThreadingHTTPServer(("127.0.0.1", 0), Bucket)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    Bucket.kept = {}
    yield f"?endpoint=http://127.0.0.1:{server.server_port}&region=here"
    server.shutdown()
    server.server_close()


@pytest.fixture
def bucket(settings, storage):
    """The objects in a bucket that the workshop's files go to."""
    settings.DIALSIDE_FILES = f"s3://watches/bench{storage}"
    settings.STORAGES = settings.STORAGES | {"default": file_storage(settings.DIALSIDE_FILES)}
    return Bucket.kept


def picture():
    out = io.BytesIO()
    Image.new("RGB", (300, 200), "#457").save(out, "JPEG")
    return SimpleUploadedFile("a.jpg", out.getvalue(), "image/jpeg")


@pytest.fixture
def photo(owner_client, bucket):
    job = JobFactory()
    owner_client.post(reverse("jobs:photo-add", args=[job.number]), {"photos": [picture()]})
    return Photo.objects.get()


@pytest.mark.django_db
def test_a_photo_goes_to_the_bucket_and_is_handed_out_by_the_workshop(owner_client, bucket, photo, files):
    assert set(bucket) == {f"/watches/bench/{photo.file.name}", f"/watches/bench/{photo.thumbnail.name}"}
    assert not list(files.rglob("*.jpg"))
    shown = owner_client.get(reverse("jobs:thumbnail", args=[photo.job.number, photo.pk]))
    assert (shown["Content-Type"], shown["X-Content-Type-Options"]) == ("image/jpeg", "nosniff")
    assert b"".join(shown.streaming_content) == bucket[f"/watches/bench/{photo.thumbnail.name}"]


@pytest.mark.django_db
def test_a_file_that_is_gone_from_the_bucket_is_not_found_and_is_told(owner_client, bucket, photo):
    assert orphan_files.missing_files() == []
    bucket.pop(f"/watches/bench/{photo.file.name}")
    assert owner_client.get(reverse("jobs:photo", args=[photo.job.number, photo.pk])).status_code == 404
    assert orphan_files.missing_files() == [(photo.file.name, "photo")]
    assert orphan_files.orphans() == []


@pytest.mark.django_db
def test_an_export_holds_the_files_of_the_bucket(bucket, photo):
    out = io.BytesIO()
    export.write_export(out)
    with zipfile.ZipFile(out) as archive:
        assert archive.read(f"files/{photo.file.name}") == bucket[f"/watches/bench/{photo.file.name}"]


@pytest.mark.django_db
def test_a_backup_holds_the_database_and_says_where_the_files_are(settings, tmp_path, bucket, photo, monkeypatch):
    (tmp_path / "left.jpg").write_bytes(b"from before the bucket")
    copy = tmp_path / "database.sqlite3"
    copy.write_bytes(b"")
    monkeypatch.setattr(backup, "own_database", SqliteFile)
    backup._pack(tmp_path / "packed.zip", copy, Path(settings.MEDIA_ROOT))
    with zipfile.ZipFile(tmp_path / "packed.zip") as archive:
        assert set(archive.namelist()) == {"database.sqlite3", "contents.json"}
        assert b'"files_elsewhere": true' in archive.read("contents.json")


def test_without_the_setting_files_lie_in_the_data_folder():
    assert file_storage("") == FOLDER


@pytest.mark.parametrize("setting", ["/some/folder", "s3://", "https://bucket", "s3://bucket?acl=public-read"])
def test_what_is_no_place_for_files_is_refused_in_words(setting):
    with pytest.raises(FilesSettingError, match="cannot be read. Write s3://bucket"):
        file_storage(setting)


@pytest.fixture
def site(tmp_path):
    """A folder with a page and the style that it needs."""
    (tmp_path / "index.html").write_text("a page")
    (tmp_path / "look").mkdir()
    (tmp_path / "look" / "site.css").write_text("a style")
    return tmp_path


def test_of_a_site_only_what_changed_goes_to_its_bucket(storage, site):
    to, paths = f"s3://window/shop{storage}", {"index.html", "look/site.css"}
    Bucket.kept["/window/shop/other.txt"] = b"somebody else's"
    assert copying.copy(site, paths, to) == (2, 0)
    assert Bucket.kept["/window/shop/look/site.css"] == b"a style"
    order = [key for key in Bucket.kept if key.endswith((".css", ".html"))]
    assert order == ["/window/shop/look/site.css", "/window/shop/index.html"]
    assert copying.copy(site, paths, to) == (0, 0)
    (site / "index.html").write_text("another page")
    assert copying.copy(site, {"index.html"}, to) == (1, 1)
    assert Bucket.kept["/window/shop/index.html"] == b"another page"
    assert "/window/shop/look/site.css" not in Bucket.kept
    assert Bucket.kept["/window/shop/other.txt"] == b"somebody else's"


def test_a_site_never_goes_into_the_bucket_of_the_workshops_files(bucket, storage, site):
    for to in (f"s3://watches{storage}", f"s3://watches/window{storage}"):
        with pytest.raises(copying.NotCopied, match="is the bucket of your photos and papers, which stays closed"):
            copying.copy(site, {"index.html"}, to)
    assert not bucket


@pytest.mark.parametrize(
    ("to", "words"),
    [
        ("s3://", "TO=s3:// cannot be read. Write s3://bucket"),
        ("s3://window?endpoint=http://127.0.0.1:9&region=here", "was not copied to .* whole: Could not connect"),
    ],
)
def test_a_bucket_that_cannot_be_had_is_told_in_words(storage, site, to, words):
    with pytest.raises(copying.NotCopied, match=words):
        copying.copy(site, {"index.html"}, to)
