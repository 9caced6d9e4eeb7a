"""Meaning lives in columns: with every word of a screen worded otherwise nothing breaks and nothing leaks."""

from copy import deepcopy
from dataclasses import replace

import pytest
from django.db.models import F
from django.urls import reverse
from PIL import Image

from jobs.customers.erase import erase
from jobs.customers.personal_data import held
from jobs.job.forms import JobForm
from jobs.job.state import close_job, open_job_again
from jobs.models import Job, Option, Past, Photo, Shop, Stage
from jobs.options import choosing
from jobs.options.choosing import chosen_option, report_of
from jobs.papers import facts
from jobs.papers.handover import handover
from jobs.past.record import refresh_stale
from jobs.past.search import document
from jobs.photos.storing import store_pictures, store_signed
from jobs.quotes.minutes import STANDING
from jobs.quotes.versions import empty_draft
from jobs.stages import checklist, measuring, progress
from jobs.stages.checklist import items_of
from parts.dimensions.field import Source
from parts.fit import check_sheet
from parts.fit.verdicts import without_count
from parts.library import notes, part_records
from parts.library.kinds import KINDS
from parts.models import Case, Movement
from parts.pairings.answer import answer
from parts.rules.remedy_minutes import IN_STANDING
from parts.tools.pictures import as_kept
from tests.factories import CustomerFactory, DialFactory, JobFactory, MovementFactory, PairingFactory
from tests.fit.constructions.sheets import ALL as CONSTRUCTIONS
from tests.fit.sheets import sheet

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner):
    job = JobFactory()
    choosing.choose(option=choosing.add_option(job=job, pairing=PairingFactory(name="Grey"), by=owner), by=owner)
    return job


@pytest.fixture
def reworded(monkeypatch):
    """Call it to have all that names a fact worded otherwise: labels of forms, fields, choices and dimensions."""

    def reword():
        for field in JobForm.base_fields.values():
            monkeypatch.setattr(field, "label", f"{field.label} in other words")
        for model in (Job, Stage, Case):
            for field in model._meta.fields:
                monkeypatch.setattr(field, "verbose_name", f"{field.verbose_name} in other words")
        for dimension in Case.dimensions.values():
            other = replace(dimension.input, label=f"{dimension.input.label} in other words")
            monkeypatch.setattr(dimension, "input", other)
        for source in Source:
            monkeypatch.setattr(source, "_label_", f"{source.label} in other words")

    return reword


def sent_facts(job, **changes):
    kept = {"case_family": job.case_family_id, "wish": job.wish, "luminous": job.luminous}
    return kept | {"watch": "", "serial": "", "came_with": "", "keep": "", "remarks": ""} | changes


def measured(client, job, text, was=""):
    data = {"case.back_depth": text, "case.back_depth-was": was}
    return client.post(reverse("jobs:measurements", args=[job.number, "teardown"]), data)


def own_case(job):
    return choosing.chosen_option(job).pairing.case


def test_the_fee_stays_the_owners_however_its_field_is_called(owner_client, hand, job, reworded):
    reworded()
    owner_client.post(reverse("jobs:edit", args=[job.number]), sent_facts(job, diagnosis_fee="61.50", watch="cream"))
    job.refresh_from_db()
    data = sent_facts(job, diagnosis_fee="73.25", watch="cream")
    owner_client.post(reverse("jobs:edit", args=[job.number]), data)
    pages = [reverse(name, args=[job.number]) for name in ("jobs:history", "jobs:job")]
    for page in pages:
        assert "73.25" in owner_client.get(page).text
        text = hand.get(page).text
        assert "cream" in text
        assert "61.50" not in text
        assert "73.25" not in text


def test_a_measurement_is_undone_however_its_dimension_is_called(owner_client, job, reworded):
    Case.objects.update(back_depth_pm=0.03, back_depth_source=Source.SHEET)
    measured(owner_client, job, "3.70")
    reworded()
    assert measured(owner_client, job, "", was="3.70").status_code == 302
    case = own_case(job)
    assert (case.back_depth, case.back_depth_pm, case.back_depth_source) == (4.20, 0.03, "s")


def test_a_measurement_is_undone_after_the_free_texts_are_erased(owner_client, owner, job):
    measured(owner_client, job, "3.70")
    close_job(job=job, state=Job.State.RETURNED, by=owner)
    erase(customer=job.customer, by=owner, empty_texts=True)
    open_job_again(job=job, by=owner)
    measured(owner_client, job, "", was="3.70")
    assert own_case(job).back_depth == 4.20


def test_a_customer_called_like_a_part_leaves_the_facts_alone(owner_client, owner, job):
    Job.objects.update(customer=CustomerFactory(name="Case"))
    job.refresh_from_db()
    measured(owner_client, job, "3.70")
    close_job(job=job, state=Job.State.RETURNED, by=owner)
    erase(customer=job.customer, by=owner, empty_texts=True)
    assert job.events.get(kind="measured").data["path"] == "case.back_depth"
    assert job.events.get(kind="measured").stage == "teardown"


def test_where_nothing_is_known_of_what_stood_before_nothing_is_undone(owner_client, job):
    measured(owner_client, job, "3.70")
    job.events.filter(kind="measured").update(data={"path": "case.back_depth"}, what="Measured", before="")
    response = measured(owner_client, job, "", was="3.70")
    assert response.status_code == 422
    assert "so this cannot be undone" in response.text
    assert own_case(job).back_depth == 3.70
    assert job.stages.get(kind="teardown").measured == {"case.back_depth": "3.70 ±0.08"}


def test_a_signed_quote_stays_the_owners_whatever_its_caption_says(hand, owner, job):
    picture, quote = Image.new("RGB", (9, 9)), empty_draft(job=job, by=owner)
    signed = store_signed(quote=quote, picture=as_kept(picture), by=owner)
    watch = store_pictures(job=job, pictures=[as_kept(picture)], by=owner, caption="Signed: version of the dial")[0]
    Photo.objects.filter(pk=signed.pk).update(caption="What the customer wrote")
    shown = {pk: hand.get(reverse("jobs:photo", args=[job.number, pk])).status_code for pk in (signed.pk, watch.pk)}
    assert shown == {signed.pk: 403, watch.pk: 200}
    assert held(job.customer)["signed"] == 1
    close_job(job=job, state=Job.State.RETURNED, by=owner)
    erase(customer=job.customer, by=owner)
    assert list(job.photos.all()) == [watch]


def test_a_part_or_pairing_that_is_called_like_a_copy_is_none(owner, job):
    """Its name ends as the copy's of a job does, and another of the plain name is there."""
    MovementFactory(name="Sprig thin")
    movement = MovementFactory(name="Sprig thin, 26-014")
    made = notes.add(part=movement, text="The lever slips.", by=owner)
    assert made.movement == movement
    pairing = PairingFactory(name=f"Fern, {job.number}", movement=movement)
    own = choosing.add_option(job=job, pairing=pairing, by=owner).pairing
    assert (own.name, own.made_for, own.copied_from) == (pairing.name, job.number, pairing)
    assert own.pk != pairing.pk
    choosing.choose(option=Option.objects.get(pairing=own), by=owner)
    refresh_stale()
    past = Past.objects.get(job=job)
    assert (past.movement, past.facts["movement"]) == (movement, "Sprig thin, 26-014")


def test_a_copy_counts_as_its_original_whatever_both_are_called_later(owner, job):
    pairing = choosing.chosen_option(job).pairing
    PairingFactory(movement=pairing.movement)
    stage = job.stages.get(kind="holder")
    measuring.write_back(stage=stage, pairing=pairing, path="movement.back_height", text="3.49", by=owner)
    copy = choosing.chosen_option(job).pairing.movement
    original = copy.copied_from
    assert (copy.name, str(copy)) == (original.name, f"{original.name}, {job.number}")
    Movement.objects.filter(pk=copy.pk).update(name="Sprig worn")
    Movement.objects.filter(pk=original.pk).update(name="Sprig as new")
    assert notes.add(part=Movement.objects.get(pk=copy.pk), text="The lever slips.", by=owner).movement == original
    refresh_stale()
    assert Past.objects.get(job=job).movement == original


def test_a_copy_as_the_start_of_a_new_part_leaves_the_part_as_it_is_and_is_nobodys_own(owner):
    movement = MovementFactory(name="Sprig", made_for="26-014")
    made = part_records.new_from(kind=KINDS["movements"], record=movement)
    assert (movement.name, str(made), made.made_for) == ("Sprig", "Sprig, copy", "")
    assert [movement.foot_holes.count(), made.foot_holes.count()] == [2, 2]


def test_a_text_of_a_quote_stays_the_owners_wherever_it_is_said_to_stand(owner_client, hand, owner, job, monkeypatch):
    quote = empty_draft(job=job, by=owner)
    quote.note = "verdigris for 61.50"
    quote.save()
    monkeypatch.setattr(document, "_quotes", lambda job: [("offer, version 1", quote.note)])
    refresh_stale()
    place = "Offer, version 1:"
    assert place in owner_client.get(reverse("jobs:past"), {"q": "verdigris", "state": "open"}).text
    text = hand.get(reverse("jobs:past"), {"q": "verdigris", "state": "open"}).text
    assert job.number in text
    assert place not in text


def test_the_note_says_that_the_watch_held_however_the_item_is_worded(owner, job, monkeypatch):
    stage = job.stages.get(kind="handover")
    other = checklist.Item(checklist.TIGHT, "It kept the water out.", required=False)
    progress.tick(stage=stage, item=other, done=True, by=owner)
    assert handover(job, shop=Shop())["held_water"]
    near = checklist.Item(f"{checklist.TIGHT}-crown", "The crown is tight.")
    progress.tick(stage=stage, item=other, done=False, by=owner)
    progress.tick(stage=stage, item=near, done=True, by=owner)
    assert not handover(job, shop=Shop())["held_water"]


def checks_of_constructions():
    """The keys of the checks that watches of other constructions have."""
    reports = (check_sheet(sheet(deepcopy(changes))) for changes in CONSTRUCTIONS.values())
    return {without_count(check.key) for report in reports for check in report.checks}


def test_the_checks_that_are_named_apart_are_those_of_the_engine():
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    keys = {}
    for check in answer(pairing).report.checks:
        keys.setdefault(check.subject, set()).add(check.key)
    assert keys["Date"] == set(facts.OF_THE_DATE)
    gaps = {key for key in keys["Hands"] if key.startswith("gap-")}
    assert gaps == {key for key in IN_STANDING if key.startswith("gap-")}
    assert set(IN_STANDING) <= checks_of_constructions().union(*keys.values())


def test_every_check_with_work_at_the_bench_has_one_stage_for_it():
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    keys = {check.key for check in answer(pairing).report.checks} | {"pad-room", "dial-trim", "dial-held"}
    keys |= checks_of_constructions()
    named = [key for checks in checklist._REMEDIES.values() for key in checks]
    assert len(named) == len(set(named))
    assert keys - set(named) == {"unbalance-hour", "unbalance-minute", "unbalance-seconds", "stem-length"}
    assert set(named) <= keys


def test_the_standing_work_is_that_of_every_stage_after_intake():
    assert list(STANDING) == [kind for kind in progress.ORDER if kind != Stage.Kind.INTAKE]
    assert list(STANDING.values()) == [30, 60, 25, 25, 20, 10, 15]


def test_a_person_called_like_an_erased_customer_is_none():
    customer = CustomerFactory()
    customer.name = customer.erased_name
    customer.save()
    assert not type(customer).objects.get(pk=customer.pk).is_erased


def test_a_tick_stays_when_its_item_is_worded_anew_and_goes_when_its_number_changes(job, owner, monkeypatch):
    report = report_of(chosen_option(job))
    before = {item.name: item for kind in ("holder", "hands", "stem") for item in items_of(kind, report, job)}
    assert any(item.facts for item in before.values())
    monkeypatch.setattr(checklist, "_mm", lambda value: f"worded anew {value}")
    reworded = {item.name: item for kind in ("holder", "hands", "stem") for item in items_of(kind, report, job)}
    assert [name for name in before if before[name].text != reworded[name].text] != []
    assert {name: item.key for name, item in before.items()} == {name: item.key for name, item in reworded.items()}
    Case.objects.update(crown_seat_radius=F("crown_seat_radius") - 0.1)
    after = {item.name: item for item in items_of("stem", report_of(chosen_option(job)), job)}
    assert [name for name in after if before[name].key != after[name].key] == ["cut-0", "cut-1", "cut-2"]
