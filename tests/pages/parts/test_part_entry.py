"""Adding, changing and copying parts."""

import pytest

from parts.library.kinds import KINDS
from parts.models import Case, Dial, HandSet, Movement, Stem
from tests.factories import CaseFactory, CaseFamilyFactory, DialFactory, HandSetFactory, MovementFactory, StemFactory
from tests.pages.parts.test_library import FACTORIES


def filled(owner_client, address, **changes):
    """What a browser would send: every field of the page as it stands, with some of them changed."""
    editor = owner_client.get(address).context["editor"]
    forms = [editor.form, *editor.hands.values()]
    for rows in editor.rows.values():
        forms += [rows.formset.management_form, *rows.formset.forms]
    data = {}
    for form in forms:
        for field in form:
            value = field.value()
            if hasattr(field.field.widget, "choices"):
                data[field.html_name] = "" if value is None else str(value)
            elif value is not None and value is not False:
                data[field.html_name] = "on" if value is True else value
    return {name: value for name, value in (data | changes).items() if value is not None}


def faults(response):
    return [(fault.id, fault.message) for fault in response.context["editor"].faults]


def test_a_case_is_added_as_it_is_typed(owner_client):
    family = CaseFamilyFactory(name="Tern")
    typed = {
        "family": family.pk,
        "name": " 36 mm ",
        "bore_diameter": "27,40 +-0,02",
        "dial_seat_diameter": "11 1/2'''",
        "back_depth": "4.8",
        "back_depth_source": "e",
        "stem_angle": "90°",
        "in_stock": "2",
    }
    page = owner_client.post("/parts/cases/add/", filled(owner_client, "/parts/cases/add/", **typed), follow=True)
    case = Case.objects.get()
    assert page.redirect_chain == [(f"/parts/cases/{case.pk}/", 302)]
    assert "Tern 36 mm is saved." in page.text
    assert (case.bore_diameter, case.bore_diameter_pm, case.bore_diameter_source) == (27.4, 0.02, "m")
    assert case.dial_seat_diameter == 25.942
    assert (case.back_depth, case.back_depth_source) == (4.8, "e")
    assert case.stem_angle == 90.0
    assert case.stem_axis_depth is None
    assert case.in_stock == 2


@pytest.mark.parametrize("slug", KINDS)
def test_saving_a_page_as_it_stands_changes_nothing(owner_client, slug):
    record = FACTORIES[slug]()
    address = f"/parts/{slug}/{record.pk}/edit/"
    before = owner_client.get(f"/parts/{slug}/{record.pk}/").context["groups"]
    assert owner_client.post(address, filled(owner_client, address)).status_code == 302
    assert owner_client.get(f"/parts/{slug}/{record.pk}/").context["groups"] == before


@pytest.mark.parametrize("slug", ["cases", "dials", "movements", "hand-sets", "stems", "crowns"])
def test_every_field_has_a_label_and_every_length_its_sketch(owner_client, slug):
    page = owner_client.get(f"/parts/{slug}/add/")
    for group in page.context["editor"].groups:
        for entry in group.entries:
            assert f'for="{entry.field.id_for_label}"' in page.text
            if entry.dimension and entry.dimension.input.unit in ("mm", "deg"):
                assert f'id="outline-{entry.sketch.outline}"' in page.text
                assert entry.sketch.marks.lines in page.text


def test_a_number_that_cannot_be_is_refused_on_its_field_and_everything_typed_stays(owner_client):
    typed = {"name": "a", "bore_diameter": "wide", "back_depth": "-3", "stem_axis_depth": "2.45 ±0.03"}
    page = owner_client.post("/parts/cases/add/", filled(owner_client, "/parts/cases/add/", **typed))
    assert page.status_code == 422
    (bore, bore_message), (depth, depth_message) = faults(page)
    assert (bore, depth) == ("id_bore_diameter", "id_back_depth")
    assert "“wide” is not a number" in bore_message
    assert "−3.00 mm is out of range: back depth must be between 0 and 100 mm" in depth_message
    assert 'href="#id_bore_diameter"' in page.text
    assert page.text.count("autofocus") == 1
    assert 'value="2.45 ±0.03"' in page.text
    assert 'value="wide"' in page.text
    assert "Not saved yet: 2 things to correct" in page.text
    assert not Case.objects.exists()


def test_a_part_needs_a_name(owner_client):
    page = owner_client.post("/parts/stems/add/", filled(owner_client, "/parts/stems/add/", name="  "))
    assert faults(page) == [("id_name", "Give it a name.")]


@pytest.mark.parametrize(("count", "message"), [("-1", "Too small: it must be 0 or more."), ("1.5", "whole number")])
def test_stock_is_a_count(owner_client, count, message):
    page = owner_client.post("/parts/stems/add/", filled(owner_client, "/parts/stems/add/", name="a", in_stock=count))
    ((place, text),) = faults(page)
    assert place == "id_in_stock"
    assert message in text


def test_a_source_that_is_none_is_named(owner_client):
    data = filled(owner_client, "/parts/stems/add/", name="a", length="12", length_source="guessed")
    ((place, text),) = faults(owner_client.post("/parts/stems/add/", data))
    assert place == "id_length_source"
    assert "guessed" in text


def test_a_put_away_family_is_offered_only_to_its_own_cases(owner_client):
    case = CaseFactory(family__archived=True, family__name="Old Tern")
    assert "Old Tern" not in owner_client.get("/parts/cases/add/").text
    assert f'<option value="{case.family.pk}" selected>' in owner_client.get(f"/parts/cases/{case.pk}/edit/").text


def test_a_dial_is_added_with_its_rows(owner_client):
    typed = {
        "name": "white",
        "feet-0-angle": "55",
        "feet-0-radius": "11,80 ±0.05",
        "feet-1-radius_source": "e",
        "furniture-0-name": "markers",
        "furniture-0-inner_radius": "9",
        "furniture-0-outer_radius": "11.5",
        "furniture-0-height": "0.30",
    }
    owner_client.post("/parts/dials/add/", filled(owner_client, "/parts/dials/add/", **typed))
    dial = Dial.objects.get()
    assert dial.feet_recorded
    foot = dial.feet.get()
    assert (foot.angle, foot.radius, foot.radius_pm, foot.diameter) == (55.0, 11.8, 0.05, None)
    assert dial.furniture.get().name == "markers"


def test_a_dial_without_feet_is_told_from_one_nobody_looked_at(owner_client):
    owner_client.post("/parts/dials/add/", filled(owner_client, "/parts/dials/add/", name="a"))
    owner_client.post("/parts/dials/add/", filled(owner_client, "/parts/dials/add/", name="b", feet_recorded="on"))
    assert list(Dial.objects.values_list("name", "feet_recorded")) == [("a", False), ("b", True)]


def test_a_row_is_changed_and_another_removed(owner_client):
    dial = DialFactory()
    address = f"/parts/dials/{dial.pk}/edit/"
    changes = {"feet-0-angle": "56", "feet-1-DELETE": "on"}
    owner_client.post(address, filled(owner_client, address, **changes))
    assert [foot.angle for foot in dial.feet.all()] == [56.0]


def test_a_row_is_added_without_losing_or_judging_what_is_typed(owner_client):
    typed = {"diameter": "wide", "feet-0-angle": "55", "feet-1-angle": "far"}
    data = filled(owner_client, "/parts/dials/add/", **typed)
    page = owner_client.post("/parts/dials/add/", data | {"add_row": "feet"})
    assert page.status_code == 200
    assert 'name="feet-2-angle"' in page.text
    assert 'value="far"' in page.text
    assert 'value="wide"' in page.text
    assert 'name="feet-0-angle" value="55"' in page.text
    assert "field-wrong" not in page.text
    assert page.context["editor"].rows["feet"].formset.total_form_count() == 3
    assert page.context["editor"].rows["furniture"].formset.total_form_count() == 1
    assert not Dial.objects.exists()


def test_htmx_gets_the_rows_alone(owner_client):
    data = filled(owner_client, "/parts/dials/add/", **{"feet-0-angle": "55"}) | {"add_row": "feet"}
    page = owner_client.post("/parts/dials/add/", data, headers={"HX-Request": "true"})
    assert page.text.strip().startswith('<div class="rows" id="rows-feet">')
    assert "<html" not in page.text
    assert 'name="feet-2-angle"' in page.text
    assert 'name="feet-0-angle" value="55"' in page.text


@pytest.mark.parametrize("total", ["60", "x", "", "99999999"])
def test_no_count_of_rows_breaks_the_page(owner_client, total):
    data = filled(owner_client, "/parts/dials/add/", **{"name": "a", "feet-TOTAL_FORMS": total})
    assert owner_client.post("/parts/dials/add/", data | {"add_row": "feet"}).status_code == 200
    assert owner_client.post("/parts/dials/add/", data | {"add_row": "nonsense"}).status_code == 200


def test_a_contradiction_lands_on_the_row_that_holds_it(owner_client):
    typed = {"name": "a", "furniture-0-inner_radius": "9", "furniture-0-outer_radius": "8"}
    ((place, text),) = faults(
        owner_client.post("/parts/dials/add/", filled(owner_client, "/parts/dials/add/", **typed))
    )
    assert place == "id_furniture-0-outer_radius"
    assert "8.00 mm does not work: the two radii are the wrong way round" in text
    assert not Dial.objects.exists()


def test_a_window_outside_the_dial_is_refused(owner_client):
    dial = DialFactory(dated=True)
    address = f"/parts/dials/{dial.pk}/edit/"
    ((place, text),) = faults(owner_client.post(address, filled(owner_client, address, window_radius="12.5")))
    assert place == "id_window_radius"
    assert "reaches past the dial's edge" in text


def test_dimensions_of_a_window_that_is_not_there_are_refused(owner_client):
    dial = DialFactory(dated=True)
    address = f"/parts/dials/{dial.pk}/edit/"
    ((place, text),) = faults(owner_client.post(address, filled(owner_client, address, has_window=None)))
    assert place == "id_has_window"
    assert "Say that there is one, or clear its dimensions" in text


def test_a_movement_is_added_with_rates_and_holes(owner_client):
    typed = {
        "name": "thin",
        "kind": "quartz",
        "declared_size": "11 1/2'''",
        "rate_low_s_per_day": "-0,5",
        "rate_high_s_per_day": "0.5 s/day",
        "foot_holes-1-angle": "-35",
    }
    owner_client.post("/parts/movements/add/", filled(owner_client, "/parts/movements/add/", **typed))
    movement = Movement.objects.get()
    assert (movement.rate_low_s_per_day, movement.rate_high_s_per_day) == (-0.5, 0.5)
    assert movement.foot_holes_recorded
    assert movement.foot_holes.get().angle == -35.0
    assert movement.current_source == "s"


@pytest.mark.parametrize(
    ("low", "high", "place", "message"),
    [
        ("1", "0.5", "id_rate_high_s_per_day", "slower than the slowest rate"),
        ("-4000", "", "id_rate_low_s_per_day", "within 3600 s/day"),
        ("fast", "", "id_rate_low_s_per_day", "not a number"),
        ("1 ±1", "", "id_rate_low_s_per_day", "Type the number alone"),
    ],
)
def test_rates_that_cannot_be_are_refused(owner_client, low, high, place, message):
    typed = {"name": "a", "rate_low_s_per_day": low, "rate_high_s_per_day": high}
    found = faults(owner_client.post("/parts/movements/add/", filled(owner_client, "/parts/movements/add/", **typed)))
    assert [place_id for place_id, _ in found] == [place]
    assert message in found[0][1]


def test_a_hand_set_is_added_with_two_hands_or_three(owner_client):
    two = {"name": "two", "has_seconds": None, "hour-length": "8", "minute-length": "12"}
    three = {"name": "three", "seconds-length": "12,5"}
    for typed in (two, three):
        owner_client.post("/parts/hand-sets/add/", filled(owner_client, "/parts/hand-sets/add/", **typed))
    found = {str(one): {hand.role: hand.length for hand in one.hands.all()} for one in HandSet.objects.all()}
    assert found == {
        "two": {"hour": 8.0, "minute": 12.0},
        "three": {"hour": None, "minute": None, "seconds": 12.5},
    }


def test_a_seconds_hand_goes_only_when_its_dimensions_are_emptied(owner_client):
    hands = HandSetFactory()
    address = f"/parts/hand-sets/{hands.pk}/edit/"
    ((place, text),) = faults(owner_client.post(address, filled(owner_client, address, has_seconds=None)))
    assert place == "id_has_seconds"
    assert "Tick that there is one, or clear its dimensions" in text
    emptied = {f"seconds-{name}": "" for name in hands.hands.first().dimensions}
    assert owner_client.post(address, filled(owner_client, address, has_seconds=None, **emptied)).status_code == 302
    assert [hand.role for hand in hands.hands.all()] == ["hour", "minute"]


def test_a_hub_lower_than_its_blade_is_refused_on_its_hand(owner_client):
    typed = {"name": "a", "minute-hub_height": "0.1", "minute-thickness": "0.2"}
    page = owner_client.post("/parts/hand-sets/add/", filled(owner_client, "/parts/hand-sets/add/", **typed))
    assert [place_id for place_id, _ in faults(page)] == ["id_minute-hub_height"]
    assert "Minute hand: Hub height" in page.text


def test_a_copy_has_the_rows_and_opens_for_changes(owner_client):
    dial = DialFactory(name="white", in_stock=3, archived=True, notes="thin")
    page = owner_client.post(f"/parts/dials/{dial.pk}/copy/", follow=True)
    copy = Dial.objects.get(name="white, copy")
    assert page.redirect_chain == [(f"/parts/dials/{copy.pk}/edit/", 302)]
    assert "This is a copy of white." in page.text
    assert [foot.angle for foot in copy.feet.all()] == [55.0, 235.0]
    assert copy.furniture.get().name == "markers"
    assert (copy.notes, copy.in_stock, copy.archived) == ("thin", None, False)
    dial.refresh_from_db()
    assert (dial.name, dial.feet.count()) == ("white", 2)


@pytest.mark.parametrize(
    ("factory", "slug", "rows"), [(MovementFactory, "movements", 2), (HandSetFactory, "hand-sets", 3)]
)
def test_copies_of_other_kinds_have_their_rows_too(owner_client, factory, slug, rows):
    record = factory(name="n" * 80)
    owner_client.post(f"/parts/{slug}/{record.pk}/copy/")
    copy = type(record).objects.exclude(pk=record.pk).get()
    relation = "hands" if slug == "hand-sets" else "foot_holes"
    assert getattr(copy, relation).count() == rows
    assert copy.name == "n" * 74 + ", copy"


def test_an_edit_takes_a_fixed_number_of_queries(owner_client, django_assert_num_queries):
    dial = DialFactory()
    with django_assert_num_queries(10):
        owner_client.get(f"/parts/dials/{dial.pk}/edit/")


def test_opening_a_form_saves_nothing(owner_client):
    owner_client.get("/parts/stems/add/")
    owner_client.get(f"/parts/stems/{StemFactory().pk}/edit/")
    assert Stem.objects.count() == 1


def test_a_window_older_than_the_last_change_is_told_before_it_overwrites(owner_client):
    stem = StemFactory(name="long", length=20.0)
    address = f"/parts/stems/{stem.pk}/edit/"
    stamp = owner_client.get(address).context["stamp"]
    assert owner_client.post(address, filled(owner_client, address, length="19.5", stamp=stamp)).status_code == 302
    late = filled(owner_client, address, length="18,2", notes="second window", stamp=stamp)
    refused = owner_client.post(address, late)
    assert refused.status_code == 422
    [(_, message), *told] = faults(refused)
    assert message.startswith("Someone changed this after you opened it.")
    assert [text for _, text in told] == ["Saved now: 19.50 ±0.04", "Saved now: nothing"]
    assert 'value="18,2"' in refused.text
    assert Stem.objects.get().length == 19.5
    assert owner_client.post(address, late | {"stamp": refused.context["stamp"]}).status_code == 302
    assert Stem.objects.get().length == 18.2


def looked(owner_client, slug, **typed):
    """What is told at the fields of a form that is not saved yet, by the fields' ids."""
    data = filled(owner_client, f"/parts/{slug}/add/", **typed)
    answer = owner_client.post(f"/parts/{slug}/look/", data, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    entries = answer.context["editor"].measured
    told = {
        entry.field.auto_id: [*(text for each in entry.wrong for text in each.errors), *entry.doubts, entry.note]
        for entry in entries
    }
    for place in told:
        assert f'hx-swap-oob="innerHTML:#{place}_told"' in answer.text
    return {place: [text for text in texts if text] for place, texts in told.items()}


def test_while_typing_each_number_tells_what_becomes_of_it(owner_client):
    told = looked(owner_client, "cases", bore_diameter="27.40 27.42 27.41", dial_seat_diameter="28.50")
    assert told["id_bore_diameter"] == ["27.41 ±0.058 mm, calliper, 3 readings"]
    assert told["id_dial_seat_diameter"] == ["28.50 ±0.05 mm, calliper"]
    assert told["id_back_depth"] == ["calliper ±0.08 mm"]
    assert told["id_stem_angle"] == ["by eye ±2°"]
    assert not Case.objects.exists()


def test_a_contradiction_shows_while_typing_before_there_is_a_name(owner_client):
    told = looked(owner_client, "cases", dial_seat_diameter="27.00", dial_opening_diameter="28.00")
    assert "the dial would fall through the opening" in told["id_dial_seat_diameter"][0]
    rows = {"furniture-0-inner_radius": "9", "furniture-0-outer_radius": "8"}
    assert "wrong way round" in looked(owner_client, "dials", **rows)["id_furniture-0-outer_radius"][0]


def test_what_is_unlikely_is_doubted_and_saved(owner_client):
    told = looked(owner_client, "cases", bore_diameter="9.00", back_depth="12")
    assert told["id_bore_diameter"][0] == "Look at the bore again: 9.00 mm is small for a watch."
    assert told["id_back_depth"][0] == "Look again: 2.50 to 9.00 mm is usual."
    typed = {"name": "a", "bore_diameter": "9.00", "back_depth": "12"}
    owner_client.post("/parts/cases/add/", filled(owner_client, "/parts/cases/add/", **typed))
    edit = owner_client.get(f"/parts/cases/{Case.objects.get().pk}/edit/")
    assert edit.text.count('class="doubt"') == 2


def test_a_doubt_among_hands_stands_at_the_hand(owner_client):
    told = looked(owner_client, "hand-sets", **{"hour-length": "10.9", "minute-length": "9"})
    assert "is longer than the minute hand" in told["id_hour-length"][0]


def test_a_number_that_is_none_is_told_while_typing(owner_client):
    assert "is not a number" in looked(owner_client, "cases", bore_diameter="wide")["id_bore_diameter"][0]


def test_what_has_no_instrument_says_so(owner_client):
    told = looked(owner_client, "movements", current="1.2")
    assert told["id_current"] == ["1.2 µA, ± not given"]
    assert looked(owner_client, "movements", current="1.2 ±0.1")["id_current"] == ["1.2 ±0.1 µA, ± as typed"]
    assert looked(owner_client, "movements", post_hour_made_for="1.20")["id_post_hour_made_for"] == []


def test_seldom_needed_numbers_are_folded_until_they_hold_something(owner_client):
    def folded(address):
        groups = owner_client.get(address).context["editor"].groups
        return {entry.field.name for shown in groups for entry in shown.seldom}

    assert {"stem_thread_pitch", "post_hour_end_play", "current", "cell_type"} <= folded("/parts/movements/add/")
    movement = MovementFactory(current=1.2, post_hour_end_play=0.05)
    assert not {"current", "post_hour_end_play"} & folded(f"/parts/movements/{movement.pk}/edit/")


def test_what_a_part_costs_is_the_owners_to_see_and_to_set(owner_client, hand):
    typed = {"name": "a", "cost": "12,50", "supplier": "Tern Supplies", "supplier_number": "T-4"}
    owner_client.post("/parts/stems/add/", filled(owner_client, "/parts/stems/add/", **typed))
    stem = Stem.objects.get()
    assert (str(stem.cost), stem.supplier, stem.supplier_number) == ("12.50", "Tern Supplies", "T-4")
    page = f"/parts/stems/{stem.pk}/"
    assert "12.50" in owner_client.get(page).text
    assert "Tern Supplies" in hand.get(page).text
    assert "12.50" not in hand.get(page).text
    assert "cost" not in hand.get(f"{page}edit/").context["editor"].form.fields
    assert hand.post(f"{page}edit/", filled(hand, f"{page}edit/", length="12", cost="1")).status_code == 302
    assert str(Stem.objects.get().cost) == "12.50"
    for client, has_cost in ((owner_client, True), (hand, False)):
        assert ("cost" in client.get("/parts/stems/export/").text) is has_cost
