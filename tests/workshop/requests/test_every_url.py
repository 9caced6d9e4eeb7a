"""Every address there is, as nobody and as each role: who may look, and who may send something."""

import pytest
from django.test import Client
from django.urls import NoReverseMatch, URLPattern, get_resolver, reverse
from django.urls.converters import get_converters

from parts.library.kinds import KINDS
from tests.conftest import signed_in
from tests.factories import UserFactory
from tests.workshop.requests.doors import DOORS
from workshop.accounts.roles import Role
from workshop.requests.access import OPEN, OWNER, RULES, rule_of

pytestmark = pytest.mark.alike

VALUES = {
    "int": 1,
    "str": "letters",
    "path": "index.html",
    "slug": "letters",
    "number": "26-001",
    "stage": "dial",
    "uuid": "5f0c2f9e-3a53-4a56-9d5b-0d4b7a2f9b11",
    "kind": KINDS["dials"],
    "part-kind": KINDS["dials"],
}
GROUPS = {"kind": "ring"}
FLAGS = {Role.OWNER: {"is_superuser": True, "is_staff": True}, Role.BENCH: {"is_staff": True}, Role.READER: {}}


def patterns(resolver=None, namespace=""):
    """Every pattern of the address map, as (name, pattern); those of the admin pages as one."""
    for one in (resolver or get_resolver()).url_patterns:
        if isinstance(one, URLPattern):
            yield f"{namespace}{one.name}", one.pattern
        elif one.namespace == "admin":
            yield "admin:index", one.pattern
        else:
            yield from patterns(one, f"{one.namespace}:" if one.namespace else namespace)


def address(name, pattern):
    """An address of a pattern, whether anything is there or not."""
    kinds = {converter: word for word, converter in get_converters().items()}
    given = {key: VALUES[kinds[converter]] for key, converter in pattern.converters.items()}
    if not pattern.converters and getattr(pattern.regex, "groupindex", None):
        given = {key: GROUPS[key] for key in pattern.regex.groupindex}
    return reverse(name, kwargs=given)


ALL = sorted({(name, address(name, pattern)) for name, pattern in patterns()})


@pytest.fixture(scope="module")
def names():
    return {name for name, _ in ALL}


def client_of(role):
    client = Client(raise_request_exception=False)
    if role != Role.NOBODY:
        signed_in(client, UserFactory(**FLAGS[role]))
    return client


def test_the_walk_finds_every_room(names):
    assert {"jobs:bench", "parts:index", "parts:pairing", "parts:holder-file", "people", "admin:index"} <= names
    assert len(names) > 100


def test_every_address_stands_in_the_table_or_is_the_owners_by_decision(names):
    assert names - RULES.keys() == {"admin:index"}


def test_the_table_says_what_was_decided_by_hand(names):
    assert names == DOORS.keys()
    assert {name: (rule_of(name).look.name, rule_of(name).change.name) for name in names} == DOORS


def test_the_table_names_nothing_that_is_not_there(names):
    assert RULES.keys() <= names


def test_a_new_address_is_the_owners():
    assert rule_of("jobs:brand-new") == OWNER
    with pytest.raises(NoReverseMatch):
        reverse("jobs:brand-new")


@pytest.mark.django_db
@pytest.mark.parametrize("method", ["get", "post", "delete"])
@pytest.mark.parametrize("role", Role, ids=lambda role: role.name)
def test_each_role_passes_just_the_doors_that_are_its_own(owner, role, method):
    """Some 120 addresses each; a page without its records may answer 404, but not 403."""
    wrong, client = [], client_of(role)
    for name, url in sorted(ALL, key=lambda one: one[0] == "sign-out"):
        look, change = DOORS[name]
        least = Role[look if method in ("get", "head") else change]
        response = getattr(client, method)(url)
        sent_to_sign_in = response.status_code == 302 and response["Location"].startswith("/sign-in/?next=")
        refused = response.status_code == 403 if role else sent_to_sign_in
        closed_link = name in ("first-start", "choose-password")
        if refused != (role < least) and not closed_link:
            wrong.append((name, url, response.status_code, response.headers.get("Location")))
    assert not wrong


@pytest.mark.django_db
def test_anonymous_sees_just_four_pages(owner):
    shown = {name for name, url in ALL if Client().get(url).status_code in (200, 403)}
    assert shown == {"sign-in", "choose-password", "health"}
    assert {name for name, rule in RULES.items() if rule == OPEN} == shown | {
        "first-start",
        "second-step",
        "calendar-feed",
    }


@pytest.mark.django_db
def test_a_refusal_says_so_in_plain_words_also_to_a_part_of_a_page(reader):
    """Htmx puts the refusal's words into the page's messages: see responseHandling in base.html."""
    for headers in ({}, {"HX-Request": "true"}):
        page = reader.post("/jobs/log/", headers=headers)
        assert page.status_code == 403
        assert '<div class="single-task">\n  <h1>Not with this account</h1>' in page.text
        assert "Ask the owner" in page.text


@pytest.mark.django_db
def test_a_part_of_a_page_has_a_visitor_load_the_page_again(owner):
    page = Client().get("/", headers={"HX-Request": "true"})
    assert (page["HX-Refresh"], page.text) == ("true", "")
