"""Tips and traps: written down at their part, shown wherever it is used, archived with a way back."""

import pytest

from jobs.options import choosing
from parts.library import notes
from parts.models import PartNote
from tests.factories import (
    CaseFactory,
    CaseFamilyFactory,
    DialFactory,
    JobFactory,
    MovementFactory,
    PairingFactory,
    StemFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def family():
    return CaseFamilyFactory(name="Bramblegate 36")


@pytest.fixture
def note(family, owner):
    return notes.add(part=family, text="Break the burr first.", by=owner)


def test_a_note_of_a_family_stands_wherever_it_is_used(owner_client, owner, family, note):
    case, dial = CaseFactory(family=family), DialFactory(family=family)
    pairing = PairingFactory(case=case)
    job = JobFactory(case_family=family)
    for address in (
        f"/parts/case-families/{family.pk}/",
        f"/parts/cases/{case.pk}/",
        f"/parts/dials/{dial.pk}/",
        f"/parts/pairings/{pairing.pk}/",
        f"/jobs/{job.number}/",
    ):
        assert "Break the burr first." in owner_client.get(address).text, address
    assert "Break the burr first." not in owner_client.get(f"/parts/movements/{pairing.movement_id}/").text


def test_a_note_of_a_movement_stands_at_its_copies_too(owner_client, owner):
    movement = MovementFactory(name="Sprig thin")
    copy = MovementFactory(name="Sprig thin", made_for="26-014", copied_from=movement)
    made = notes.add(part=copy, text="The lever slips.", by=owner)
    assert made.movement == movement
    job = JobFactory()
    pairing = PairingFactory(movement=copy)
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    for address in (
        f"/parts/movements/{movement.pk}/",
        f"/parts/movements/{copy.pk}/",
        f"/parts/pairings/{pairing.pk}/",
        f"/jobs/{job.number}/",
    ):
        assert "The lever slips." in owner_client.get(address).text, address


def test_a_changed_part_brings_its_notes_into_the_fit_check(owner_client, family, note):
    case = CaseFactory(family=family)
    response = owner_client.post(
        "/parts/pairings/new/", {"case": case.pk, "placement": "auto"}, headers={"hx-request": "true"}
    )
    assert "Break the burr first." in response.text


def test_notes_take_one_query_for_any_number_of_parts(family, note, owner, django_assert_num_queries):
    parts = [family, *CaseFactory.create_batch(5), *MovementFactory.create_batch(5), None]
    for part in parts[6:11]:
        notes.add(part=part, text="x", by=owner)
    with django_assert_num_queries(1):
        found = notes.notes_for(parts)
        assert [str(one.of) for one in found] == ["Bramblegate 36", *(part.name for part in parts[6:11])]
        assert {str(one.by) for one in found} == {"owner"}
    with django_assert_num_queries(0):
        assert notes.notes_for([None, StemFactory.build(), CaseFactory.build(family=None)]) == []


def test_a_note_is_written_down(owner_client, family):
    address = f"/parts/case-families/{family.pk}/notes/add/"
    assert "A tip for Bramblegate 36" in owner_client.get(address).text
    response = owner_client.post(address, {"text": "Warm it <b>first</b>."}, follow=True)
    assert "Warm it &lt;b&gt;first&lt;/b&gt;." in response.text
    made = PartNote.objects.get()
    assert (made.family, made.movement, made.by.username) == (family, None, "owner")


@pytest.mark.parametrize(
    ("text", "told"),
    [("", "Write the tip first"), ("  ", "Write the tip first"), ("x" * 2001, "the limit is 2000")],
)
def test_an_empty_or_endless_note_is_refused(owner_client, family, text, told):
    response = owner_client.post(f"/parts/case-families/{family.pk}/notes/add/", {"text": text})
    assert response.status_code == 422
    assert told in response.text
    assert not PartNote.objects.exists()


def test_other_parts_have_no_notes_of_their_own(owner_client):
    assert owner_client.get(f"/parts/stems/{StemFactory().pk}/notes/add/").status_code == 404


def test_a_changed_note_keeps_its_older_wording_put_away(owner_client, family, note):
    owner_client.post(f"/parts/notes/{note.pk}/", {"text": "Break the burr with a stone."})
    new = PartNote.objects.exclude(pk=note.pk).get()
    note.refresh_from_db()
    assert (new.text, new.archived, new.family) == ("Break the burr with a stone.", False, family)
    assert (note.text, note.archived, note.archived_by.username) == ("Break the burr first.", True, "owner")
    text = owner_client.get(f"/parts/case-families/{family.pk}/").text
    assert "1 archived" in text
    assert "Break the burr first." in text


def test_the_same_wording_changes_nothing(owner_client, note):
    owner_client.post(f"/parts/notes/{note.pk}/", {"text": note.text})
    assert PartNote.objects.get().archived is False


def test_a_note_changed_in_another_window_is_not_changed_over(owner_client, owner, family, note):
    notes.add(part=family, text="Another tip.", by=owner)
    owner_client.post(f"/parts/notes/{note.pk}/", {"text": "One wording."})
    response = owner_client.post(f"/parts/notes/{note.pk}/", {"text": "Another wording."})
    assert response.status_code == 422
    assert "Someone changed or archived this tip" in response.text
    assert "Another wording." in response.text
    assert "The newest tip: “One wording.”" in response.text
    assert not PartNote.objects.filter(text="Another wording.").exists()


def test_a_note_is_put_away_and_brought_back(owner_client, family, note):
    owner_client.post(f"/parts/notes/{note.pk}/put-away/")
    assert notes.notes_for([family]) == []
    owner_client.post(f"/parts/notes/{note.pk}/put-away/")
    owner_client.post(f"/parts/notes/{note.pk}/put-away/", {"do": "bring-back"})
    assert notes.notes_for([family]) == [note]


def test_who_only_looks_sees_notes_and_changes_none(reader, family, note):
    text = reader.get(f"/parts/case-families/{family.pk}/").text
    assert "Break the burr first." in text
    assert "Add a tip" not in text
    assert reader.post(f"/parts/notes/{note.pk}/put-away/").status_code == 403
    assert reader.get(f"/parts/notes/{note.pk}/").status_code == 403


def test_of_the_archived_tips_the_last_one_stands_first(family, owner):
    first, second, third = (notes.add(part=family, text=text, by=owner) for text in ("one", "two", "three"))
    for note in (second, third, first):
        notes.archive(note=note, by=owner)
    assert [note.text for note in notes.archived_of(family)] == ["one", "three", "two"]


def test_a_tip_that_is_brought_back_was_archived_by_nobody(family, owner):
    note = notes.add(part=family, text="one", by=owner)
    notes.archive(note=note, by=owner)
    notes.bring_back(note=note)
    note.refresh_from_db()
    assert (note.archived, note.archived_by, note.archived_at) == (False, None, None)
