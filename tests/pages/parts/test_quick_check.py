"""The quick check: typed numbers, a verdict that grows, parts made of them."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from parts.goes_in.page import start
from parts.goes_in.question import Question
from parts.library.kinds import KIND_OF
from parts.models import Case, CaseFamily, Dial, Hand, HandSet, Instrument, Movement, Pairing
from parts.pairings.answer import answer
from parts.pairings.form import PairingForm
from parts.sheets import sheet_of
from tests.factories import CaseFactory, HandSetFactory, JobFactory, MovementFactory, PairingFactory
from tests.quick_numbers import CASE, DIAL, PICKED, SECONDS, sent
from tests.reading import as_read

pytestmark = pytest.mark.django_db
HTMX = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def key():
    return uuid4()


@pytest.fixture
def address(key):
    return reverse("parts:quick", args=[key])


def draft(key):
    return Pairing.objects.with_parts().get(draft_key=key)


def test_it_begins_with_the_bore_and_stores_nothing(owner_client):
    response = owner_client.get(reverse("parts:quick-new"))
    assert "Start with A, bore diameter" in response.text
    assert "No verdict yet" in response.text
    assert not Pairing.objects.exists()


def test_a_draft_is_told_by_its_numbers_and_not_by_what_was_picked(owner_client, address):
    owner_client.post(address, sent({"case.bore_diameter": "29.60", "case.back_depth": "x"}, PICKED))
    assert "2 numbers typed" in owner_client.get(reverse("parts:quick-new")).text


def test_a_movement_alone_is_no_answer(owner_client, address):
    page = owner_client.post(address, sent({}, movement=MovementFactory().pk), follow=True).text
    assert "No verdict yet" in page
    assert "so far" not in page
    assert "checks that decide" not in page


def test_the_verdict_grows_with_the_numbers_and_names_what_is_next(owner_client, address, key):
    first = owner_client.post(address, sent({"case.bore_diameter": "29.60"}), **HTMX)
    assert first["HX-Replace-Url"] == address
    assert "No verdict yet" in first.text
    movement = MovementFactory()
    owner_client.post(address, sent(CASE | DIAL, PICKED, movement=movement.pk), **HTMX)
    page = owner_client.get(address).text
    assert "so far" in page
    assert "Still to choose: hands." in page
    assert "Stem and crown follow in the fit check, once this is kept." in " ".join(page.split())
    assert 'value="2.15 ±0.02"' in page


def test_what_was_typed_is_there_again_and_on_the_bench(owner_client, address, key):
    owner_client.post(address, sent({"case.bore_diameter": "29.60"}))
    assert 'value="29.60"' in owner_client.get(address).text
    for page in ("jobs:bench", "parts:pairings"):
        assert address in owner_client.get(reverse(page)).text


def test_a_bare_number_takes_the_plus_minus_of_the_instrument_in_hand(owner_client, address, key):
    fine = Instrument.objects.create(name="Plug gauges", kind="other", limit_mm=0.01)
    owner_client.post(address, sent({"dial.thickness": "0.40"}, in_hand=fine.pk))
    assert draft(key).typed["dial.thickness"]["plus_minus"] == 0.01
    other = Instrument.objects.create(name="Steel rule", kind="other", limit_mm=0.3)
    owner_client.post(address, sent({"dial.thickness": "0.40", "case.back_depth": "5"}, in_hand=other.pk))
    typed = draft(key).typed
    assert typed["dial.thickness"]["plus_minus"] == 0.01
    assert typed["case.back_depth"]["plus_minus"] == 0.3


def test_the_same_text_typed_again_is_a_reading_with_what_is_in_hand_now(owner_client, address, key):
    coarse = Instrument.objects.create(name="Steel rule", kind="other", limit_mm=0.3)
    fine = Instrument.objects.create(name="Better rule", kind="other", limit_mm=0.1)
    numbers = sent({"case.back_depth": "5.40", "dial.thickness": "0.40"})
    owner_client.post(address, numbers | {"in_hand": coarse.pk})
    owner_client.post(address, numbers | {"in_hand": fine.pk, "again": "n:case.back_depth"})
    typed = draft(key).typed
    assert (typed["case.back_depth"]["plus_minus"], typed["dial.thickness"]["plus_minus"]) == (0.1, 0.3)


def next_step(page):
    """What the page puts first, without its markup."""
    lead = page[page.index('class="lead"') :]
    return " ".join(re.sub(r"<[^>]*>", " ", lead[: lead.index("</div>")]).split())


def test_before_there_is_a_movement_the_next_number_is_the_next_letter(owner_client, address):
    bore = {"case.bore_diameter": "29.60"}
    page = owner_client.post(address, sent(bore, {"dial.own_case": "yes"}), follow=True).text
    assert "Measure next C, dial opening diameter" in page.replace("</p>\n  <h2>", " ")
    assert "note the dial feet" not in page
    numbers = {path: text for path, text in (CASE | DIAL).items() if path != "case.crystal_gap_centre"}
    page = owner_client.post(address, sent(numbers, {"dial.own_case": "yes", "dial.window": "none"}), follow=True).text
    assert "The movement" in next_step(page)


def test_a_number_that_the_watchs_own_dial_would_prove_stays_in_sight_where_it_was_typed(owner_client, address):
    typed = {"case.bore_diameter": "29.40", "dial.diameter": "30.80"}
    page = owner_client.post(address, sent(typed, {"dial.own_case": "yes"}), follow=True).text
    assert "The dial is 1.40 mm too wide" in page
    assert 'name="n:dial.diameter"' in page
    assert 'name="n:case.dial_seat_diameter"' not in page


DEEP = CASE | DIAL | {"case.stem_axis_depth": "2.45 ±0.02"}
"""With the movement of the factory: the stem's height fits."""


def test_dial_feet_are_asked_for_by_their_choice_and_then_by_their_numbers(owner_client, address):
    parts = {"movement": MovementFactory().pk, "hands": HandSetFactory().pk}
    picks = {"dial.own_case": "yes", "dial.window": "none"}
    page = owner_client.post(address, sent(DEEP, picks, **parts), follow=True).text
    assert 'data-focus="p:dial.fixing-1"' in page
    page = owner_client.post(address, sent({}, {"dial.fixing": "feet"}, **parts), follow=True).text
    assert 'data-focus="n:dial.feet[0].angle"' in page


def test_the_next_number_says_of_which_hand_it_is(owner_client, address):
    hour = {"hands.hour.hole_diameter": "1.50", "hands.hour.length": "8"}
    parts = {"movement": MovementFactory().pk}
    page = owner_client.post(address, sent(DEEP | hour, PICKED, **parts), follow=True).text
    assert "Hour hand hub height" in next_step(page)


def test_a_number_of_a_part_of_the_library_leads_to_that_part(owner_client, address):
    movement = MovementFactory(back_height=None)
    parts = {"movement": movement.pk, "hands": HandSetFactory().pk}
    page = owner_client.post(address, sent(DEEP, PICKED, **parts), follow=True).text
    assert reverse("parts:detail", args=["movements", movement.pk]) in page[page.index('class="lead"') :]


def test_the_counts_grow_with_every_number(owner_client, address):
    first = owner_client.post(address, sent(CASE, shown=""), **HTMX)
    shown = re.search(r'name="shown" value="([^"]*)"', first.text)[1]
    later = as_read(owner_client.post(address, sent({"case.crystal_gap_centre": ""}, shown=shown), **HTMX).text)
    assert re.search(r'<small id="count-last-with-the-bezel-closed" hx-swap-oob="true">0 of 1<', later)


def test_checks_that_are_answered_and_those_still_open_add_up(owner_client, address):
    page = owner_client.post(
        address, sent(DEEP, PICKED | {"dial.fixing": "feet"}, movement=MovementFactory().pk), follow=True
    ).text
    answered, of = map(int, re.search(r"(\d+) of (\d+) checks that decide", page).groups())
    assert answered + int(re.search(r"(\d+) checks? still open", page)[1]) == of


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("wide", "“wide” is not a number"),
        ("900", "900.00 mm is out of range: bore diameter must be above 0, at most 100 mm."),
        ("-1", "must be above 0"),
    ],
)
def test_what_cannot_be_is_said_by_its_field_and_stays_as_it_is_typed(owner_client, address, text, told):
    page = owner_client.post(address, sent({"case.bore_diameter": text}), follow=True).text
    assert told in page
    assert f'value="{text}"' in page


def test_a_contradiction_names_both_numbers_and_a_doubt_blocks_nothing(owner_client, address):
    numbers = {"case.dial_opening_diameter": "31", "case.dial_seat_diameter": "29.5", "case.bore_diameter": "32"}
    page = owner_client.post(address, sent(numbers), follow=True).text
    assert "These numbers contradict each other" in page
    assert page.count('data-state="wrong"') >= 4
    doubtful = dict.fromkeys(numbers, "") | {"case.bore_diameter": "61"}
    page = owner_client.post(address, sent(doubtful, movement=MovementFactory().pk), follow=True).text
    assert "contradict" not in page
    assert "Look at the bore again: 61.00 mm is large for a watch." in page
    assert 'data-state="doubt"' in page


def test_numbers_that_are_proven_or_not_there_are_not_asked_for(owner_client, address):
    page = owner_client.post(address, sent(CASE, PICKED), follow=True).text
    asked = re.findall(r'name="n:([^"]+)"', page)
    assert "case.dial_seat_diameter" not in asked
    assert "dial.diameter" not in asked
    assert "dial.window.angle" not in asked
    page = owner_client.post(address, sent({}, {"dial.window": "is"}), follow=True).text
    assert "dial.window.angle" in re.findall(r'name="n:([^"]+)"', page)


def test_everyday_conversion_is_decided_by_at_most_25_typed_numbers(owner_client, address, key):
    """Own dial and case, a movement and hands of the library, the watch's own seconds hand."""
    numbers = CASE | DIAL | SECONDS
    movement, hands = MovementFactory(), HandSetFactory()
    picks = PICKED | {"hands.seconds": "is"}
    owner_client.post(address, sent(numbers, picks, movement=movement.pk, hands=hands.pk, tried_seconds="grips"))
    report = answer(draft(key)).report
    unclear = [check.key for check in report.checks if check.must and check.verdict == "unclear"]
    assert unclear == []
    assert len(numbers) <= 25


def test_kept_as_parts_it_answers_the_same(owner_client, address, key):
    movement, hands = MovementFactory(), HandSetFactory()
    picks = PICKED | {"hands.seconds": "is"}
    owner_client.post(address, sent(CASE | DIAL | SECONDS, picks, movement=movement.pk, hands=hands.pk))
    before = answer(draft(key))
    names = {
        "name": "Grey one",
        "case": "brushed",
        "dial": "grey",
        "seconds_hand": "own",
        "new_family": "Stillwater 36",
    }
    asked = owner_client.get(reverse("parts:quick-keep", args=[key])).context["form"].fields
    assert ("family" in asked, str(asked["new_family"].label)) == (False, "Case family")
    response = owner_client.post(reverse("parts:quick-keep", args=[key]), names)
    saved = Pairing.objects.with_parts().get(name="Grey one")
    assert response.url == reverse("parts:pairing", args=[saved.pk])
    after = answer(saved)
    assert after.report.as_dict() == before.report.as_dict()
    assert (saved.draft_key, saved.typed) == (None, {})
    for back in (address, reverse("parts:quick-keep", args=[key])):
        assert owner_client.get(back).url == response.url
    assert saved.case.family == saved.dial.family == CaseFamily.objects.get(name="Stillwater 36")
    assert saved.dial.out_of == saved.case
    assert saved.seconds_hand_from.hands.get().role == Hand.Role.SECONDS
    assert (saved.seconds_hand_from.is_watchs_own, saved.hands.is_watchs_own) == (True, False)
    assert saved.case.taken["bore_diameter"]["instrument"] == "Calliper"
    assert saved.movement == movement
    assert saved.report["verdict"] == before.report.verdict


def test_a_typed_movement_is_kept_as_quartz_or_mechanical(owner_client, address, key):
    owner_client.post(address, sent({"movement.overall_diameter": "27.0"}))
    form = owner_client.get(reverse("parts:quick-keep", args=[key])).context["form"]
    assert [value or "" for value, _ in form.fields["movement_kind"].choices] == ["", "quartz", "mechanical"]
    owner_client.post(
        reverse("parts:quick-keep", args=[key]), {"name": "A", "movement": "Fennel", "movement_kind": "quartz"}
    )
    assert Movement.objects.get().kind == "quartz"


def test_keeping_asks_for_each_name_and_saves_nothing_without(owner_client, address, key):
    owner_client.post(address, sent(CASE | DIAL, PICKED))
    response = owner_client.post(reverse("parts:quick-keep", args=[key]), {"name": "Grey one", "case": ""})
    assert response.status_code == 422
    assert response.text.count("Give it a name.") == 2
    assert not Case.objects.exists()
    assert not Dial.objects.exists()


def test_what_could_not_be_read_is_not_kept(owner_client, address, key):
    owner_client.post(address, sent(CASE | {"case.bore_diameter": "wide"}))
    names = {"name": "Grey one", "case": "brushed"}
    response = owner_client.post(reverse("parts:quick-keep", args=[key]), names)
    assert response.status_code == 422
    assert "“wide” could not be read. Go back and correct it, or clear it." in response.text
    assert not Case.objects.exists()


def test_names_that_were_refused_are_there_again_after_the_number_is_mended(owner_client, address, key):
    owner_client.post(address, sent(CASE | {"case.bore_diameter": "wide"}))
    keep = reverse("parts:quick-keep", args=[key])
    owner_client.post(keep, {"name": "Grey one", "case": "brushed", "new_family": "Stillwater 36"})
    owner_client.post(address, sent(CASE))
    page = owner_client.get(keep).text
    for name in ("Grey one", "brushed", "Stillwater 36"):
        assert f'value="{name}"' in page
    other = reverse("parts:quick", args=[other_key := uuid4()])
    owner_client.post(other, sent(CASE))
    assert "brushed" not in owner_client.get(reverse("parts:quick-keep", args=[other_key])).text


def test_a_whole_set_of_hands_is_typed_and_kept_as_one(owner_client, address, key):
    hands = {f"hands.{role}.length": str(8 + i) for i, role in enumerate(("hour", "minute", "seconds"))}
    owner_client.post(address, sent(hands))
    owner_client.post(reverse("parts:quick-keep", args=[key]), {"name": "Trial", "hands": "Baton"})
    assert [hand.length for hand in HandSet.objects.get(name="Baton").hands.all()] == [8, 9, 10]


def test_two_hands_only(owner_client, address, key):
    owner_client.post(address, sent({"hands.hour.length": "8"}, {"hands.seconds": "none"}))
    assert sheet_of(draft(key))["hands"]["seconds"] is None


def test_a_part_of_the_library_goes_before_what_was_typed_of_one(owner_client, address, key):
    owner_client.post(address, sent(CASE))
    case = CaseFactory()
    owner_client.post(address, sent({}, case=case.pk))
    assert sheet_of(draft(key))["case"]["bore_diameter"] == [case.bore_diameter, case.bore_diameter_pm]
    owner_client.post(address, {"case": ""})
    assert sheet_of(draft(key))["case"]["bore_diameter"][0] == 29.60


def test_discarded_it_leaves_the_lists_and_comes_back(owner_client, address, key):
    owner_client.post(address, sent(CASE))
    owner_client.post(reverse("parts:quick-discard", args=[key]))
    assert address not in owner_client.get(reverse("jobs:bench")).text
    owner_client.post(reverse("parts:quick-discard", args=[key]), {"do": "bring-back"})
    assert address in owner_client.get(reverse("parts:pairings")).text


def test_a_draft_is_no_saved_fit_check(owner_client, address, key):
    owner_client.post(address, sent(CASE, name="Nobody saved this"))
    listed = owner_client.get(reverse("parts:pairings")).context["page"].object_list
    assert list(listed) == []


def test_a_new_fit_check_is_there_again_too(owner_client, key):
    movement = MovementFactory()
    page = reverse("parts:draft", args=[key])
    response = owner_client.post(page, {"movement": movement.pk}, **HTMX)
    assert response["HX-Replace-Url"] == page
    assert str(movement) in owner_client.get(page).text
    assert draft(key).movement == movement


def test_saving_a_fit_check_with_typed_parts_asks_for_their_names(owner_client, address, key):
    owner_client.post(address, sent(CASE | DIAL, PICKED))
    response = owner_client.post(
        reverse("parts:draft", args=[key]), {"do": "save", "name": "Grey one", "placement": "auto"}
    )
    assert response.url == reverse("parts:quick-keep", args=[key])
    assert 'value="Grey one"' in owner_client.get(response.url).text


def test_the_chance_comes_after_the_verdict(owner_client, address, key):
    owner_client.post(address, sent(CASE | DIAL, PICKED, movement=MovementFactory().pk))
    response = owner_client.post(reverse("parts:quick-chance", args=[key]))
    assert "of 100 cases" in response.text
    assert Movement.objects.count() == 1


def test_what_ran_together_bounds_what_is_not_measured(owner_client, address, key):
    ran = {"gauge.hands": "2.30 ±0.05", "gauge.reach": "12.5 ±0.1", "gauge.stem": "0.88 ±0.01", "gauge.back": "4 ±0"}
    page = owner_client.post(address, sent(ran), follow=True).text
    case = sheet_of(draft(key))["case"]
    assert case["crystal_gap_centre"] == {"at_least": 2.25}
    assert case["dial_opening_diameter"] == {"at_least": 24.8}
    assert case["tube_bore_diameter"] == {"at_least": 0.87}
    assert case["back_depth"] == {"at_least": 4.0}
    assert "case crystal gap at the centre: at least 2.25 mm" in page
    owner_client.post(address, sent({"case.crystal_gap_centre": "2.60 ±0.03"}))
    assert sheet_of(draft(key))["case"]["crystal_gap_centre"] == [2.60, 0.03]
    owner_client.post(reverse("parts:quick-keep", args=[key]), {"name": "Grey one", "case": "brushed"})
    made = Case.objects.get(name="brushed")
    assert (made.back_depth, made.back_depth_source) == (4.0, "l")


FRONT = {
    "case.bore_diameter": "29.00",
    "case.front_opening_diameter": "29.40",
    "case.floor_stem": "2.10",
    "case.floor_ring": "3.83",
    "case.floor_crystal_centre": "7.00",
}


def test_a_case_loaded_from_the_front_is_asked_from_its_floor(owner_client, address, key):
    typed = owner_client.post(address, sent(FRONT, {"case.construction": "front", "case.ring": "rehaut"}), **HTMX)
    asked = {line.asked.path for line in typed.context["all_lines"]}
    assert {"case.floor_stem", "case.floor_ring", "case.floor_crystal_centre"} <= asked
    assert not {"case.back_depth", "case.stem_axis_depth", "case.crystal_gap_centre"} & asked
    movement = MovementFactory(stem_axis_depth=1.3, back_height=2.95)
    dial = {"dial.diameter": "28.40", "dial.thickness": "0.40"}
    picks = {"case.construction": "front", "case.ring": "rehaut"}
    owner_client.post(address, sent(FRONT | dial, picks, movement=movement.pk), **HTMX)
    report = answer(draft(key)).report
    assert report["stem-height"].value.value == pytest.approx(0.45)
    assert report["ring-gap"].value.value == pytest.approx(0.03)


def test_back_to_the_usual_case_the_floor_is_forgotten_and_not_refused(owner_client, address, key):
    owner_client.post(address, sent(FRONT, {"case.construction": "front", "case.ring": "rehaut"}))
    owner_client.post(address, sent({"case.bore_diameter": "29.00"}, {"case.construction": ""}))
    pairing = draft(key)
    assert answer(pairing).error is None
    assert "floor_stem" not in sheet_of(pairing)["case"]


def test_a_ring_that_nobody_named_holds_the_check_open_and_the_page_goes_on(owner_client, address, key):
    movement = MovementFactory(stem_axis_depth=1.3, back_height=2.95)
    dial = {"dial.diameter": "25.40", "dial.thickness": "0.40"}
    page = owner_client.post(address, sent(FRONT | dial, {"case.construction": "front"}, movement=movement.pk), **HTMX)
    assert page.status_code == 200
    assert answer(draft(key)).report["ring-gap"].missing == ("case.ring",)
    assert owner_client.get(address).status_code == 200


HOLES = {"hands.hour.hole_diameter": "1.50", "hands.minute.hole_diameter": "0.90"}


def test_hour_and_minute_hands_are_said_to_be_the_watchs_own_by_one_choice(owner_client, address, key):
    assert 'name="p:hands.own"' in owner_client.get(address).text
    owner_client.post(address, sent(HOLES, {"hands.own": "is"}))
    keep = reverse("parts:quick-keep", args=[key])
    assert 'value="Own hands 1.50/0.90 mm"' in owner_client.get(keep).text
    owner_client.post(keep, {"name": "Trial", "hands": "Leaf"})
    assert HandSet.objects.get(name="Leaf").is_watchs_own


def test_hands_of_which_nothing_was_said_are_new_and_a_set_of_the_library_is_not_asked(owner_client, address, key):
    owner_client.post(address, sent(HOLES))
    owner_client.post(reverse("parts:quick-keep", args=[key]), {"name": "Trial", "hands": "Leaf"})
    assert not HandSet.objects.get(name="Leaf").is_watchs_own
    other = reverse("parts:quick", args=[uuid4()])
    owner_client.post(other, {"hands": HandSetFactory().pk})
    assert 'name="p:hands.own"' not in owner_client.get(other).text


def test_names_are_proposed_from_what_is_known_and_may_be_changed(owner_client, address, key):
    movement = MovementFactory(name="Fennel")
    picks = PICKED | {"hands.seconds": "is"}
    owner_client.post(address, sent(CASE | DIAL | SECONDS, picks, movement=movement.pk, hands=HandSetFactory().pk))
    keep = reverse("parts:quick-keep", args=[key])
    form = owner_client.get(keep).context["form"]
    assert [form[name].value() for name in ("case", "dial", "seconds_hand")] == [
        "as it came 29.60 mm",
        "own dial",
        "Own seconds hand 0.20 mm",
    ]
    owner_client.post(keep, {"name": "Trial", "case": "brushed", "dial": "own dial", "seconds_hand": "own"})
    assert Case.objects.get().name == "brushed"


def test_a_quick_check_of_a_job_proposes_names_with_its_watch(owner_client):
    job = JobFactory(watch="small gold one", case_family=None)
    started = owner_client.post(reverse("jobs:option-new", args=[job.number]), {"do": "quick"})
    owner_client.post(started.url, sent(CASE | HOLES))
    form = owner_client.get(f"{started.url}keep/").context["form"]
    assert form["new_family"].value() == "small gold one"
    assert form["hands"].value() == "small gold one, new hands 1.50/0.90 mm"


def test_no_seconds_hand_beside_a_set_of_the_library_is_kept_and_can_be_taken_back(owner_client, address, key):
    """The set has one, and the watch does without: kept as parts, it answers the same."""
    movement, hands = MovementFactory(), HandSetFactory(name="Leaf")
    chosen = {"movement": movement.pk, "hands": hands.pk}
    owner_client.post(address, sent(CASE | DIAL, PICKED | {"hands.seconds": "none"}, **chosen))
    before = answer(draft(key)).report
    owner_client.post(reverse("parts:quick-keep", args=[key]), {"name": "Two hands", "case": "A", "dial": "B"})
    kept = Pairing.objects.with_parts().get()
    assert (kept.hands, kept.no_seconds_hand, sheet_of(kept)["hands"]["seconds"]) == (hands, True, None)
    assert {c.key: c.verdict for c in answer(kept).report.checks} == {c.key: c.verdict for c in before.checks}
    assert kept.hands_in_words == "Leaf, no seconds hand"
    page = owner_client.get(reverse("parts:pairing", args=[kept.pk]))
    assert page.context["form"]["no_seconds_hand"].value() is True
    data = {name: page.context["form"][name].value() or "" for name in page.context["form"].fields}
    saved = data | {"do": "save", "no_seconds_hand": "", "placement": "auto"}
    owner_client.post(reverse("parts:pairing", args=[kept.pk]), {name: value for name, value in saved.items() if value})
    assert sheet_of(Pairing.objects.with_parts().get())["hands"]["seconds"] is not None


def test_a_seconds_hand_from_another_set_and_none_are_not_both_chosen(owner_client):
    pairing = PairingFactory(seconds_hand_from=HandSetFactory())
    form = PairingForm({"name": "A", "seconds_hand_from": pairing.seconds_hand_from_id, "no_seconds_hand": "on"})
    assert form.errors["no_seconds_hand"] == ["A seconds hand is chosen from another set: take one of them back."]


@pytest.mark.parametrize("part", ["movement", "hands"])
def test_what_would_fit_is_asked_without_a_seconds_hand_too(owner_client, part):
    MovementFactory(), HandSetFactory()
    pairing = PairingFactory(no_seconds_hand=True)
    assert start(pairing).endswith("&no_seconds_hand=on")
    question = Question.of(part, pairing, {})
    assert (question.sheet["hands"]["seconds"], "seconds" in question.staying) == (None, part == "hands")
    page = owner_client.get(f"{reverse('parts:goes-in', args=[KIND_OF[part].slug])}?{start(pairing)}")
    assert page.context["form"].pairing.no_seconds_hand
