"""Which passwords were found strong enough, and whose was not."""

import pytest

from tests.factories import PASSWORD, UserFactory
from workshop.accounts.passwords import prove, unproven
from workshop.models import ProvenPassword

pytestmark = pytest.mark.django_db


def test_a_strong_password_is_proven_until_it_is_another():
    user = UserFactory(username="ines")
    assert unproven() == ["ines"]
    assert prove(user, PASSWORD)
    assert unproven() == []
    user.set_password("crown-wheel-12")
    user.save()
    assert unproven() == ["ines"]


def test_a_weak_password_is_not_proven_and_takes_the_proof_of_an_earlier_one_away():
    user = UserFactory(username="ines")
    prove(user, PASSWORD)
    assert not prove(user, "12345")
    assert not ProvenPassword.objects.exists()
    assert unproven() == ["ines"]


def test_who_cannot_sign_in_needs_no_proof():
    UserFactory(is_active=False)
    without = UserFactory()
    without.set_unusable_password()
    without.save()
    UserFactory(username="later")
    assert unproven() == ["later"]
