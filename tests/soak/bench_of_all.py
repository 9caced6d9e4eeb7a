"""A workshop in the test database that has one of everything, and a client of its owner."""

import contextlib
import io
import logging
import os
import shutil
import tempfile
from pathlib import Path

from django.core.files.base import ContentFile


@contextlib.contextmanager
def own_database():
    """A test database outside pytest, with a folder of its own for files, gone afterwards."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    import django

    django.setup()
    from django.conf import settings
    from django.test.utils import setup_databases, setup_test_environment, teardown_databases, teardown_test_environment

    logging.disable()
    setup_test_environment()
    kept = setup_databases(verbosity=0, interactive=False)
    settings.MEDIA_ROOT = tempfile.mkdtemp(prefix="dialside-soak-")
    try:
        yield
    finally:
        shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)
        teardown_databases(kept, verbosity=0)
        teardown_test_environment()


def fill():
    """Fill the database with the demo and what the demo lacks; returns a client of the owner."""
    from django.test import Client

    from jobs.demo.open_jobs import fill_bench
    from jobs.demo.past_jobs import fill_past
    from jobs.demo.people import open_shop
    from jobs.models import Job
    from parts.demo import fill_workshop
    from parts.models import HolderDesign
    from tests.conftest import signed_in
    from tests.factories import UserFactory

    open_shop()
    fill_workshop()
    fill_bench()
    fill_past()
    owner = UserFactory(username="owner", is_staff=True, is_superuser=True)
    UserFactory(username="hand", is_staff=True)
    client = signed_in(Client(raise_request_exception=False), owner)
    picture = ContentFile(_jpeg(), "photo.jpg")
    for job in Job.objects.filter(state="open")[:3]:
        client.post(f"/jobs/{job.number}/photos/", {"stage": "dial", "photos": picture})
        client.post(f"/jobs/{job.number}/runs/", {"position": "dial up"})
    _quotes(owner)
    for design in HolderDesign.objects.all()[:2]:
        client.post(f"/parts/holders/{design.pk}/photos/", {"photos": picture})
    _picture()
    for path in ("/parts/dials/export/", "/parts/movements/export/"):
        text = client.get(path).content
        client.post(path.replace("export", "import"), {"file": ContentFile(text, "parts.csv")})
    return client


def _picture():
    """A print of the mat, and a picture of a dial that was read, with a pick."""
    from parts.models import Dial, MatPrint, PartPicture
    from tests.picture.kept import HOLE, PLANE

    MatPrint.objects.create(field=50, across=140.1, down=139.9)
    picture = PartPicture(dial=Dial.objects.first(), subject="dial-front", plane=PLANE, picks=[HOLE])
    picture.file.save("whole.jpg", ContentFile(_jpeg()), save=False)
    picture.flat.save("flat.jpg", ContentFile(_jpeg()), save=False)
    picture.save()


def _quotes(owner):
    """One quote that is still a draft and one that is out."""
    from jobs.models import Option, QuoteLine
    from jobs.quotes import versions

    options = Option.objects.filter(ruled_out=False, job__state="open").order_by("job", "pk")
    first, second, *_ = {one.job_id: one for one in options}.values()
    versions.propose(job=first.job, options=[first], by=owner)
    sent = versions.propose(job=second.job, options=[second], by=owner)
    QuoteLine.objects.filter(part__quote=sent, price=None).update(price=18)
    versions.send(quote=sent, by=owner)


def files_there():
    """Every file that is kept."""
    from django.conf import settings

    return {path for path in Path(settings.MEDIA_ROOT).rglob("*") if path.is_file()}


def rows(leaving_out=("sentform", "session", "draft", "toremember", "stalerecord")):
    """The number of rows of every table but those that keep no entry."""
    from django.apps import apps

    kept = [model for model in apps.get_models() if model._meta.model_name not in leaving_out]
    return {model._meta.label: model._base_manager.count() for model in kept if model._meta.managed}


def _jpeg():
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (40, 30), (90, 80, 60)).save(out, "JPEG")
    return out.getvalue()
