"""Finished jobs to show, and entries that are shown."""

import pytest
from PIL import Image

from jobs.models import Job, Option, Shop, WindowEntry, WindowPhoto
from jobs.photos.storing import store_pictures
from jobs.window import entries
from parts.tools.pictures import as_kept
from tests.factories import JobFactory, PairingFactory


@pytest.fixture
def shop(db, settings, tmp_path, monkeypatch):
    """A shop with a name, whose site lies in a folder of this test."""
    settings.DIALSIDE_FOLDER = tmp_path / "workshop"
    settings.DIALSIDE_FOLDER.mkdir()
    monkeypatch.setattr("jobs.window.writing.sync", lambda _path: None)
    return Shop.objects.create(name="Weir Lane", address="12 Weir Lane\nHollin Ferry")


@pytest.fixture
def finished(shop, owner):
    """Makes a finished job with an option and two photos."""

    def make(**facts):
        job = JobFactory(state=Job.State.FINISHED, **facts)
        Option.objects.create(job=job, pairing=PairingFactory(), chosen=True)
        for stage, colour in (("intake", "grey"), ("handover", "white")):
            picture = as_kept(Image.new("RGB", (1200, 900), colour))
            store_pictures(job=job, pictures=[picture], by=owner, stage=stage, caption="for Mrs Quenby")
        return job

    return make


@pytest.fixture
def shown(finished, owner):
    """Makes an entry that is in the window, with the job's photos before and after."""

    def make(title="A dial", customer=None, **words):
        job = finished(**({"customer": customer} if customer else {}))
        movement = job.options.get().pairing.movement
        entry = WindowEntry(job=job, title=title, family=job.case_family, movement=movement, **words)
        roles = zip(job.photos.all(), ("before", "after"), strict=True)
        photos = [WindowPhoto(photo=photo, role=role) for photo, role in roles]
        entries.save(entry=entry, photos=photos, by=owner)
        return entry

    return make
