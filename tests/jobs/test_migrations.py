"""A workshop of an earlier program comes out right: what it told in words is carried over into columns."""

import pytest
from django.contrib.auth import get_user_model
from django.db import IntegrityError
from django.test import Client

from jobs import models
from jobs.history_words import in_words
from jobs.models import Customer, Event, Job, PastText, Photo, QuoteLine, Tick
from jobs.stages import measuring
from parts.models import Dial, HandSet, Movement, Pairing
from tests.conftest import signed_in
from tests.factories import UserFactory
from tests.jobs.migrations import at, leave, newest

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.long, pytest.mark.postgres]

OLD = [("jobs", "0009_stale_record"), ("parts", "0005_part_notes")]
"""The newest state in which programs read the history's words."""


@pytest.fixture
def old():
    """The models of the earlier program, in a database of its own making."""
    yield at(OLD)
    leave()


@pytest.fixture
def job(old):
    """A job of the earlier program with a chosen pairing."""
    by = get_user_model().objects.create(username="owner", is_staff=True, is_superuser=True)
    get = old.get_model
    customer = get("jobs", "Customer").objects.create(name="Orla Quenby")
    job = get("jobs", "Job").objects.create(number="26-014", customer=customer, wish="quartz", luminous="none")
    for kind in ("intake", "teardown", "holder", "dial", "hands", "stem", "timing", "handover"):
        get("jobs", "Stage").objects.create(job=job, kind=kind)
    family = get("parts", "CaseFamily").objects.create(name="Gull")
    case = get("parts", "Case").objects.create(family=family, name="Gull steel", back_depth=3.7, bore_diameter=26.1)
    pairing = get("parts", "Pairing").objects.create(name="Grey, 26-014", case=case)
    get("jobs", "Option").objects.create(job=job, pairing=pairing, chosen=True)
    job.by = by.pk
    job.told = lambda what, before="", after="", stage="teardown", job=job: get("jobs", "Event").objects.create(
        job=job, by_id=by.pk, what=what, before=before, after=after, stage=stage
    )
    return job


def test_events_get_their_kinds_and_stay_as_they_were_told(job):
    told = ("Watch logged", "Timing test closed", "Part put back", "Part not needed", "Outcome: what went wrong", "Hm")
    for what in told:
        job.told(what, "before", "after", stage="")
    newest()
    kinds = ["logged", "stage-closed", "part-put-back", "order", "outcome", "unread"]
    assert [event.kind for event in Event.objects.order_by("pk")] == kinds
    assert [tuple(in_words(event)) for event in Event.objects.order_by("pk")] == [
        (what, "before", "after") for what in told
    ]


def test_an_old_fee_stays_the_owners(job):
    job.told("Changed: Agreed diagnosis fee", "61.50", "73.25", stage="")
    job.told("Changed: Fee for the diagnosis", "80.00", "85.00", stage="")
    job.told("Changed: Serial number", "", "S 77", stage="")
    newest()
    text = signed_in(Client(), UserFactory(is_staff=True)).get("/jobs/26-014/history/").text
    assert [number for number in ("61.50", "73.25", "80.00", "85.00", "S 77") if number in text] == ["S 77"]


def test_an_old_measurement_is_undone(old, job):
    told = {
        "back depth": ("4.20 ±0.03 mm, maker's sheet", 3.7, (4.20, 0.03, "s")),
        "dial seat diameter": ("25.90 mm, estimated", 25.8, (25.90, 0.0, "e")),
        "stem axis depth": ("2.40 mm", 2.3, (2.40, 0.0, "m")),
        "crown seat radius": ("not measured", 14.0, (None, 0.0, "m")),
    }
    old.get_model("parts", "Case").objects.update(**{name.replace(" ", "_"): now for name, (_, now, _) in told.items()})
    job.told("Measured: case back depth", told["back depth"][0], "3.90 mm, measured")
    job.told("Measured: case bore diameter", "26.00 mm, measured", "26.10 mm, measured")
    for name, (before, now, _) in told.items():
        job.told(f"Measured: case {name}", "3.90 mm, measured" if now == 3.7 else before, f"{now:.2f} mm, measured")
    newest()
    for name, (_, _, stands) in told.items():
        column = name.replace(" ", "_")
        undo(f"case.{column}")
        case = Pairing.objects.get().case
        assert tuple(getattr(case, f"{column}{part}") for part in ("", "_pm", "_source")) == stands
    assert case.bore_diameter == 26.1


def test_what_was_undone_in_the_earlier_program_is_not_undone_again(job):
    job.told("Measured: hands hour mass", "11 mg, measured", "14 mg, measured")
    job.told("Measured: case back depth", "5.00 mm, measured", "4.50 mm, measured")
    job.told("Measurement taken back: case back depth", "4.50 mm, measured", "5.00 mm, measured")
    job.told("Measured: case back depth", "5.00 mm, measured", "3.70 mm, measured")
    newest()
    assert Event.objects.order_by("pk").first().data == {
        "path": "hands.hour.mass",
        "before": {"value": 11.0, "plus_minus": 0.0, "source": "m"},
        "after": {"value": 14.0, "plus_minus": 0.0, "source": "m"},
    }
    undo("case.back_depth")
    assert Pairing.objects.get().case.back_depth == 5.0


def test_what_cannot_be_read_is_not_undone(job):
    """A name that nothing has, a number that is no number, and what nobody told of."""
    job.told("Measured: case depth to the back", "4.20 mm, measured", "3.70 mm, measured")
    job.told("Measured: case bore diameter", "", "26.10 mm, measured")
    newest()
    for path in ("case.back_depth", "case.bore_diameter", "case.stem_axis_depth"):
        with pytest.raises(measuring.NotKnown, match="so this cannot be undone"):
            undo(path)
    case = Pairing.objects.get().case
    assert (case.back_depth, case.bore_diameter) == (3.7, 26.1)


def test_a_signed_quote_is_known_as_one_and_belongs_to_its_version(old, job):
    quote = old.get_model("jobs", "Quote").objects.create(
        job=job, version=2, currency="EUR", tax_inclusive=True, tax_by_line=False, valid_until="2026-12-01"
    )
    for caption in ("Signed: version 2", "Signed: version 7", "the dial", ""):
        old.get_model("jobs", "Photo").objects.create(job=job, caption=caption, by_id=job.by)
    newest()
    assert list(Photo.objects.values_list("kind", "quote")) == [
        ("signed", quote.pk),
        ("signed", None),
        ("watch", None),
        ("watch", None),
    ]


def test_a_jobs_own_copies_are_linked_and_honest_names_stay(old, job):
    make = {name: old.get_model("parts", name).objects.create for name in ("Pairing", "Movement", "HandSet", "Dial")}
    Option = old.get_model("jobs", "Option").objects.create
    grey, sprig = make["Pairing"](name="Grey"), make["Movement"](name="Sprig")
    make["Movement"](name="Sprig")
    long = make["Dial"](name="d" * 80)
    parts = {
        "movement": make["Movement"](name="Sprig, 26-014"),
        "hands": make["HandSet"](name="Leaf, 26-014"),
        "dial": make["Dial"](name=f"{'d' * 66}, 26-014"),
    }
    own = make["Pairing"](name="Grey, 26-014", **parts)
    Option(job=job, pairing=own)
    copied = "Own copy made of the"
    job.told(f"{copied} movement", after="Sprig, 26-014; Sprig stays as it is, since other watches use it")
    job.told(f"{copied} dial")
    second = old.get_model("jobs", "Job").objects.create(number="26-020", customer=job.customer, luminous="none")
    later = make["Movement"](name="Sprig, 26-014, 26-020")
    Option(job=second, pairing=make["Pairing"](name="Grey, 26-020", movement=later))
    job.told(f"{copied} movement", job=second)
    newest()
    told = {(one.name, one.made_for, one.copied_from_id) for one in Movement.objects.all()}
    assert told == {("Sprig", "", None), ("Sprig", "26-014", sprig.pk), ("Sprig", "26-020", sprig.pk)}
    assert [(one.name, one.made_for) for one in HandSet.objects.all()] == [("Leaf, 26-014", "")]
    assert Dial.objects.get(made_for="26-014").copied_from_id == long.pk
    pairings = Pairing.objects.exclude(made_for="").filter(copied_from__isnull=False)
    assert {(str(one), one.copied_from_id) for one in pairings} == {
        ("Grey, 26-014", grey.pk),
        ("Grey, 26-020", grey.pk),
    }


def test_what_keys_and_texts_began_with_is_in_columns(old, job):
    get = old.get_model
    quote = get("jobs", "Quote").objects.create(
        job=job, version=1, currency="EUR", tax_inclusive=True, tax_by_line=False, valid_until="2026-12-01"
    )
    way = get("jobs", "QuotePart").objects.create(quote=quote, title="Grey")
    for key in ("bought-hands", "date-cut", ""):
        get("jobs", "QuoteLine").objects.create(part=way, text="x", from_check=key)
    for key in ("tight-0a1b2c3d", "case-bore-0-0a1b2c3e", "height-hour-99999999"):
        get("jobs", "Tick").objects.create(stage=job.stages.get(kind="handover"), key=key, by_id=job.by)
    for pk, name in ((70_007, "erased customer 70007"), (70_008, "erased customer of old")):
        get("jobs", "Customer").objects.create(pk=pk, name=name)
    told = [["quote, version 1", "a"], ["answer to version 1", "b"], ["remarks", "c"], ["wish", "quote"]]
    get("jobs", "PastText").objects.create(job=job, head="grey", body="a b c quote", told=told)
    newest()
    assert list(QuoteLine.objects.values_list("bought", "from_check")) == [("hands", ""), ("", "date-cut"), ("", "")]
    assert set(Tick.objects.values_list("name", "key")) == {
        ("tight", "tight"),
        ("case-bore-0", "case-bore-0-0a1b2c3e"),
        ("height-hour", "height-hour-99999999"),
    }
    assert list(Customer.objects.filter(is_erased=True).values_list("pk", flat=True)) == [70_007]
    assert [source for source, *_ in PastText.objects.get().told] == ["quote", "quote", "job", "job"]


def test_what_was_put_away_taken_back_or_dropped_still_is(old, job):
    get = old.get_model
    option = get("jobs", "Option").objects.get()
    option.chosen, option.dropped = False, True
    option.save()
    common = {"job": job, "by_id": job.by}
    for away in (True, False):
        get("jobs", "Photo").objects.create(put_away=away, **common)
        get("jobs", "TimingRun").objects.create(put_away=away, **common)
        get("jobs", "GoAhead").objects.create(how="phone", on="2026-11-02", taken_back=away, **common)
        get("jobs", "LuminousClearance").objects.create(how="reading", on="2026-11-02", taken_back=away, **common)
        started = {"started": "2026-11-02T10:00Z", "by_id": job.by, "taken_back": away}
        get("jobs", "WorkTime").objects.create(stage=job.stages.get(kind="dial"), **started)
    run = get("jobs", "TimingRun").objects.first()
    get("jobs", "Reading").objects.create(run=run, at="2026-11-02T10:00Z", offset_s=1, how="tap", taken_back=True)
    newest()
    archived = [list(model.objects.values_list("archived", flat=True)) for model in (Photo, models.TimingRun)]
    undone = [
        list(model.objects.order_by("pk").values_list("undone", flat=True))
        for model in (models.GoAhead, models.LuminousClearance, models.WorkTime, models.Reading)
    ]
    assert (archived, undone) == ([[True, False]] * 2, [[True, False]] * 3 + [[True]])
    assert models.Option.objects.get().ruled_out
    with pytest.raises(IntegrityError):
        models.WorkTime.objects.create(
            stage=models.Stage.objects.get(kind="stem"), started="2026-11-02T10:00Z", by_id=job.by
        )


def test_many_events_are_carried_over(old, job):
    Event = old.get_model("jobs", "Event")
    Event.objects.bulk_create(Event(job=job, by_id=job.by, what="Ticked") for _ in range(2300))
    newest()
    assert set(models.Event.objects.values_list("kind", flat=True)) == {"ticked"}


def undo(path):
    job, pairing = Job.objects.get(), Pairing.objects.with_parts().get()
    by = get_user_model().objects.get(username="owner")
    measuring.undo(stage=job.stages.get(kind="teardown"), pairing=pairing, path=path, by=by)
