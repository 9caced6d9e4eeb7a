"""A workshop of the first edition comes out right under the second: what it knew of dates, and its own bench rules."""

import pytest

from parts.fit.rules import read_rules
from parts.models import Dial, Movement, Pairing, ShopRule
from parts.rules.shop import shop_rules
from tests.jobs.migrations import at, leave, newest

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.long]


@pytest.fixture
def old():
    """The models of the first edition, in a database of its own making."""
    yield at([("parts", "0008_words")])
    leave()


def test_what_was_saved_without_a_date_has_none_and_the_rest_is_as_it_was(old):
    old.get_model("parts", "Dial").objects.create(name="plain", diameter=28.5)
    old.get_model("parts", "Dial").objects.create(name="dated", has_window=True, window_angle=90.0)
    old.get_model("parts", "Movement").objects.create(name="slim", has_date=False)
    newest()
    assert dict(Dial.objects.values_list("name", "has_window")) == {"plain": False, "dated": True}
    assert Dial.objects.get(name="dated").window_angle == 90.0
    assert Movement.objects.get().has_date is False


def test_rules_that_are_gone_or_no_longer_possible_go_back_to_their_defaults(old):
    for name, value in (("post_open_max", 0.4), ("post_bush_max", 0.2), ("post_press_max", 0.15), ("gap_min", 0.2)):
        old.get_model("parts", "ShopRule").objects.create(name=name, value=value)
    what_if = {"rules.post_bush_max": "0.2", "case.back_depth": "4.1"}
    old.get_model("parts", "Pairing").objects.create(name="tried", what_if=what_if)
    newest()
    assert list(ShopRule.objects.values_list("name", "value")) == [("gap_min", 0.2)]
    assert Pairing.objects.get().what_if == {"case.back_depth": "4.1"}
    assert read_rules(shop_rules()).gap_min == 0.2


def test_a_small_hand_that_came_along_with_a_single_hand_is_chosen_by_itself():
    old = at([("parts", "0021_no_seconds_hand")])
    sets = {
        name: old.get_model("parts", "HandSet").objects.create(name=name, subsidiary=small)
        for name, small in (("plain", None), ("own", {"small seconds": {"length": 2.0}}), ("new", {"alarm": {}}))
    }
    pairing = old.get_model("parts", "Pairing").objects
    pairing.create(name="along", hands=sets["plain"], seconds_hand_from=sets["own"])
    pairing.create(name="over", hands=sets["new"], hour_hand_from=sets["own"])
    pairing.create(name="under", hands=sets["new"], seconds_hand_from=sets["own"])
    pairing.create(name="none", hands=sets["plain"], seconds_hand_from=sets["plain"])
    newest()
    chosen = dict(Pairing.objects.values_list("name", "small_seconds_hand_from__name"))
    leave()
    assert chosen == {"along": "own", "over": "own", "under": None, "none": None}
