"""What each role is shown: the navigation, and what templates know of their reader."""

import pytest
from django.contrib.auth.models import AnonymousUser

from tests.factories import UserFactory
from workshop.accounts.roles import Role, give_role, role_of, role_word
from workshop.requests.access import may, seen_by
from workshop.requests.navigation import navigation

pytestmark = pytest.mark.django_db


def somebody(role):
    user = UserFactory.build()
    give_role(user, role)
    return user


@pytest.mark.parametrize(
    ("role", "flags", "word", "seen"),
    [
        (Role.OWNER, (True, True), "owner", {"sees_money", "may_change", "is_owner"}),
        (Role.BENCH, (False, True), "watchmaker", {"may_change"}),
        (Role.READER, (False, False), "viewer", {"reads_only"}),
    ],
)
def test_a_role_is_kept_in_two_flags_and_told_to_every_template(rf, role, flags, word, seen):
    request = rf.get("/")
    request.user = user = somebody(role)
    assert ((user.is_superuser, user.is_staff), role_of(user), role_word(user)) == (flags, role, word)
    assert {name for name, holds in seen_by(request).items() if holds} == seen
    user.is_active = False
    assert (role_of(user), role_word(user)) == (Role.NOBODY, word)
    assert not any(seen_by(request).values())


def test_without_a_user_nothing_is_shown(rf):
    request = rf.get("/")
    assert not any(seen_by(request).values())
    request.user = AnonymousUser()
    assert not any(seen_by(request).values())


def test_to_look_is_the_question_unless_change_is_asked_for():
    reader, hand = somebody(Role.READER), somebody(Role.BENCH)
    asked = [(may(user, "jobs:bench"), may(user, "jobs:bench", change=True)) for user in (reader, hand)]
    assert asked == [(True, False), (True, True)]


@pytest.mark.parametrize(
    ("role", "last"), [(Role.OWNER, "Settings"), (Role.BENCH, "Bench rules"), (Role.READER, "Bench rules")]
)
def test_the_navigation_leads_only_where_the_role_may_look(rf, role, last):
    request = rf.get("/parts/holders/")
    request.user, request.resolver_match = somebody(role), None
    shown = navigation(request)
    quick = ["Quick check"] if role >= Role.BENCH else []
    first = ["Bench", *quick, "Fit checks", "Past swaps", "Parts library"]
    assert [word for word, _ in shown["navigation"]] == first
    window = ["Show window"] if role == Role.OWNER else []
    more = ["What would fit?", "Holders", "Enquiries", "Customers", "Looking after", "Parts to buy", *window, last]
    assert [word for word, _ in shown["navigation_more"]] == more
    assert shown["navigation_current"] == dict(shown["navigation_more"])["Holders"]
