"""The page of a job: gates, options, editing beside another, its end."""

from datetime import timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from jobs.history import record
from jobs.history_words import in_words
from jobs.models import Job, Option
from jobs.options import choosing
from jobs.photos.storing import store_pictures
from jobs.stages.work_time import start_timer
from parts.models import Case, Pairing
from parts.tools.pictures import as_kept
from tests.factories import CaseFactory, DialFactory, JobFactory, MovementFactory, PairingFactory
from tests.reading import as_read

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return JobFactory(luminous="aged")


def address(name, job, *more):
    return reverse(f"jobs:{name}", args=[job.number, *more])


def facts(job, **changes):
    known = {"case_family": job.case_family_id, "wish": job.wish, "luminous": job.luminous}
    return known | {"watch": job.watch, "serial": "", "came_with": "", "keep": "", "remarks": ""} | changes


def test_unmarked_luminous_material_keeps_the_watch_closed(owner_client, job):
    assert "Keep this watch closed" in owner_client.get(job.get_absolute_url()).text
    data = {"how": "reading", "on": str(timezone.localdate()), "note": "background"}
    owner_client.post(address("luminous", job), data)
    assert "Keep this watch closed" not in owner_client.get(job.get_absolute_url()).text
    clearance = job.clearances.get()
    owner_client.post(address("take-back", job, "clearance", clearance.pk))
    page = owner_client.get(job.get_absolute_url()).text
    assert "Keep this watch closed" in page
    assert "Clearance of luminous paint undone" in page


def test_a_clearance_needs_a_note_and_a_day_that_has_come(owner_client, job):
    ahead = str(timezone.localdate() + timedelta(days=2))
    response = owner_client.post(address("luminous", job), {"how": "reading", "on": ahead, "note": ""})
    assert response.status_code == 422
    assert "is in the future" in response.context["form"].errors["on"][0]
    assert "note" in response.context["form"].errors
    assert "counts as radium" in response.text


def test_options_are_weighed_one_is_chosen_and_old_reports_stay(owner_client, job):
    kept = PairingFactory(name="With date")
    owner_client.post(address("option-add", job), {"pairing": kept.pk})
    owner_client.post(address("option-add", job), {"pairing": PairingFactory(name="Plain").pk})
    first, second = Option.objects.all()
    owner_client.post(address("option", job, first.pk), {"do": "choose"})
    owner_client.post(address("option", job, second.pk), {"do": "choose"})
    assert list(Option.objects.values_list("chosen", flat=True)) == [False, True]
    assert str(first.pairing) == f"With date, {job.number}"
    assert Pairing.objects.get(pk=kept.pk).name == "With date"
    Case.objects.filter(pk=second.pairing.case_id).update(back_depth=3.70)
    text = as_read(owner_client.get(job.get_absolute_url()).text)
    assert "Changed since the saved report" in text
    assert ">1 worse</b>" in text
    assert 'Back clearance: fits → no, <b class="way-worse">worse</b>' in text
    assert second.reports.get().report["verdict"] == "work"
    owner_client.post(address("option", job, second.pk), {"do": "rule-out"})
    second.refresh_from_db()
    assert (second.chosen, second.ruled_out) == (False, True)


def test_changing_the_facts_is_written_into_the_history(owner_client, job):
    owner_client.post(address("edit", job), facts(job, watch="cream dial"))
    told = in_words(job.events.get(data__field="watch"))
    assert told == ("Changed: The watch as found", "", "cream dial")


def test_a_second_tab_does_not_overwrite_the_first(owner_client, job):
    stamp = owner_client.get(address("edit", job)).context["form"].stamp
    owner_client.post(address("edit", job), facts(job, watch="from tab one", stamp=stamp))
    response = owner_client.post(address("edit", job), facts(job, watch="from tab two", stamp=stamp))
    assert response.status_code == 422
    assert "Someone changed this after you opened it" in response.text
    assert "Saved now: from tab one" in response.text
    assert 'value="from tab two"' in response.text
    job.refresh_from_db()
    assert job.watch == "from tab one"
    again = response.context["form"].stamp
    owner_client.post(address("edit", job), facts(job, watch="both seen", stamp=again))
    job.refresh_from_db()
    assert job.watch == "both seen"


def test_a_job_is_closed_opened_again_and_archived_never_deleted(owner_client, job):
    response = owner_client.post(address("state", job), {"do": "finished"}, follow=True)
    assert "Some stages are not done" in response.text
    owner_client.post(address("state", job), {"do": "returned"})
    owner_client.post(address("state", job), {"do": "archive"})
    job.refresh_from_db()
    assert (job.state, job.archived, job.waits_for) == ("returned", True, "nothing")
    owner_client.post(address("state", job), {"do": "open"})
    owner_client.post(address("state", job), {"do": "bring-back"})
    assert list(Job.objects.values_list("state", "archived")) == [("open", False)]
    assert job.events.count() == 4


def test_what_it_waits_for_is_said(owner_client, job):
    owner_client.post(address("state", job), {"waits_for": "customer"})
    owner_client.post(address("state", job), {"waits_for": "nonsense"})
    job.refresh_from_db()
    assert job.waits_for == "customer"


def test_an_unknown_number_is_not_found(owner_client):
    assert owner_client.get("/jobs/26-999/").status_code == 404


def test_opening_an_archived_job_puts_it_back_on_the_bench(owner_client, job):
    for do in ("declined", "archive", "open"):
        owner_client.post(address("state", job), {"do": do})
    job.refresh_from_db()
    assert (job.state, job.archived) == ("open", False)
    assert job.number in owner_client.get("/").text


def test_an_open_job_is_not_archived(owner_client, job):
    response = owner_client.post(address("state", job), {"do": "archive"}, follow=True)
    assert "Close it first, then archive it" in response.text
    job.refresh_from_db()
    assert not job.archived


def test_what_is_said_twice_happens_once(owner_client, job):
    for _ in range(2):
        owner_client.post(address("state", job), {"waits_for": "parts"})
    for _ in range(2):
        owner_client.post(address("state", job), {"do": "returned"})
    response = owner_client.post(address("state", job), {"do": "declined"}, follow=True)
    assert "This job is closed (returned as it came)" in response.text
    response = owner_client.post(address("state", job), {"waits_for": "me"}, follow=True)
    assert "This job is closed. Reopen it first." in response.text
    assert [event.kind for event in job.events.all()] == ["closed", "waits"]


def test_closing_a_job_stops_its_timers(owner_client, job, owner):
    owner_client.post(reverse("jobs:time", args=[job.number, "dial"]), {"do": "start"})
    owner_client.post(address("state", job), {"do": "declined"})
    assert job.stages.get(kind="dial").work_times.get().ended is not None


def test_a_fit_check_begins_with_the_watchs_own_case_and_dial(owner_client, job):
    case, dial = CaseFactory(family=job.case_family), DialFactory(family=job.case_family)
    CaseFactory(name="of another family")
    page = owner_client.get(job.get_absolute_url())
    assert page.context["begin_form"]["case"].initial == case.pk
    response = owner_client.post(address("option-new", job), {"case": case.pk})
    made = Option.objects.get().pairing
    assert response.url == reverse("parts:pairing", args=[made.pk])
    assert (made.case, made.dial, made.movement) == (case, dial, None)
    assert str(made) == f"{job.title}, option 1, {job.number}"
    made.movement = MovementFactory()
    made.save()
    begun = owner_client.get(response.url, follow=True)
    assert (begun.context["pairing"].report is not None, "Changed since you saved" in begun.text) == (True, False)
    owner_client.post(address("option-new", job), {"case": "999"})
    assert Option.objects.count() == 1


def test_a_pairing_of_another_job_is_weighed_as_a_copy_of_ones_own(owner_client, job, owner):
    other = choosing.add_option(job=JobFactory(), pairing=PairingFactory(name="Grey"), by=owner)
    owner_client.post(address("option-add", job), {"pairing": other.pairing_id})
    own = job.options.get().pairing
    assert (own.name, own.made_for, own.copied_from) == ("Grey", job.number, other.pairing.copied_from)
    assert Option.objects.count() == 2


def test_the_kept_pairings_of_its_family_come_first_and_the_list_stays_short(owner_client, job):
    mine = PairingFactory(name="of this family", case=CaseFactory(family=job.case_family))
    case, dial = CaseFactory(), DialFactory()
    Pairing.objects.bulk_create(Pairing(name=f"kept {i}", case=case, dial=dial) for i in range(120))
    choices = owner_client.get(job.get_absolute_url()).context["option_form"].fields["pairing"].choices
    assert choices[1] == (str(job.case_family), [(mine.pk, "of this family")])
    assert len(choices[2][1]) == 50


def test_side_by_side_leaves_out_what_was_dropped(owner_client, job, owner):
    first, second, third = (
        choosing.add_option(job=job, pairing=PairingFactory(name=name), by=owner) for name in ("one", "two", "three")
    )
    choosing.rule_out(option=second, by=owner)
    text = owner_client.get(job.get_absolute_url()).text
    assert f"pairing={first.pairing_id}&amp;pairing={third.pairing_id}&amp;" in text
    assert f"pairing={second.pairing_id}" not in text


def test_a_closed_job_weighs_nothing_more(owner_client, job, owner):
    option = choosing.add_option(job=job, pairing=PairingFactory(), by=owner)
    owner_client.post(address("state", job), {"do": "declined"})
    for url, data in (
        (address("option", job, option.pk), {"do": "choose"}),
        (address("option-new", job), {}),
        (address("option-add", job), {"pairing": PairingFactory().pk}),
    ):
        assert "This job is closed. Reopen it first." in owner_client.post(url, data, follow=True).text
    assert list(job.options.values_list("chosen", flat=True)) == [False]


def test_the_whole_history_stands_in_order_and_is_not_shortened(owner_client, job, owner):
    for number in range(70):
        record(job=job, by=owner, kind="ticked", after=f"happened {number}" + " long" * 100 * (number == 0))
    assert "happened 0 " not in owner_client.get(job.get_absolute_url()).text
    page = owner_client.get(address("history", job))
    assert [event.after[:11].strip() for event in page.context["events"]] == [f"happened {n}" for n in range(70)]
    assert "long " * 99 in page.text


@pytest.mark.parametrize(
    ("stage", "ticked", "filed"),
    [("teardown", False, "intake"), ("teardown", True, "teardown"), ("hands", True, "hands"), ("", True, "handover")],
)
def test_a_photo_of_the_jobs_page_is_filed_where_the_job_is(
    owner_client, job, owner, settings, tmp_path, stage, ticked, filed
):
    settings.MEDIA_ROOT = tmp_path
    Job.objects.filter(pk=job.pk).update(stage=stage)
    if ticked:
        job.stages.get(kind="teardown").ticks.create(name="photo", key="photo", by=owner)
    content = BytesIO()
    Image.new("RGB", (20, 20)).save(content, "JPEG")
    photo = SimpleUploadedFile("a.jpg", content.getvalue(), "image/jpeg")
    response = owner_client.post(address("photo-add", job), {"stage": "", "photos": photo})
    assert response.url == job.get_absolute_url()
    assert job.photos.get().stage == filed


def test_a_photo_is_put_away_and_brought_back_from_where_it_is_shown(owner_client, job, owner, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    one = store_pictures(job=job, pictures=[as_kept(Image.new("RGB", (20, 20)))], by=owner, stage="dial")[0]
    stage = reverse("jobs:stage", args=[job.number, "dial"])
    assert 'alt="photo 1, dial"' in owner_client.get(stage).text
    assert owner_client.post(address("photo-put-away", job, one.pk), {"stage": "dial"}).url == stage
    assert "1 archived" in owner_client.get(stage).text
    response = owner_client.post(address("photo-put-away", job, one.pk), {"stage": "intake", "do": "bring-back"})
    assert response.url == job.get_absolute_url()
    assert job.photos.get().archived is False


def test_the_receipt_is_found_again_and_a_running_timer_is_seen(owner_client, job, owner):
    start_timer(stage=job.stages.get(kind="dial"), by=owner)
    text = owner_client.get(job.get_absolute_url()).text
    assert f'href="{address("logged", job)}"' in text
    assert "timer running" in text
    assert "No condition noted." in text


def test_a_fee_below_nothing_is_refused_when_a_job_is_changed(owner_client, job):
    response = owner_client.post(address("edit", job), facts(job, diagnosis_fee="-5"))
    assert "-5 is below 0" in response.context["form"].errors["diagnosis_fee"][0]


def test_the_page_takes_hardly_more_queries_for_five_options(owner_client, job, owner, django_assert_max_num_queries):
    for number in range(5):
        choosing.add_option(job=job, pairing=PairingFactory(name=f"option {number}"), by=owner)
    with django_assert_max_num_queries(55):
        owner_client.get(job.get_absolute_url())


def test_a_closed_job_offers_no_options_and_takes_none(owner_client, job, owner):
    other = PairingFactory()
    addresses = [reverse(f"jobs:{name}", args=[job.number]) for name in ("option-add", "option-new")]
    assert [url in owner_client.get(address("job", job)).text for url in addresses] == [True, True]
    owner_client.post(address("state", job), {"do": "returned"})
    assert [url in owner_client.get(address("job", job)).text for url in addresses] == [False, False]
    count = job.options.count()
    owner_client.post(addresses[0], {"pairing": other.pk})
    owner_client.post(addresses[1], {})
    assert job.options.count() == count


def test_a_quick_check_of_the_jobs_watch_is_an_option_of_the_job(owner_client, job):
    response = owner_client.post(address("option-new", job), {"case": "", "do": "quick"})
    made = Option.objects.get().pairing
    assert response.url == reverse("parts:quick", args=[made.draft_key])
    owner_client.post(response.url, {"n:case.bore_diameter": "29.6"})
    owner_client.post(reverse("parts:quick", args=[made.draft_key]), {"n:case.bore_diameter": "29.6"})
    keep = owner_client.get(reverse("parts:quick-keep", args=[made.draft_key]))
    assert keep.context["form"]["family"].value() == job.case_family_id
    owner_client.post(reverse("parts:quick-keep", args=[made.draft_key]), {"name": "Grey", "case": "brushed"})
    made.refresh_from_db()
    assert (made.name, made.made_for, made.draft_key) == ("Grey", job.number, None)
    assert made.case.bore_diameter == 29.6
    assert Option.objects.get().pairing == made
