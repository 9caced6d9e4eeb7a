"""What leads a job's page: the next step with its one action, at every point of the job."""

import re
from datetime import date, timedelta
from html import unescape

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.models import GoAhead, Job, Order, Quote, QuoteLine
from jobs.options import choosing
from jobs.options.keeping import to_keep
from jobs.quotes import versions
from jobs.stages import progress
from jobs.stages.checklist import lines_of
from parts.designs.revisions import keep_design
from tests.factories import DialFactory, JobFactory, MovementFactory, PairingFactory
from tests.holder.pieces import ring
from tests.reading import as_read

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    return JobFactory(keep="dial and case")


def choose(job, owner, **parts):
    option = choosing.add_option(job=job, pairing=PairingFactory(name="Grey", **parts), by=owner)
    choosing.choose(option=option, by=owner)
    return option


def agree(job, owner):
    GoAhead.objects.create(job=job, how="phone", said_by="O. Reed", on=timezone.localdate(), by=owner)


def report_of(job):
    return choosing.report_of(choosing.chosen_option(job))


def led(client, job):
    """The words and the primary action of the job's page."""
    text = client.get(job.get_absolute_url()).text
    assert len(re.findall(r'class="(?:button )?primary"', text)) == 1
    words = re.search(r'<h2 id="(?:next-words|luminous-title)">(.*?)</h2>', text, re.DOTALL)[1]
    action = re.search(r'id="do-next"[^>]*>(.*?)</(?:a|button)>', text, re.DOTALL)[1]
    return unescape(" ".join(re.sub(r"<.*?>", "", words).split())), " ".join(action.split())


def do_all(client, job, kind):
    client.post(reverse("jobs:tick-all", args=[job.number, kind]))
    return client.post(reverse("jobs:stage-close", args=[job.number, kind]))


def test_before_the_work_comes_what_the_work_waits_for(owner_client, owner, job):
    assert led(owner_client, job) == ("Find out what fits", "Quick check of this watch")
    first = choosing.add_option(job=job, pairing=PairingFactory(name="Grey"), by=owner)
    assert led(owner_client, job) == ("Choose the option Grey?", "Choose this option")
    choosing.add_option(job=job, pairing=PairingFactory(name="Blue"), by=owner)
    assert led(owner_client, job) == ("Choose one of 2 options", "Compare the options")
    choosing.choose(option=first, by=owner)
    assert led(owner_client, job) == ("Quote it", "Draft the quote")
    quote = versions.propose(job=job, options=[first], by=owner)
    assert led(owner_client, job) == ("Finish the quote and mark it as sent", "Open the quote")
    Quote.objects.update(state="sent")
    assert led(owner_client, job) == ("Wait for the customer's answer", "Note the answer")
    made = versions.next_version(quote=quote, by=owner)
    assert led(owner_client, job) == ("Wait for the customer's answer", "Note the answer"), "a draft changes nothing"
    assert "Open version 2, a draft" in owner_client.get(job.get_absolute_url()).text
    Quote.objects.filter(version=1).update(valid_until=date(2026, 1, 1))
    assert led(owner_client, job)[0] == "Finish the quote and mark it as sent"
    made.delete()
    Quote.objects.update(state="refused")
    assert led(owner_client, job)[0] == "The quote was declined"
    versions.next_version(quote=quote, by=owner)
    assert led(owner_client, job)[0] == "Finish the quote and mark it as sent"
    agree(job, owner)
    assert led(owner_client, job)[1] == "Done, next step"


def test_uncleared_paint_leads_and_nothing_behind_it_can_be_ticked(owner_client, owner, job):
    choose(job, owner)
    agree(job, owner)
    Job.objects.update(luminous="aged")
    assert led(owner_client, job) == ("Keep this watch closed", "Note how it was cleared")
    text = owner_client.get(job.get_absolute_url()).text
    assert text.count('class="tick"') == text.count("disabled") > 3
    for name, data in (("tick", {"item": "photographed", "done": "on"}), ("tick-all", {})):
        response = owner_client.post(reverse(f"jobs:{name}", args=[job.number, "teardown"]), data, follow=True)
        assert "The luminous paint is not cleared: the watch stays closed." in response.text
    assert not job.stages.get(kind="teardown").ticks.exists()


def test_without_a_stem_its_stage_leads_to_where_one_is_chosen(owner_client, owner, job):
    choose(job, owner, stem=None)
    agree(job, owner)
    for kind in ("teardown", "holder", "dial", "hands"):
        do_all(owner_client, job, kind)
    while led(owner_client, job)[1] == "Done, next step":
        key = owner_client.get(job.get_absolute_url()).context["step"].item
        owner_client.post(reverse("jobs:tick", args=[job.number, "stem"]), {"item": key, "done": "on", "back": "job"})
    assert led(owner_client, job) == ("Choose the stem, or add it", "Open the fit check")


def test_what_is_to_order_and_in_stock_is_set_aside_first(owner_client, owner, job):
    pairing = choose(job, owner).pairing
    agree(job, owner)
    type(pairing.movement).objects.update(in_stock=2)
    parts = {"movements": pairing.movement, "stems": pairing.stem}
    for kind, part in parts.items():
        Order.objects.create(job=job, text=f"To buy: {part.name}", kind=kind, part=part.pk)
    Job.objects.update(waits_for="parts")
    assert led(owner_client, job) == (f"{pairing.movement} is in stock", "Set one aside")
    type(pairing.stem).objects.update(in_stock=1)
    assert led(owner_client, job) == ("2 parts to order are in stock", "Set one of each aside")
    assert f"{pairing.movement}, 2 free and {pairing.stem}, 1 free." in owner_client.get(job.get_absolute_url()).text
    owner_client.post(reverse("jobs:stock-take", args=[job.number]))
    assert [order.state for order in job.orders.all()] == ["dropped", "dropped"]
    assert {use.name for use in job.stock_uses.filter(state="reserved")} == {str(part) for part in parts.values()}
    job.refresh_from_db()
    assert job.waits_for == "me"
    assert led(owner_client, job)[1] == "Done, next step"


def test_a_part_to_order_is_noted_as_ordered_and_then_as_come(owner_client, owner, job):
    order = Order.objects.create(job=job, text="Movement: Sprig")
    address = reverse("jobs:order", args=[job.number, order.pk])
    for noted, plain, state in (("ordered", "wanted", "ordered"), ("arrived", "ordered", "arrived")):
        form = owner_client.get(f"{address}?noted=on").context["form"]
        assert form["state"].value() == noted
        assert owner_client.get(address).context["form"]["state"].value() == plain
        Order.objects.filter(pk=order.pk).update(state=state)


def test_a_whole_job_is_walked_along_its_next_steps(owner_client, owner, job):
    choose(job, owner, dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    agree(job, owner)
    for kind, after in (("teardown", "holder"), ("holder", "dial"), ("dial", "hands"), ("hands", "stem")):
        response = do_all(owner_client, job, kind)
        assert response.url == f"/jobs/{job.number}/{after}/#next-step"
    while led(owner_client, job)[1] == "Done, next step":
        key = owner_client.get(job.get_absolute_url()).context["step"].item
        owner_client.post(reverse("jobs:tick", args=[job.number, "stem"]), {"item": key, "done": "on", "back": "job"})
    assert led(owner_client, job) == ("Measure the stem as it is now", "Save the length")
    length = f"{report_of(job).stem.length:.2f}"
    sent = {"stem.length": length, "back": "job"}
    response = owner_client.post(reverse("jobs:measurements", args=[job.number, "stem"]), sent)
    assert response.url == f"/jobs/{job.number}/#next-step"
    assert led(owner_client, job)[0].startswith("Crown pushes home")
    assert do_all(owner_client, job, "stem").url == f"/jobs/{job.number}/timing/#next-step"
    assert led(owner_client, job) == ("Time it: two readings give a first rate", "Open the timing runs")
    owner_client.post(reverse("jobs:stage-skip", args=[job.number, "timing"]), {"reason": "ran for a week"})
    assert do_all(owner_client, job, "handover").url == f"/jobs/{job.number}/#next-step"
    assert led(owner_client, job) == ("Hand the watch over", "Finish the job")
    owner_client.post(reverse("jobs:state", args=[job.number]), {"do": "finished"})
    assert led(owner_client, job) == ("How did it turn out?", "Note how it turned out")


def test_handing_over_says_what_is_still_owed_to_who_sees_money(owner_client, hand, owner, job):
    choose(job, owner)
    quote = versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    quote.parts.get().lines.update(price=10, taken=True)
    quote = versions.send(quote=quote, by=owner)
    said = {"said_by": "Ida", "how": "phone", "on": date(2026, 11, 27), "by": owner}
    versions.accept(quote=quote, part=quote.parts.get(), taken=set(), **said)
    owed = f'href="{job.get_absolute_url()}#money">'
    assert owed not in owner_client.get(job.get_absolute_url()).text
    Job.objects.update(stage="")
    page = as_read(owner_client.get(job.get_absolute_url()).text)
    assert re.search(re.escape(owed) + "€[0-9.]+ still owed</a>", page)
    assert "still owed" not in hand.get(job.get_absolute_url()).text


def test_tick_all_leaves_what_is_optional(owner_client, owner, job):
    choose(job, owner)
    owner_client.post(reverse("jobs:tick-all", args=[job.number, "handover"]))
    names = set(job.stages.get(kind="handover").ticks.values_list("name", flat=True))
    assert names == {"closed", "pressure", "old-parts-packed", "set"}


def test_a_cut_length_keeps_the_ticks_of_its_steps(owner_client, owner, job):
    choose(job, owner)
    owner_client.post(reverse("jobs:tick-all", args=[job.number, "stem"]))
    stage = job.stages.get(kind="stem")
    before = [line.item.text for line in lines_of("stem", report_of(job), job, stage.ticks.all())]
    length = report_of(job).stem.length
    assert len(before) == 4
    for measured in (length + 0.03, length, length - 0.02):
        owner_client.post(reverse("jobs:measurements", args=[job.number, "stem"]), {"stem.length": f"{measured:.2f}"})
        lines = lines_of("stem", report_of(job), job, stage.ticks.all())
        assert [line.item.text for line in lines] == before
        assert all(line.tick for line in lines)
    assert "no longer asked for" in owner_client.get(reverse("jobs:stage", args=[job.number, "stem"])).text


def test_a_measurement_takes_back_only_the_ticks_whose_words_it_changes(owner_client, owner, job):
    choose(job, owner)
    for kind in ("dial", "hands"):
        owner_client.post(reverse("jobs:tick-all", args=[job.number, kind]))
    owner_client.post(reverse("jobs:measurements", args=[job.number, "dial"]), {"dial.thickness": "0.50"})
    lines = lines_of("hands", report_of(job), job, job.stages.get(kind="hands").ticks.all())
    assert {line.item.name for line in lines if line.is_open} >= {"height-hour", "height-minute"}
    assert {"turns-crown", "turns-motor"} <= {line.item.name for line in lines if line.tick}


def test_the_gap_of_the_uncut_stem_is_not_held_against_a_cut_one(owner_client, owner, job):
    option = choose(job, owner)
    stem = option.pairing.stem
    type(stem).objects.update(uncut_gap=3.0)
    stage = job.stages.get(kind="stem")
    assert "two-ways" in {line.item.name for line in lines_of("stem", report_of(job), job, [])}
    length = f"{report_of(job).stem.length:.2f}"
    owner_client.post(reverse("jobs:measurements", args=[job.number, "stem"]), {"stem.length": length})
    assert "two-ways" not in {line.item.name for line in lines_of("stem", report_of(job), job, [])}
    assert not any("apart" in reason for reason in progress.blockers(stage, report_of(job)))


def test_what_must_be_kept_is_set_against_the_option(owner_client, owner, job):
    option = choose(job, owner)
    job.case_family = option.pairing.case.family
    job.save()
    text = owner_client.get(job.get_absolute_url()).text
    assert "Nothing of it is replaced." in text
    Job.objects.update(keep="dial, seconds hand and crown")
    text = owner_client.get(job.get_absolute_url()).text
    crown, hands = option.pairing.crown, option.pairing.hands
    assert f"the seconds hand (by {hands})" in text
    assert f"the crown (by {crown})" in text
    other = choosing.add_option(job=job, pairing=PairingFactory(name="Blue"), by=owner)
    response = owner_client.post(reverse("jobs:option", args=[job.number, other.pk]), {"do": "choose"}, follow=True)
    assert response.text.count(f"the crown (by {other.pairing.crown})") == 1


def test_a_crown_that_came_out_of_the_watchs_case_replaces_none_and_is_not_bought(owner_client, owner, job):
    option = choose(job, owner)
    job.case_family = option.pairing.case.family
    job.keep = "crown"
    job.save()
    assert "the crown (by" in owner_client.get(job.get_absolute_url()).text
    type(option.pairing.crown).objects.update(out_of=option.pairing.case)
    assert "Nothing of it is replaced." in owner_client.get(job.get_absolute_url()).text
    versions.propose(job=job, options=[choosing.chosen_option(job)], by=owner)
    texts = [line.text for line in QuoteLine.objects.all()]
    assert texts
    assert "New crown" not in texts


def test_an_option_is_chosen_on_the_report_as_it_stands_then(owner_client, owner, job):
    option = choosing.add_option(job=job, pairing=PairingFactory(name="Blue"), by=owner)
    type(option.pairing.case).objects.update(back_depth=4.05)
    owner_client.post(reverse("jobs:option", args=[job.number, option.pk]), {"do": "choose"})
    assert "Changed since the saved report" not in owner_client.get(job.get_absolute_url()).text
    assert option.reports.count() == 2


def test_a_spacer_is_offered_only_where_one_is_needed_or_drawn(owner_client, owner, job):
    option = choose(job, owner)
    agree(job, owner)
    page = reverse("jobs:stage", args=[job.number, "holder"])
    for kind in ("intake", "teardown"):
        do_all(owner_client, job, kind)
    text = owner_client.get(page).text
    assert not report_of(job).pairing.stack.thickness
    assert "Design the holder" in text
    assert "Design the spacer" not in text
    type(option.pairing.case).objects.update(stem_axis_depth=option.pairing.case.stem_axis_depth + 0.5)
    assert report_of(job).pairing.stack.thickness
    assert "Design the spacer" in owner_client.get(page).text


def test_hands_that_one_set_replaces_are_told_once(owner_client, owner, job):
    option = choose(job, owner)
    Job.objects.update(keep="hands")
    text = owner_client.get(job.get_absolute_url()).text
    assert f"replaces the hands (by {option.pairing.hands})." in " ".join(text.split())
    Job.objects.update(keep="hour hand and minute hand")
    text = owner_client.get(job.get_absolute_url()).text
    assert f"replaces the hour and minute hands (by {option.pairing.hands})." in " ".join(text.split())
    type(option.pairing.hands).objects.update(is_watchs_own=True)
    assert "Nothing of it is replaced." in owner_client.get(job.get_absolute_url()).text


@pytest.mark.parametrize(
    ("words", "parts"),
    [
        ("dial and case", ["case", "dial"]),
        ("The dial, please", ["dial"]),
        (
            "all but the movement",
            ["case", "dial", "stem", "crown", "hour hand", "minute hand", "seconds hand", "small seconds hand"],
        ),
        ("the seconds hand", ["seconds hand", "small seconds hand"]),
        ("the small seconds hand", ["small seconds hand"]),
        ("hands, except the seconds hand", ["hour hand", "minute hand"]),
        ("the strap", []),
        ("", []),
    ],
)
def test_the_words_of_what_must_be_kept_name_parts(words, parts):
    assert to_keep(words) == parts


def test_a_better_verdict_is_no_alarm_and_a_report_is_renewed_by_one_button(owner_client, owner, job):
    option = choose(job, owner)
    type(option.pairing.case).objects.update(back_depth=3.70)
    choosing.keep_report(option=choosing.chosen_option(job), why="tried")
    type(option.pairing.case).objects.update(back_depth=4.20)
    page = owner_client.get(job.get_absolute_url()).text
    assert 'class="way-better">1 better</b>' in page
    assert "notice-warning" not in page
    owner_client.post(reverse("jobs:option", args=[job.number, option.pk]), {"do": "renew"})
    page = owner_client.get(job.get_absolute_url()).text
    assert "Changed since the saved report" not in page
    assert job.events.filter(kind="report-renewed").count() == 1


def test_parts_that_are_awaited_lead_and_hold_the_end_until_it_is_said_so(owner_client, owner, job):
    choose(job, owner)
    agree(job, owner)
    Order.objects.create(job=job, text="Movement: Sprig", state="ordered", expected=timezone.localdate() + timedelta(3))
    Job.objects.update(waits_for="parts")
    assert led(owner_client, job) == ("Movement: Sprig", "Note its arrival")
    job.stages.exclude(kind="intake").update(state="skipped")
    Job.objects.update(stage="", waits_for="me")
    assert led(owner_client, job) == ("Parts are still open", "Note what came")
    response = owner_client.post(reverse("jobs:state", args=[job.number]), {"do": "finished"}, follow=True)
    assert "Still under Parts to buy: Movement: Sprig." in response.text
    assert Job.objects.get().state == "open"
    owner_client.post(reverse("jobs:state", args=[job.number]), {"do": "finished", "although_wanting": "on"})
    assert Job.objects.get().state == "finished"


@pytest.mark.parametrize(
    ("dated", "words"),
    [
        (False, "Dial pads clear of the holder ring."),
        (True, "Dial pads clear of the date disc and the holder ring."),
    ],
)
def test_pads_keep_clear_of_a_date_disc_only_where_there_is_one(owner, job, dated, words):
    choose(job, owner, dial=DialFactory(fixing="pads"), movement=MovementFactory(dated=dated))
    lines = {line.item.name: line.item.text for line in lines_of("dial", report_of(job), job, [])}
    assert lines["pads-clear"] == words


def test_a_stage_that_is_done_is_finished_under_its_list_while_parts_lead(owner_client, owner, job):
    choose(job, owner)
    agree(job, owner)
    Order.objects.create(job=job, text="Movement: Sprig")
    Job.objects.update(waits_for="parts")
    finish = ">Finish teardown</button>"
    assert finish not in owner_client.get(job.get_absolute_url()).text
    owner_client.post(reverse("jobs:tick-all", args=[job.number, "teardown"]))
    page = owner_client.get(job.get_absolute_url())
    assert "to order" in page.context["step"].over
    assert page.text.count(finish) == 1


def test_a_stem_cut_and_stored_leaves_a_finished_jobs_verdict(owner_client, owner, job):
    option = choose(job, owner)
    type(option.pairing.crown).objects.update(bore_depth_pm=0.08)
    before = report_of(job)
    length = f"{before.stem.length:.2f}"
    owner_client.post(reverse("jobs:measurements", args=[job.number, "stem"]), {"stem.length": length})
    after = report_of(job)
    assert after.verdict == before.verdict
    assert [kind for kind in after["stem-length"].remedies if kind.kind == "part"] == []


def test_what_came_of_it_is_folded_below_the_quote_until_it_is_due(owner_client, owner, job):
    choose(job, owner)
    text = owner_client.get(job.get_absolute_url()).text
    assert text.index('id="quote"') < text.index('id="outcome"')
    job.stages.exclude(kind="intake").update(state="skipped")
    Job.objects.update(stage="")
    text = owner_client.get(job.get_absolute_url()).text
    assert text.index("How it turned out</h2>") < text.index('id="quote"')


@pytest.mark.parametrize(
    ("kind", "title"),
    [
        ("holder", "Section along the stem"),
        ("dial", "Foot template"),
        ("hands", "Hands, close up"),
        ("stem", "Where L is"),
    ],
)
def test_each_stage_shows_its_drawing(owner_client, owner, job, kind, title):
    option = choose(job, owner)
    text = owner_client.get(reverse("jobs:stage", args=[job.number, kind])).text
    assert title in text
    assert "<svg" in text
    opens = f"{reverse('parts:holder-new')}?pairing={option.pairing_id}&amp;kind=ring"
    assert (opens in text) is (kind == "holder")


def test_the_holder_stage_opens_the_design_that_there_is(owner_client, owner, job):
    option = choose(job, owner)
    pairing = option.pairing
    facts = {"family": pairing.case.family, "movement": pairing.movement, "kind": "ring", "parameters": ring()}
    other = keep_design(**facts, pairing=None)
    page = reverse("jobs:stage", args=[job.number, "holder"])
    assert reverse("parts:holder", args=[other.pk]) not in owner_client.get(page).text
    design = keep_design(**facts, pairing=pairing)
    text = owner_client.get(page).text
    assert f'href="{reverse("parts:holder", args=[design.pk])}"' in text
    assert "Open the holder ring, revision 2" in text
    assert f"job {job.number}</a>" in owner_client.get(reverse("parts:holder", args=[design.pk])).text
