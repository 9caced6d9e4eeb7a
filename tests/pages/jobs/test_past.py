"""The pages of past swaps: found, refused kindly, told without money."""

from datetime import timedelta

import pytest
from django.utils import timezone

from jobs.history_words import in_words
from jobs.models import (
    Hindsight,
    Job,
    Option,
    OptionReport,
    Outcome,
    Past,
    Quote,
    QuoteLine,
    QuotePart,
    Shop,
)
from jobs.options import choosing
from jobs.past import take_over
from jobs.past.figures.form import FiguresForm
from jobs.past.record import rebuild, rebuild_all
from jobs.quotes.versions import empty_draft
from parts.models import HolderDesign
from tests.factories import CaseFactory, CustomerFactory, JobFactory, PairingFactory
from tests.jobs.past.generate import generate
from tests.reading import as_read

pytestmark = pytest.mark.django_db


@pytest.fixture
def jobs(owner):
    """Forty past jobs with everything."""
    return generate(40, by=owner)


@pytest.fixture
def job(owner):
    """A finished job with a chosen pairing and its report."""
    pairing = PairingFactory(name="Grey to quartz")
    job = JobFactory(number="26-700", case_family=pairing.case.family, state="finished", stage="")
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    return job


def test_an_empty_workshop_says_what_to_do(owner_client):
    text = owner_client.get("/past/").text
    assert "Nothing finished yet. Your first finished job will appear here" in text
    assert "No job matches." in owner_client.get("/past/?q=anything").text
    figures = owner_client.get("/past/numbers/").text
    assert "Nothing was closed in this time" in figures
    assert 'class="figures"' not in figures


def test_past_jobs_are_listed_with_what_decided(owner_client, jobs):
    text = owner_client.get("/past/").text
    shown = Past.objects.filter(state="finished").order_by("-day", "-pk").first()
    assert shown.job.number in text
    assert "9.75 mm</dd>" not in text
    assert "9.75 mm, calculated" in text
    assert "0.35 mm in front of the dial" in text
    assert f"{shown.took / 60:.1f} h" in text
    assert f'href="/jobs/log/?like={shown.job.number}"' in text


def test_words_are_marked_and_markup_in_them_is_not(owner_client):
    rebuild([JobFactory(state="finished", stage="", remarks="<script>alert(1)</script> the verdigris").pk])
    text = owner_client.get("/past/?q=verdigris").text
    assert "&lt;script&gt;alert(1)&lt;/script&gt; the <mark>verdigris</mark>" in text
    assert "<script>alert" not in text


@pytest.mark.parametrize(
    "query",
    [
        "%00",
        "%22",
        "'",
        "*",
        "(",
        "NEAR(a b)",
        "AND",
        "a:b",
        "-x",
        "^a",
        "%F0%9F%98%80",
        "x" * 5000,
        "%25",
        "\\",
        "a&after=zz",
    ],
)
def test_nothing_typed_breaks_the_page(owner_client, jobs, query):
    assert owner_client.get(f"/past/?q={query}").status_code == 200


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("family=nowhere", "No case family is called “nowhere”. Type part of its name, or leave it blank."),
        ("movement=nowhere", "No movement is called “nowhere”."),
        ("since=2026-05-02&until=2026-05-01", "1 May 2026 is before 2 May 2026. Swap the two days."),
        ("since=yesterday", "This is not a date. Pick one, or type it like 2026-05-01."),
        ("outcome=splendid", "is not on the list. Choose from the list."),
        ("state=lost", "is not on the list. Choose from the list."),
        ("stage=lunch", "is not on the list. Choose from the list."),
        (f"q={'x' * 401}", "Too long: 401 characters, and the limit is 400. Shorten it."),
    ],
)
def test_a_wrong_filter_is_told_on_its_field_and_what_was_typed_stays(owner_client, jobs, query, told):
    text = owner_client.get(f"/past/?{query}").text
    assert told in text
    assert 'class="past-list"' not in text
    if query.startswith(("family", "movement")):
        assert 'value="nowhere"' in text


@pytest.mark.parametrize(
    ("query", "wanted"),
    [
        ("", {"state": "finished"}),
        ("state=any", {}),
        ("state=declined", {"state": "declined"}),
        ("outcome=trouble", {"state": "finished", "outcome": "trouble"}),
        ("learn=on&state=any", {"learn": True}),
        ("family=gate&state=any", {"family__name__contains": "gate"}),
        ("movement=thin&state=any", {"movement__name__contains": "thin"}),
        ("stage=dial&state=any", {"stage": "dial"}),
        ("since=2012-01-12&until=2012-02-01&state=any", {"day__gte": "2012-01-12", "day__lte": "2012-02-01"}),
    ],
)
def test_filters_narrow(owner_client, jobs, query, wanted):
    found, after = [], ""
    while after is not None:
        page = owner_client.get(f"/past/?{query}&after={after}").context["page"]
        found += [line.past.pk for line in page.lines]
        after = page.onward
    assert set(found) == set(Past.objects.filter(**wanted).values_list("pk", flat=True))
    assert len(found) == len(set(found))


def test_the_page_takes_as_many_queries_for_many_jobs(owner_client, jobs, owner, django_assert_max_num_queries):
    for address in ("/past/", "/past/?q=quartz", "/past/?q=brambelgate&state=any", "/past/numbers/"):
        owner_client.get(address)
        with django_assert_max_num_queries(18):
            owner_client.get(address)


def test_a_quotes_words_are_shown_to_the_owner_alone(owner_client, hand, jobs):
    assert "Cut and fit <mark>stem</mark> and crown" in owner_client.get("/past/?q=stem").text
    assert "Cut and fit <mark>stem</mark> and crown" not in hand.get("/past/?q=stem").text


def test_who_only_looks_is_not_offered_to_change(reader, jobs):
    assert "Log a watch like this" not in reader.get("/past/").text
    assert reader.post(f"/jobs/{jobs[0].number}/learn/", {"do": "mark", "why": "x"}).status_code == 403
    assert reader.get(f"/jobs/{jobs[0].number}/outcome/").status_code == 403


def outcome_data(job, **more):
    return {"word": "trouble", "went_wrong": "The tube was oval."} | more


def test_what_came_of_a_job_is_put_on_record(owner_client, job):
    page = owner_client.get("/jobs/26-700/outcome/").text
    assert "Report" in page
    data = outcome_data(job, **{"found-back-gap": "no", "note-back-gap": "0.1 mm short"})
    assert owner_client.post("/jobs/26-700/outcome/", data).status_code == 302
    outcome, said = Outcome.objects.get(), Hindsight.objects.get()
    assert (outcome.word, outcome.went_wrong) == ("trouble", "The tube was oval.")
    assert (said.check_key, said.title, said.said, said.found) == ("back-gap", "Back clearance", "fits", "no")
    text = owner_client.get("/jobs/26-700/").text
    assert "The tube was oval." in text
    assert "0.1 mm short" in text
    assert "0.1 mm short" in owner_client.get("/past/?q=oval+short").text.replace("<mark>short</mark>", "short")


def test_a_mark_to_learn_from_needs_what_it_teaches(owner_client, job):
    response = owner_client.post("/jobs/26-700/outcome/", outcome_data(job, learn="on"))
    assert response.status_code == 422
    assert "Say in a few words what this job teaches, or untick the lesson." in response.text
    assert "The tube was oval." in response.text
    assert not Outcome.objects.exists()


def test_a_note_without_what_the_bench_said_is_refused(owner_client, job):
    response = owner_client.post("/jobs/26-700/outcome/", outcome_data(job, **{"note-back-gap": "short"}))
    assert response.status_code == 422
    assert "You wrote a note: choose what happened, too." in response.text


def test_an_outcome_changed_in_another_window_is_not_saved_over(owner_client, job):
    stamp = owner_client.get("/jobs/26-700/outcome/").context["form"].stamp
    owner_client.post("/jobs/26-700/outcome/", outcome_data(job, stamp=stamp))
    response = owner_client.post("/jobs/26-700/outcome/", outcome_data(job, went_wrong="Nothing.", stamp=stamp))
    assert response.status_code == 422
    assert "Someone changed this after you opened it." in response.text
    assert Outcome.objects.get().went_wrong == "The tube was oval."


def test_a_job_is_marked_to_learn_from_and_the_mark_taken_off(owner_client, job):
    owner_client.post("/jobs/26-700/learn/", {"do": "mark", "why": "Try the crown first."})
    assert "Try the crown first." in owner_client.get("/past/?learn=on").text
    owner_client.post("/jobs/26-700/learn/", {"do": "off"})
    assert owner_client.get("/past/?learn=on").context["page"].lines == []
    assert [event.kind for event in job.events.all()[:2]] == ["not-to-learn", "to-learn"]
    assert Outcome.objects.get().learn_why == "Try the crown first."


def test_a_mark_without_a_reason_is_told(owner_client, job):
    assert "Say in a few words" in owner_client.post("/jobs/26-700/learn/", {"do": "mark"}, follow=True).text
    assert not Outcome.objects.exists()


def test_a_job_without_a_report_still_has_an_outcome(owner_client):
    JobFactory(number="26-701")
    assert "No option with a report is chosen" in owner_client.get("/jobs/26-701/outcome/").text
    owner_client.post("/jobs/26-701/outcome/", {"word": "failed"})
    assert Outcome.objects.get().word == "failed"


def near(owner_client, query):
    return owner_client.get(f"/past/near/?{query}")


def test_cases_near_typed_numbers_are_shown_with_how_near(owner_client):
    CaseFactory(name="alpha", bore_diameter=27.42, bore_diameter_pm=0.02)
    text = as_read(near(owner_client, "bore_diameter=27.40+%2B-0.02").text)
    assert "alpha" in text
    assert "+0.02 mm" in text
    assert "Agrees in the 1 of 4 dimension measured on both" in text
    assert "No job on this case yet." in text


def test_cases_near_those_of_a_job_lead_to_what_was_done_on_them(owner_client, job, owner):
    twin = CaseFactory(name="twin", bore_diameter=26.21, bore_diameter_pm=0.02)
    other = JobFactory(number="26-702", state="finished", stage="")
    pairing = PairingFactory(case=twin)
    choosing.choose(option=choosing.add_option(job=other, pairing=pairing, by=owner), by=owner)
    text = near(owner_client, "job=26-700").text
    assert "26-702" in text
    assert 'href="/jobs/log/?like=26-702"' in text


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("bore_diameter=wide", "“wide” is not a number."),
        ("bore_diameter=-3", "must be"),
        ("back_depth=5000", "must be"),
        ("job=99-999", "No job has the number “99-999”."),
        ("job=%00", "Type at least one of the four dimensions"),
        ("case=999999", "Type at least one of the four dimensions"),
        ("case=zz", "Type at least one"),
        ("", "Type at least one of the four dimensions above."),
        ("bore_diameter=99", "No other case in the library is close to these dimensions."),
    ],
)
def test_what_cannot_be_compared_is_told(owner_client, query, told):
    response = near(owner_client, query)
    assert response.status_code == 200
    assert told in response.text


def test_a_job_without_a_case_says_so(owner_client):
    JobFactory(number="26-703")
    assert "Job 26-703 has no chosen option with a case." in near(owner_client, "job=26-703").text


def intake(**more):
    known = CustomerFactory(name="Ida Fern")
    return {"customer": f"Ida Fern [{known.pk}]", "wish": "The same again", "luminous": "none"} | more


def test_a_watch_is_logged_like_a_past_one_with_copies_of_its_own(owner_client, jobs, owner):
    source = next(job for job in jobs if job.state == "finished")
    ring = HolderDesign.objects.create(
        family=source.case_family, movement=source.movement, kind="ring", revision=3, parameters={}
    )
    Outcome.objects.filter(job=source).update(ring=ring)
    page = as_read(owner_client.get(f"/jobs/log/?like={source.number}").text)
    assert f'value="{source.case_family.name}"' in page
    assert "holder ring, revision 3; 3 quote lines with prices as they were" in page
    response = owner_client.post("/jobs/log/", intake(like=source.number, family=source.case_family.name))
    assert response.status_code == 302
    made = Job.objects.latest("pk")
    option, old = made.options.get(), source.options.get()
    assert (option.chosen, option.pairing.movement, option.pairing.hands) == (True, source.movement, source.hands)
    assert option.pairing_id != old.pairing_id
    assert (made.outcome.ring, made.outcome.word) == (ring, "")
    quote = made.quotes.get()
    assert quote.state == Quote.State.DRAFT
    lines, old_lines = (list(job.quotes.get().parts.get().lines.all()) for job in (made, source))
    assert [(line.text, line.minutes, line.price) for line in lines] == [
        (line.text, line.minutes, line.price) for line in old_lines
    ]
    assert not {line.pk for line in lines} & {line.pk for line in old_lines}
    told = in_words(made.events.get(kind="taken-over"))
    assert told.what == f"Taken over from job {source.number}"
    assert "holder ring, revision 3" in told.after


@pytest.mark.parametrize(("currency", "price", "cost"), [("EUR", 90, 60), ("CHF", None, None)])
def test_prices_are_taken_over_in_their_own_currency_and_taxes_as_they_are_today(owner, job, currency, price, cost):
    way = QuotePart.objects.create(quote=empty_draft(job=job, by=owner), option=job.options.get(), title="Grey")
    QuoteLine.objects.create(part=way, kind="part", text="Movement", price=90, cost=60, tax_rate=7)
    shop = Shop.current()
    shop.currency, shop.tax_rate = currency, 19
    shop.save()
    made = JobFactory()
    take_over.take_over(job=made, source=job, by=owner)
    line = QuoteLine.objects.get(part__quote__job=made)
    assert (line.price, line.cost, line.tax_rate) == (price, cost, 19)


def test_nothing_is_taken_over_once_that_is_said(owner_client, job):
    assert "Grey to quartz" in owner_client.get("/jobs/log/?like=26-700").text
    assert "Grey to quartz" not in owner_client.get("/jobs/log/?like=").text
    owner_client.post("/jobs/log/", intake(like=""))
    assert not Option.objects.exclude(job=job).exists()


@pytest.mark.parametrize("number", ["99-999", "junk", "%00"])
def test_a_past_job_that_is_not_there_takes_nothing_over(owner_client, number):
    assert owner_client.get(f"/jobs/log/?like={number}").status_code == 200
    assert owner_client.post("/jobs/log/", intake(like="99-999")).status_code == 302
    assert not Option.objects.exists()


def test_a_source_without_a_pairing_gives_its_family_alone(owner_client):
    source = JobFactory(number="26-704")
    assert "only the case family is copied" in owner_client.get("/jobs/log/?like=26-704").text
    owner_client.post("/jobs/log/", intake(like="26-704", family=source.case_family.name))
    assert Job.objects.latest("pk").case_family == source.case_family


def test_the_numbers_page_shows_every_table_with_its_file(owner_client, jobs):
    text = owner_client.get("/past/numbers/?since=&until=").text
    for title in ("Conversions by case family", "Conversions by movement", "Hours by stage", "Turnaround"):
        assert f"{title}</h2>" in text
    assert text.count('role="img"') == 5
    for key in ("families", "movements", "stages", "checks", "turnaround"):
        response = owner_client.get(f"/past/numbers/{key}.csv?since=&until=")
        assert response["Content-Type"] == "text/csv; charset=utf-8"
        assert len(response.text.splitlines()) > 1


def test_the_numbers_begin_with_the_last_twelve_months():
    form = FiguresForm({})
    assert form.is_valid()
    assert form.cleaned_data["since"] == timezone.localdate() - timedelta(days=365)
    assert form.cleaned_data["until"] is None


def test_a_family_named_like_a_formula_is_no_formula_in_the_file(owner_client, jobs):
    family = jobs[0].case_family
    family.name = '=cmd|"/c calc"!A1'
    family.save()
    text = owner_client.get("/past/numbers/families.csv?since=").text
    assert '"\'=cmd|""/c calc""!A1"' in text


def test_a_check_leads_to_its_bench_rules(owner_client, jobs):
    text = owner_client.get("/past/numbers/?since=").text
    assert 'href="/shop/rules/?rule=back_gap_min#id_back_gap_min"' in text
    assert 'id="id_back_gap_min"' in owner_client.get("/shop/rules/").text


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("since=2026-05-02&until=2026-05-01", "1 May 2026 is before 2 May 2026. Swap the two days."),
        ("since=soon", "This is not a date. Pick one, or type it like 2026-05-01."),
        ("step=week", "is not on the list. Choose from the list."),
    ],
)
def test_wrong_days_are_told(owner_client, query, told):
    assert told in owner_client.get(f"/past/numbers/?{query}").text
    assert owner_client.get(f"/past/numbers/families.csv?{query}").status_code == 302


def test_no_job_in_the_days_says_what_to_do(owner_client):
    text = owner_client.get("/past/numbers/").text
    assert "Leave the dates blank to count from the first job" in text
    assert owner_client.get("/past/numbers/nothing.csv").status_code == 404


def test_a_report_kept_later_counts_from_then_on(owner_client, job):
    rebuild_all()
    before = Past.objects.get(job=job).facts["kept"]
    kept = OptionReport.objects.get()
    kept.pk = None
    kept.save()
    owner_client.post("/jobs/26-700/learn/", {"do": "mark", "why": "x"})
    owner_client.get("/past/")
    assert Past.objects.get(job=job).facts["kept"] == kept.pk != before
