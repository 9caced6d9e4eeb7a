"""The record of a job: what it holds, and that it follows every change."""

from datetime import timedelta

import pytest
from django.core.management import call_command
from django.db import connection
from django.utils import timezone

from jobs.history import record
from jobs.history_words import in_words
from jobs.job import state
from jobs.models import (
    Event,
    GoAhead,
    Hindsight,
    Job,
    Order,
    Outcome,
    Past,
    PastCheck,
    PastText,
    PastWord,
    Quote,
    StaleRecord,
)
from jobs.options import choosing
from jobs.orders import save_order
from jobs.past import outcome as outcomes
from jobs.past.record import rebuild, rebuild_all, refresh_stale
from jobs.past.search.finding import find, narrowed
from jobs.quotes import versions
from jobs.stages import progress, work_time
from jobs.stages.checklist import items_of
from jobs.stages.measuring import write_back
from tests.factories import CaseFamilyFactory, DialFactory, JobFactory, MovementFactory, PairingFactory
from tests.jobs.past.generate import generate

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner):
    """A job taken to its end, 90 minutes long, quoted with what the report asks for."""
    pairing = PairingFactory(movement=MovementFactory(name="Sprig thin"), dial=DialFactory(name="grey"))
    job = JobFactory(case_family=pairing.case.family, wish="Quartz with the date")
    option = choosing.add_option(job=job, pairing=pairing, by=owner)
    choosing.choose(option=option, by=owner)
    quote = versions.propose(job=job, options=[option], by=owner)
    quote.parts.get().lines.filter(price=None).update(price=5)
    quote = versions.send(quote=quote, by=owner)
    said = {"said_by": "Ida", "how": "phone", "on": timezone.localdate(), "by": owner}
    versions.accept(quote=quote, part=quote.parts.get(), taken=set(), **said)
    GoAhead.objects.create(job=job, how="phone", said_by="Ida", on=timezone.localdate(), by=owner)
    report = choosing.report_of(choosing.chosen_option(job))
    for kind in progress.ORDER[1:]:
        finish(job, kind, report, owner)
    state.close_job(job=job, state=Job.State.FINISHED, by=owner, although_wanting=True)
    return job


def finish(job, kind, report, owner):
    stage = job.stages.get(kind=kind)
    for item in items_of(kind, report, job):
        progress.tick(stage=stage, item=item, done=True, by=owner)
    if kind in ("holder", "dial"):
        work_time.add_minutes(stage=stage, minutes=60 if kind == "holder" else 30, note="", by=owner)
    if kind == "stem":
        stage.measured = {"stem.length": "9.75 ±0.01"}
        stage.save()
    if kind == "timing":
        progress.skip(stage=stage, reason="timed at the wrist", by=owner)
    else:
        progress.close(stage=job.stages.get(kind=kind), report=report, by=owner)


def words_find(words):
    return [line.past.job_id for line in find(past=narrowed(), words=words).lines]


def test_a_finished_job_is_kept_with_what_decided(job):
    assert refresh_stale() == 0
    past = Past.objects.get(job=job)
    kept = outcomes.saved_report_of(job)
    assert (past.state, past.stage, past.family) == ("finished", "", job.case_family)
    assert (past.spent, past.took) == ({"holder": 60.0, "dial": 30.0}, 90.0)
    lines = job.quotes.get().parts.get().lines.filter(kind="work")
    assert past.quoted == sum(line.minutes for line in lines) > 100
    assert (past.day, past.month) == (timezone.localdate(), int(f"{timezone.localdate():%Y%m}"))
    assert 0 <= past.days < 1
    facts = past.facts
    assert (facts["verdict"], facts["kept"]) == (kept.report["verdict"], kept.pk)
    assert (facts["stem"], facts["stem_measured"]) == ("9.75 ±0.01 mm", True)
    assert (facts["spacer"], kept.report["spacer"]["thickness"]) == ("none", 0.0)
    not_fitting = {check["key"] for check in kept.report["checks"] if check["verdict"] != "fits"}
    assert set(PastCheck.objects.filter(past=past).values_list("check_key", flat=True)) == not_fitting


def test_a_report_that_waits_for_stem_and_crown_is_remembered_and_asked_about(owner, owner_client):
    job = JobFactory(number="26-031")
    option = choosing.add_option(job=job, pairing=PairingFactory(stem=None, crown=None), by=owner)
    choosing.choose(option=option, by=owner)
    waiting = [check["key"] for check in option.reports.first().report["checks"] if check["verdict"] is None]
    assert waiting
    assert owner_client.get("/past/").status_code == 200
    assert not PastCheck.objects.filter(check_key__in=waiting).exists()
    form = owner_client.get("/jobs/26-031/outcome/").context["form"]
    assert not {f"found-{key}" for key in waiting} & set(form.fields)


@pytest.mark.parametrize("words", ["sprig thin", "grey", "quartz date", "wrist", "movement: sprig"])
def test_it_is_found_by_everything_written(job, words):
    refresh_stale()
    assert words_find(words) == [job.pk]


def test_every_change_is_found_at_the_next_search(job, owner, owner_client):
    refresh_stale()
    assert words_find("verdigris") == []
    owner_client.post(f"/jobs/{job.number}/holder/remarks/", {"remarks": "verdigris below"})
    refresh_stale()
    assert words_find("verdigris") == [job.pk]
    owner_client.post(f"/jobs/{job.number}/holder/remarks/", {"remarks": "clean"})
    refresh_stale()
    assert words_find("verdigris") == []


def test_a_record_is_made_once_for_many_changes(job, owner, django_assert_max_num_queries):
    refresh_stale()
    for _ in range(30):
        record(job=job, by=owner, kind=Event.Kind.TICKED)
    assert StaleRecord.objects.count() == 30
    with django_assert_max_num_queries(38):
        assert refresh_stale() == 0
    assert StaleRecord.objects.count() == 0
    with django_assert_max_num_queries(9):
        refresh_stale()


def test_another_movement_chosen_on_the_fit_check_page_is_found(job):
    refresh_stale()
    pairing = choosing.chosen_option(job).pairing
    pairing.movement = MovementFactory(name="Christened later")
    pairing.save()
    refresh_stale()
    assert words_find("christened") == [job.pk]
    assert Past.objects.get(job=job).movement == pairing.movement


@pytest.mark.parametrize("what", ["case_family", "customer", "movement"])
def test_what_was_renamed_is_found_by_its_new_name(job, what):
    refresh_stale()
    pairing = choosing.chosen_option(job).pairing
    named = {"case_family": job.case_family, "customer": job.customer, "movement": pairing.movement}[what]
    named.name = "Newly Christened"
    named.save()
    refresh_stale()
    assert words_find("christened") == [job.pk]
    assert StaleRecord.objects.count() == 0


def test_more_changed_jobs_than_at_once_wait_for_the_next_time():
    jobs = JobFactory.create_batch(5)
    StaleRecord.objects.bulk_create(StaleRecord(job=job) for job in jobs)
    assert refresh_stale(limit=2) == 3
    assert refresh_stale(limit=2) == 1
    assert refresh_stale(limit=2) == 0
    assert Past.objects.count() == 5


def test_remembering_anew_changes_nothing(job, owner):
    generate(20, by=owner)
    before = list(Past.objects.order_by("pk").values()), list(PastText.objects.order_by("pk").values())
    words = set(PastWord.objects.values_list("word", flat=True))
    call_command("rebuild_past")
    after = list(Past.objects.order_by("pk").values()), list(PastText.objects.order_by("pk").values())
    for rows in (before[0], after[0]):
        for row in rows:
            row.pop("written")
    assert [row for row in before[0] if row["job_id"] != job.pk] == [row for row in after[0] if row["job_id"] != job.pk]
    assert len(after[0]) == 21
    assert set(PastWord.objects.values_list("word", flat=True)) >= words - {""}


def test_a_job_that_is_gone_is_no_longer_found(owner):
    job = JobFactory(wish="verdigris")
    rebuild([job.pk])
    assert words_find("verdigris") == [job.pk]
    PastText.objects.filter(job=job).delete()
    assert words_find("verdigris") == []
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("INSERT INTO jobs_pasttext_index(jobs_pasttext_index) VALUES ('integrity-check')")


def test_a_movement_that_is_a_jobs_own_copy_counts_as_its_original(job, owner):
    chosen = choosing.chosen_option(job)
    original = chosen.pairing.movement
    state.open_job_again(job=job, by=owner)
    PairingFactory(movement=original)
    stage = job.stages.get(kind="holder")
    write_back(stage=stage, pairing=chosen.pairing, path="movement.back_height", text="3.49", by=owner)
    assert choosing.chosen_option(job).pairing.movement != original
    refresh_stale()
    past = Past.objects.get(job=job)
    assert (past.movement, past.facts["movement"]) == (original, "Sprig thin")


def test_the_outcome_is_told_in_record_history_and_search(job, owner):
    check = next(one for one in outcomes.saved_report_of(job).report["checks"] if one["verdict"] == "fits")
    outcome = Outcome(job=job, word="trouble", went_wrong="The tube was worn oval.")
    outcomes.store(
        outcome=outcome, before={"word": "", "went_wrong": ""}, said=[(check, ("no", "by 0.1 mm"))], by=owner
    )
    refresh_stale()
    assert words_find("oval tube") == [job.pk]
    assert (Past.objects.get(job=job).outcome) == "trouble"
    row = PastCheck.objects.get(past=job.pk, check_key=check["key"])
    assert (row.said, row.found) == ("fits", "no")
    told = [(words.what, words.after) for words in map(in_words, job.events.all()[:3])]
    assert told == [
        (f"At the bench: {check['title']}", "did not fit, by 0.1 mm"),
        ("Outcome: What went wrong", "The tube was worn oval."),
        ("Outcome: How it turned out", "fitted, with trouble on the way"),
    ]


def test_a_hindsight_that_is_taken_back_stays_on_record_and_no_longer_counts(job, owner):
    check = outcomes.saved_report_of(job).report["checks"][0]
    outcomes.store(outcome=Outcome(job=job), before={}, said=[(check, ("no", "slip"))], by=owner)
    outcome = outcomes.outcome_of(job)
    outcomes.store(outcome=outcome, before={}, said=[(check, ("", ""))], by=owner)
    assert Hindsight.objects.get().found == ""
    assert in_words(job.events.first()).before == "did not fit, slip"
    refresh_stale()
    assert not PastCheck.objects.filter(past=job.pk).exclude(found="").exists()


def test_a_job_with_nothing_but_a_wish_is_recorded():
    job = JobFactory(case_family=None, wish='\0odd ‘quotes’ "and" OR AND NOT'.replace("\0", ""))
    rebuild([job.pk])
    past = Past.objects.get(job=job)
    assert (past.movement, past.family, past.quoted, past.took, past.days, past.reported) == (None,) * 5 + (False,)
    assert words_find("odd quotes or and not") == [job.pk]


def test_generated_jobs_have_everything(owner):
    jobs = generate(40, by=owner)
    assert Past.objects.count() == 40
    for job in jobs:
        past = Past.objects.get(job=job)
        assert past.took == pytest.approx(sum(job.minutes.values()), abs=0.5)
        assert past.movement == job.movement
        assert timedelta(days=past.days) == pytest.approx(job.closed - job.logged, abs=timedelta(seconds=1))
    assert rebuild_all() == 40
    assert CaseFamilyFactory._meta.model.objects.filter(holder_designs=None).exists()


def test_a_job_was_done_on_the_day_that_it_was_closed(job):
    """What is changed of it afterwards moves it to no other day; one closed before there was a history counts then."""
    closed = timezone.now() - timedelta(days=40)
    Job.objects.update(logged=closed - timedelta(days=9))
    Event.objects.filter(kind=Event.Kind.CLOSED).update(at=closed)
    rebuild([job.pk])
    past = Past.objects.get(job=job)
    assert (past.day, past.days) == (timezone.localdate(closed), 9)
    Event.objects.filter(kind=Event.Kind.CLOSED).delete()
    rebuild([job.pk])
    assert Past.objects.get(job=job).day == timezone.localdate(Job.objects.get().updated)


def test_each_text_is_told_with_where_it_stands(job, owner):
    Job.objects.update(wish="Quartz", remarks="slow", keep="hands", came_with="box", serial="N 7", watch="grey")
    said = {"went_wrong": "slipped", "next_time": "clamp", "learn_why": "rare", "learn": True}
    Outcome.objects.update_or_create(job=job, defaults=said)
    Hindsight.objects.create(
        job=job, check_key="back-gap", title="Gap", said="unclear", found="no", note="rubs", by=owner
    )
    save_order(order=Order(job=job, text="a stem", supplier="the drawer"), by=owner)
    Quote.objects.update(note="for May", decision_note="gladly")
    rebuild([job.pk])
    texts = {}
    for source, where, text in PastText.objects.get(job=job).told:
        texts.setdefault((source, where), []).append(text)
    of_quotes = [where for source, where in texts if source == "quote"]
    assert of_quotes == ["quote, version 1", "answer to version 1", "quote"]
    assert [texts["quote", where] for where in of_quotes[:2]] == [["for May"], ["gladly"]]
    (lines,) = texts["quote", "quote"]
    assert lines.split("; ")[0] == "Open the watch and remove movement, dial and hands"
    pairing = choosing.chosen_option(job).pairing
    assert {where: held for (source, where), held in texts.items() if source == "job"} == {
        "": [f"{job.case_family}, grey, Sprig thin, {pairing.hands.name}, {pairing.dial}"],
        "what went wrong": ["slipped"],
        "for next time": ["clamp"],
        "to learn": ["rare"],
        "in hindsight": ["Gap: the report said undecided, the bench did not fit. rubs"],
        "wish": ["Quartz"],
        "remarks": ["slow"],
        "timing test skipped": ["timed at the wrist"],
        "kept": ["hands"],
        "came with": ["box"],
        "pairing": [pairing.name],
        "ordered": [*job.orders.order_by("pk").values_list("text", flat=True)[:4], "a stem, the drawer"],
        "serial number": ["N 7"],
        "customer": [job.customer.name],
    }
