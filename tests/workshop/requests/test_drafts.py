"""The intake page's draft where one person is at two devices at once."""

import threading

import pytest
from django.db import connection

from jobs.intake import arrival
from jobs.models import Draft


@pytest.mark.django_db(transaction=True)
def test_a_draft_is_there_for_both_of_two_devices_while_it_is_dropped(owner):
    seen, wrong = set(), []

    def use():
        try:
            for _ in range(15):
                seen.add(arrival.draft_of(owner).user_id)
                arrival.keep_draft(user=owner, data={"customer": "Half"})
                arrival.drop_draft(user=owner)
        except Exception as error:
            wrong.append(error)
        connection.close()

    threads = [threading.Thread(target=use) for _ in range(3)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert (wrong, seen) == ([], {owner.pk})


@pytest.mark.django_db
def test_a_draft_keeps_its_key_and_takes_what_was_typed_last(owner):
    key = arrival.draft_of(owner).key
    for name in ("Half", "Whole"):
        arrival.keep_draft(user=owner, data={"customer": name})
    assert Draft.objects.values_list("key", "data").get() == (key, {"customer": "Whole"})
