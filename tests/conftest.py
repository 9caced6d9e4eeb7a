"""Fixtures for every test, and which tests a run takes."""

import gc
from importlib import import_module
from pathlib import Path

import pytest
from django.apps import apps
from django.conf import settings
from django.db import connection
from django.test import Client
from django.utils import timezone
from hypothesis import settings as hypothesis_settings

from parts.models import Instrument
from tests.factories import UserFactory
from tests.ready import put_ready_database

hypothesis_settings.register_profile("untimed", deadline=None)
hypothesis_settings.load_profile("untimed")


def pytest_addoption(parser):
    parser.addoption("--database", action="store_true", help="only the tests that use the workshop's database")
    parser.addoption("--share", default="1/1", help="the first of seven shares (1/7): see shared_as")


def pytest_collection_modifyitems(config, items):
    """Take what the options ask for; what starts servers of its own, and mostly waits, comes first, beside the rest."""
    share, shares = map(int, config.getoption("share").split("/"))
    only_database = config.getoption("database")
    wanted = [item for item in items if uses_database(item) or not only_database]
    whole = sorted({shared_as(item, only_database) for item in wanted} - {None})
    passed_over = {one for place, one in enumerate(whole) if place % shares != share % shares}
    taken = [item for item in wanted if shared_as(item, only_database) not in passed_over]
    config.hook.pytest_deselected(items=list(set(items) - set(taken)))
    items[:] = sorted(taken, key=lambda item: not item.nodeid.startswith("tests/workshop/"))


def pytest_collection_finish():
    """What was collected stays: the collector of garbage need not go through it again and again (15 % of a run)."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 50, 1000)


def shared_as(item, only_database):
    """What a share is taken of: the long trials, and on PostgreSQL every test; None for a test of every run.

    A trial by a workshop that its module fills is shared out as one.
    """
    if not item.get_closest_marker("long"):
        return item.nodeid if only_database and not item.get_closest_marker("postgres") else None
    return item.nodeid.split("::")[0] if "carried" in item.fixturenames else item.nodeid


def uses_database(item):
    """Whether a test asks for the database, by a mark or by a fixture."""
    return any(map(item.get_closest_marker, ("django_db", "postgres"))) or "django_db_setup" in item.fixturenames


@pytest.fixture(scope="session")
def django_db_keepdb(request):
    """The database is taken as it lies there, where it is a file: `django_db_modify_db_settings` puts it there."""
    return connection.vendor == "sqlite" or request.config.getvalue("reuse_db")


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings):
    """A database that is a file begins up to date, and is gone afterwards."""
    if connection.vendor != "sqlite":
        yield
        return
    file = Path(settings.DATABASES["default"]["TEST"]["NAME"])
    put_ready_database(file)
    yield
    for part in file.parent.glob(f"{file.name}*"):
        part.unlink()


@pytest.fixture(autouse=True)
def instruments(request):
    """The usual instruments, which every new workshop has: a test that commits leaves empty tables to the next one."""
    if request.node.get_closest_marker("django_db") or "django_db_setup" in request.fixturenames:
        request.getfixturevalue("_django_db_helper")
        if not Instrument.objects.exists():
            import_module("parts.migrations.0011_instruments").usual_ones(apps, None)


@pytest.fixture(autouse=True)
def files(settings, tmp_path):
    """A folder of its own for the photos and papers of each test."""
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture
def owner(db):
    """The workshop's owner."""
    return UserFactory(username="owner", is_staff=True, is_superuser=True)


@pytest.fixture
def owner_client(client, owner):
    """A test client signed in as the owner."""
    return signed_in(client, owner)


@pytest.fixture
def hand(db):
    """A client of somebody who works at the bench and sees no money."""
    return signed_in(Client(), UserFactory(username="hand", is_staff=True))


@pytest.fixture
def reader(db):
    """A client of somebody who only looks."""
    return signed_in(Client(), UserFactory(username="reader"))


def signed_in(client, user):
    """Sign a client in, its device noted as in use and the password as just typed."""
    client.force_login(user)
    session, now = client.session, timezone.now().isoformat()
    session["proved"] = now
    session["device"] = {"since": now, "used": now, "browser": "Test", "address": "127.0.0.1", "trusted": False}
    session.save()
    return client


@pytest.fixture(scope="session")
def picture():
    """A rendered picture of a dial on a measuring mat, in grey (see tests/picture/dial.py)."""
    from tests.picture.dial import taken

    return taken()


@pytest.fixture(scope="session")
def published(django_db_setup, django_db_blocker, tmp_path_factory):
    """The demo's show window as a folder, published once (see tests/jobs/window/published.py)."""
    from tests.jobs.window.published import published

    with django_db_blocker.unblock():
        return published(tmp_path_factory.mktemp("window"))
