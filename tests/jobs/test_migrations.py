"""A workshop of an earlier program comes out right: what it told in words is carried over into columns.

The earlier workshop is filled by every test that asks for something in it, is carried over once, and is then looked at.
"""

from types import SimpleNamespace

import pytest
from django.contrib.auth import get_user_model
from django.db import IntegrityError
from django.test import Client

from jobs import models
from jobs.history_words import in_words
from jobs.models import Customer, Event, Job, PastText, Photo, QuoteLine, Tick
from jobs.stages import measuring
from parts.models import Dial, HandSet, Movement, Pairing, Stem
from tests.conftest import signed_in
from tests.factories import UserFactory
from tests.jobs.migrations import at, leave, newest

pytestmark = [pytest.mark.django_db, pytest.mark.long, pytest.mark.postgres]

OLD = [("jobs", "0009_stale_record"), ("parts", "0005_part_notes")]
"""The newest state in which programs read the history's words."""
PLANTS = {}
"""What each job of the earlier workshop holds besides its pairing, by the job's number."""


def plant(number):
    """Have a job of this number in the earlier workshop, filled by the decorated function."""

    def note(fill):
        PLANTS[number] = fill
        return fill

    return note


@pytest.fixture(scope="module")
def carried(django_db_setup, django_db_blocker):
    """The earlier workshop with all that is planted in it, carried over to this program."""
    with django_db_blocker.unblock():
        old = at(OLD).get_model
        by = get_user_model().objects.create(username="owner", is_staff=True, is_superuser=True)
        family = old("parts", "CaseFamily").objects.create(name="Gull")
        for number, fill in PLANTS.items():
            fill(_old_job(old, number, family, by))
        newest()
        yield by
        leave()


def _old_job(old, number, family, by):
    """A job of the earlier program with a chosen pairing."""
    customer = old("jobs", "Customer").objects.create(name=f"Orla Quenby {number}")
    job = old("jobs", "Job").objects.create(number=number, customer=customer, wish="quartz", luminous="none")
    for kind in ("intake", "teardown", "holder", "dial", "hands", "stem", "timing", "handover"):
        old("jobs", "Stage").objects.create(job=job, kind=kind)
    case = old("parts", "Case").objects.create(
        family=family, name=f"Gull steel {number}", back_depth=3.7, bore_diameter=26.1
    )
    pairing = old("parts", "Pairing").objects.create(name=f"Grey, {number}", case=case)
    option = old("jobs", "Option").objects.create(job=job, pairing=pairing, chosen=True)

    def told(what, before="", after="", stage="teardown", job=job):
        old("jobs", "Event").objects.create(job=job, by_id=by.pk, what=what, before=before, after=after, stage=stage)

    return SimpleNamespace(get=old, job=job, case=case, option=option, by=by.pk, told=told)


@pytest.fixture
def job(carried, request):
    """The job that a test planted, as this program has it."""
    return Job.objects.get(number=request.param)


def of(number):
    """The test looks at the job of this number."""
    return pytest.mark.parametrize("job", [number], indirect=True)


TOLD = ("Watch logged", "Timing test closed", "Part put back", "Part not needed", "Outcome: what went wrong", "Hm")


@plant("26-014")
def _with_events(old):
    for what in TOLD:
        old.told(what, "before", "after", stage="")


@of("26-014")
def test_events_get_their_kinds_and_stay_as_they_were_told(job):
    events = list(job.events.order_by("pk"))
    assert [event.kind for event in events] == ["logged", "stage-closed", "part-put-back", "order", "outcome", "unread"]
    assert [tuple(in_words(event)) for event in events] == [(what, "before", "after") for what in TOLD]


@plant("26-015")
def _with_a_fee(old):
    old.told("Changed: Agreed diagnosis fee", "61.50", "73.25", stage="")
    old.told("Changed: Fee for the diagnosis", "80.00", "85.00", stage="")
    old.told("Changed: Serial number", "", "S 77", stage="")


@of("26-015")
def test_an_old_fee_stays_the_owners(job):
    text = signed_in(Client(), UserFactory(is_staff=True)).get("/jobs/26-015/history/").text
    assert [number for number in ("61.50", "73.25", "80.00", "85.00", "S 77") if number in text] == ["S 77"]


MEASURED = {
    "back depth": ("4.20 ±0.03 mm, maker's sheet", 3.7, (4.20, 0.03, "s")),
    "dial seat diameter": ("25.90 mm, estimated", 25.8, (25.90, 0.0, "e")),
    "stem axis depth": ("2.40 mm", 2.3, (2.40, 0.0, "m")),
    "crown seat radius": ("not measured", 14.0, (None, 0.0, "m")),
}


@plant("26-016")
def _with_measurements(old):
    for name, (_, now, _) in MEASURED.items():
        setattr(old.case, name.replace(" ", "_"), now)
    old.case.save()
    old.told("Measured: case back depth", MEASURED["back depth"][0], "3.90 mm, measured")
    old.told("Measured: case bore diameter", "26.00 mm, measured", "26.10 mm, measured")
    for name, (before, now, _) in MEASURED.items():
        old.told(f"Measured: case {name}", "3.90 mm, measured" if now == 3.7 else before, f"{now:.2f} mm, measured")


@of("26-016")
def test_an_old_measurement_is_undone(job):
    for name, (_, _, stands) in MEASURED.items():
        column = name.replace(" ", "_")
        undo(job, f"case.{column}")
        case = the_case(job)
        assert tuple(getattr(case, f"{column}{part}") for part in ("", "_pm", "_source")) == stands
    assert case.bore_diameter == 26.1


@plant("26-017")
def _with_one_undone(old):
    old.told("Measured: hands hour mass", "11 mg, measured", "14 mg, measured")
    old.told("Measured: case back depth", "5.00 mm, measured", "4.50 mm, measured")
    old.told("Measurement taken back: case back depth", "4.50 mm, measured", "5.00 mm, measured")
    old.told("Measured: case back depth", "5.00 mm, measured", "3.70 mm, measured")


@of("26-017")
def test_what_was_undone_in_the_earlier_program_is_not_undone_again(job):
    assert job.events.order_by("pk").first().data == {
        "path": "hands.hour.mass",
        "before": {"value": 11.0, "plus_minus": 0.0, "source": "m"},
        "after": {"value": 14.0, "plus_minus": 0.0, "source": "m"},
    }
    undo(job, "case.back_depth")
    assert the_case(job).back_depth == 5.0


@plant("26-018")
def _that_cannot_be_read(old):
    """A name that nothing has, a number that is no number, and what nobody told of."""
    old.told("Measured: case depth to the back", "4.20 mm, measured", "3.70 mm, measured")
    old.told("Measured: case bore diameter", "", "26.10 mm, measured")


@of("26-018")
def test_what_cannot_be_read_is_not_undone(job):
    for path in ("case.back_depth", "case.bore_diameter", "case.stem_axis_depth"):
        with pytest.raises(measuring.NotKnown, match="so this cannot be undone"):
            undo(job, path)
    assert (the_case(job).back_depth, the_case(job).bore_diameter) == (3.7, 26.1)


@plant("26-019")
def _with_a_signed_quote(old):
    old.get("jobs", "Quote").objects.create(
        job=old.job, version=2, currency="EUR", tax_inclusive=True, tax_by_line=False, valid_until="2026-12-01"
    )
    for caption in ("Signed: version 2", "Signed: version 7", "the dial", ""):
        old.get("jobs", "Photo").objects.create(job=old.job, caption=caption, by_id=old.by)


@of("26-019")
def test_a_signed_quote_is_known_as_one_and_belongs_to_its_version(job):
    photos = Photo.objects.filter(job=job).order_by("pk").values_list("kind", "quote")
    assert list(photos) == [("signed", job.quotes.get().pk), ("signed", None), ("watch", None), ("watch", None)]


@plant("26-020")
def _with_copies(old):
    make = {name: old.get("parts", name).objects.create for name in ("Pairing", "Movement", "HandSet", "Dial")}
    Option = old.get("jobs", "Option").objects.create
    make["Pairing"](name="Teal")
    make["Movement"](name="Sprig")
    make["Movement"](name="Sprig")
    make["Dial"](name="d" * 80)
    parts = {
        "movement": make["Movement"](name="Sprig, 26-020"),
        "hands": make["HandSet"](name="Leaf, 26-020"),
        "dial": make["Dial"](name=f"{'d' * 66}, 26-020"),
    }
    Option(job=old.job, pairing=make["Pairing"](name="Teal, 26-020", **parts))
    copied = "Own copy made of the"
    old.told(f"{copied} movement", after="Sprig, 26-020; Sprig stays as it is, since other watches use it")
    old.told(f"{copied} dial")
    second = old.get("jobs", "Job").objects.create(number="26-021", customer=old.job.customer, luminous="none")
    later = make["Movement"](name="Sprig, 26-020, 26-021")
    Option(job=second, pairing=make["Pairing"](name="Teal, 26-021", movement=later))
    old.told(f"{copied} movement", job=second)


@of("26-020")
def test_a_jobs_own_copies_are_linked_and_honest_names_stay(job):
    sprig = Movement.objects.filter(name="Sprig", made_for="").order_by("pk").first()
    assert {(one.name, one.made_for, one.copied_from_id) for one in Movement.objects.all()} == {
        ("Sprig", "", None),
        ("Sprig", "26-020", sprig.pk),
        ("Sprig", "26-021", sprig.pk),
    }
    assert [(one.name, one.made_for) for one in HandSet.objects.all()] == [("Leaf, 26-020", "")]
    assert Dial.objects.get(made_for="26-020").copied_from.name == "d" * 80
    pairings = Pairing.objects.exclude(made_for="").filter(copied_from__isnull=False)
    assert {(str(one), one.copied_from.name) for one in pairings} == {
        ("Teal, 26-020", "Teal"),
        ("Teal, 26-021", "Teal"),
    }


@plant("26-022")
def _with_keys_and_texts(old):
    quote = old.get("jobs", "Quote").objects.create(
        job=old.job, version=1, currency="EUR", tax_inclusive=True, tax_by_line=False, valid_until="2026-12-01"
    )
    way = old.get("jobs", "QuotePart").objects.create(quote=quote, title="Grey")
    for key in ("bought-hands", "date-cut", ""):
        old.get("jobs", "QuoteLine").objects.create(part=way, text="x", from_check=key)
    for key in ("tight-0a1b2c3d", "case-bore-0-0a1b2c3e", "height-hour-99999999"):
        old.get("jobs", "Tick").objects.create(stage=old.job.stages.get(kind="handover"), key=key, by_id=old.by)
    for pk, name in ((70_007, "erased customer 70007"), (70_008, "erased customer of old")):
        old.get("jobs", "Customer").objects.create(pk=pk, name=name)
    told = [["quote, version 1", "a"], ["answer to version 1", "b"], ["remarks", "c"], ["wish", "quote"]]
    old.get("jobs", "PastText").objects.create(job=old.job, head="grey", body="a b c quote", told=told)


@of("26-022")
def test_what_keys_and_texts_began_with_is_in_columns(job):
    lines = QuoteLine.objects.filter(part__quote__job=job).values_list("bought", "from_check")
    assert list(lines) == [("hands", ""), ("", "date-cut"), ("", "")]
    assert set(Tick.objects.filter(stage__job=job).values_list("name", "key")) == {
        ("tight", "tight"),
        ("case-bore-0", "case-bore-0-0a1b2c3e"),
        ("height-hour", "height-hour-99999999"),
    }
    assert list(Customer.objects.filter(is_erased=True).values_list("pk", flat=True)) == [70_007]
    assert [source for source, *_ in PastText.objects.get(job=job).told] == ["quote", "quote", "job", "job"]


@plant("26-023")
def _with_what_was_put_away(old):
    get, common = old.get, {"job": old.job, "by_id": old.by}
    old.option.chosen, old.option.dropped = False, True
    old.option.save()
    for away in (True, False):
        get("jobs", "Photo").objects.create(put_away=away, **common)
        get("jobs", "TimingRun").objects.create(put_away=away, **common)
        get("jobs", "GoAhead").objects.create(how="phone", on="2026-11-02", taken_back=away, **common)
        get("jobs", "LuminousClearance").objects.create(how="reading", on="2026-11-02", taken_back=away, **common)
        started = {"started": "2026-11-02T10:00Z", "by_id": old.by, "taken_back": away}
        get("jobs", "WorkTime").objects.create(stage=old.job.stages.get(kind="dial"), **started)
    run = get("jobs", "TimingRun").objects.filter(job=old.job).first()
    get("jobs", "Reading").objects.create(run=run, at="2026-11-02T10:00Z", offset_s=1, how="tap", taken_back=True)


@of("26-023")
def test_what_was_put_away_taken_back_or_dropped_still_is(job, carried):
    def column(model, name, **where):
        return list(model.objects.filter(**where).order_by("pk").values_list(name, flat=True))

    archived, undone = (Photo, models.TimingRun), (models.GoAhead, models.LuminousClearance)
    assert [column(model, "archived", job=job) for model in archived] == [[True, False]] * 2
    assert [column(model, "undone", job=job) for model in undone] == [[True, False]] * 2
    assert column(models.WorkTime, "undone", stage__job=job) == [True, False]
    assert column(models.Reading, "undone", run__job=job) == [True]
    assert models.Option.objects.get(job=job).ruled_out
    with pytest.raises(IntegrityError):
        models.WorkTime.objects.create(stage=job.stages.get(kind="stem"), started="2026-11-02T10:00Z", by=carried)


@plant("26-024")
def _with_many_events(old):
    Event = old.get("jobs", "Event")
    Event.objects.bulk_create(Event(job=old.job, by_id=old.by, what="Ticked") for _ in range(2300))


@of("26-024")
def test_many_events_are_carried_over(job):
    assert set(Event.objects.filter(job=job).values_list("kind", flat=True)) == {"ticked"}


@plant("26-025")
def _with_parts_to_buy(old):
    old.get("parts", "Stem").objects.create(name="0.90: long")
    for model in ("Stem", "Crown"):
        old.get("parts", model).objects.create(name="Bare")
    for text in ("Buy the stem: 0.90: long", "Buy the crown: Bare", "A gasket"):
        old.get("jobs", "Order").objects.create(job=old.job, text=text)


@of("26-025")
def test_a_part_to_buy_is_the_one_part_of_that_name(job):
    stem = Stem.objects.get(name="0.90: long")
    facts = dict(job.orders.values_list("text", "part"))
    assert facts == {"Buy the stem: 0.90: long": stem.pk, "Buy the crown: Bare": None, "A gasket": None}
    assert job.orders.get(part=stem.pk).kind == "stems"


def the_case(job):
    return job.options.get().pairing.case


def undo(job, path):
    pairing = Pairing.objects.with_parts().get(job_option__job=job)
    by = get_user_model().objects.get(username="owner")
    measuring.undo(stage=job.stages.get(kind="teardown"), pairing=pairing, path=path, by=by)
