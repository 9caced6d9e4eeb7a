"""The slot where other numbers are tried: where it opens, what it lists and changes, how little is sent again."""

import re

import pytest
from django.urls import reverse

from parts.demo import fill_workshop
from parts.models import Case, Pairing
from parts.models.pairing import OTHER_HANDS, PARTS, TRIED
from tests.factories import PairingFactory
from tests.reading import as_read

pytestmark = pytest.mark.django_db
HTMX = {"hx-request": "true"}
TRY = {"try": "case.back_depth", "in": "section"}
TRIED_NOW = {
    "case.crystal_gap_edge": "2.10",
    "case.stem_axis_depth": "2.55",
    "dial.thickness": "0.47",
    "movement.posts.hour.height": "1.70",
    "hands.minute.hub_height": "0.52",
}


def page_of(pairing):
    return reverse("parts:pairing", args=[pairing.pk])


def posted(pairing, **changes):
    chosen = {name: getattr(pairing, f"{name}_id") or "" for name in (*PARTS, *OTHER_HANDS)}
    tried = {name: getattr(pairing, name) for name in TRIED}
    return chosen | tried | {"placement": pairing.placement, "name": pairing.name, "notes": ""} | changes


def slot_of(text):
    return text.partition('<section id="what-if"')[2].partition("</section>")[0]


def fields_of(text):
    return re.findall(r'<input\s+id="what-if:([^"]+)"', slot_of(text))


def test_every_number_of_a_drawing_and_of_a_check_can_be_pressed(owner_client):
    response = owner_client.get(page_of(PairingFactory(case__stem_axis_depth=2.5, case__back_depth=5.0)))
    numbered = [check for check in response.context["report"].checks if check.key != "date-present"]
    pressed = re.findall(r'href="\?try=([\w-]+)&amp;in=check#what-if"', response.text)
    assert {*pressed} == {check.key for check in numbered}
    drawn = re.findall(r'<g class="callout[^"]*">.*?</g>(?=<g|</svg>|<text)', response.text)
    assert len(drawn) >= 10
    assert all('<a href="?try=' in label for label in drawn)


@pytest.mark.parametrize(
    ("place", "before", "after"),
    [
        ("section", 'id="section"', 'class="fit-aside"'),
        ("drawings", 'class="fit-figures"', 'id="checks"'),
        ("check", 'id="check-gap-crystal"', 'id="bench"'),
    ],
)
def test_without_a_script_the_slot_stands_beside_what_was_pressed(owner_client, place, before, after):
    text = owner_client.get(page_of(PairingFactory()), {"try": "gap-crystal", "in": place}).text
    assert text.count('id="what-if"') == 1
    assert text.index(before) < text.index('id="what-if"') < text.index(after)
    assert {"case.crystal_gap_centre", "movement.posts.seconds.height"} <= {*fields_of(text)}


def test_it_lists_what_moves_the_check_the_largest_share_first(owner_client):
    pairing = PairingFactory()
    response = owner_client.get(page_of(pairing), {"try": "case-bore", "in": "check"})
    shares = response.context["report"]["case-bore"].value.shares
    listed = fields_of(response.text)
    assert {*listed} == {*shares}
    assert [shares[path] for path in listed] == sorted(shares.values(), reverse=True)
    assert "\xa0% of the ±" in slot_of(response.text)


def test_what_is_not_measured_can_be_tried_too(owner_client):
    pairing = PairingFactory(case__back_depth=None)
    assert fields_of(owner_client.get(page_of(pairing), {"try": "back-gap", "in": "check"}).text) == ["case.back_depth"]


def test_a_number_of_the_list_and_a_bench_rule_open_their_own_field(owner_client):
    pairing = PairingFactory()
    for path in ("case.bore_diameter", "rules.gap_min"):
        text = owner_client.get(page_of(pairing), {"try": path, "in": "numbers"}).text
        assert fields_of(text) == [path]
        assert text.index(f"?try={path}&amp;in=numbers") < text.index('id="what-if"')


@pytest.mark.parametrize("key", ["", "nothing-like-it", "case.nothing", "rules.nothing", "case", "<b>", "x" * 500])
def test_what_is_no_number_opens_nothing(owner_client, key):
    response = owner_client.get(page_of(PairingFactory()), {"try": key, "in": "check"})
    assert response.status_code == 200
    assert fields_of(response.text) == []


def test_it_says_what_the_number_changes_and_stores_nothing(owner_client):
    pairing = PairingFactory()
    data = posted(pairing, **{"what-if:case.back_depth": "3.70", "try": "back-gap", "in": "check"})
    text = as_read(owner_client.post(page_of(pairing), data, headers=HTMX).text)
    then = text.partition('id="what-if-then"')[2].partition("</div>")[0]
    assert re.search(r"Back clearance.*0.30 mm →.*−0.20 mm.*Does not fit", re.sub(r"<[^>]+>", "", then))
    assert Case.objects.get().back_depth == 4.20
    assert Pairing.objects.get().what_if == {}


def test_a_number_tried_before_goes_along_while_the_slot_shows_others(owner_client):
    pairing = PairingFactory()
    data = {"what-if:case.back_depth": "3.70", "try": "gap-crystal", "in": "check"}
    text = owner_client.post(reverse("parts:numbers", args=[pairing.pk]), posted(pairing, **data), headers=HTMX).text
    assert '<input type="hidden" name="what-if:case.back_depth" value="3.70">' in text
    assert 'id="what-if:case.back_depth"' not in text


def test_put_back_and_close_work_without_a_script(owner_client):
    pairing = PairingFactory()
    typed = {"what-if:case.back_depth": "3.70", "what-if:dial.thickness": "0.45", "try": "back-gap", "in": "check"}
    back = owner_client.post(page_of(pairing), posted(pairing, **typed, **{"put-back": "case.back_depth"}))
    assert back.context["changed_numbers"] == ["dial thickness 0.45"]
    closed = owner_client.post(page_of(pairing), posted(pairing, do="close", **typed))
    assert len(closed.context["changed_numbers"]) == 2
    assert fields_of(closed.text) == []
    assert closed.text.count('type="hidden" name="what-if:') == 2


def test_who_may_not_change_may_still_try(reader):
    pairing = PairingFactory()
    text = reader.get(page_of(pairing), {"try": "back-gap", "in": "check"}).text
    assert "case.back_depth" in fields_of(text)
    address = re.search(r'class="fit-page" method="post" action="([^"]+)"', reader.get(page_of(pairing)).text)[1]
    data = posted(pairing, do="save", name="Mine", **{"what-if:case.back_depth": "3.70"})
    assert "Does not fit" in reader.post(address, data, headers=HTMX).text
    assert reader.post(page_of(pairing), data).status_code == 403
    assert Pairing.objects.get().name == pairing.name
    assert Pairing.objects.get().what_if == {}


def test_a_check_that_is_gone_leaves_the_slot_beside_the_section(owner_client):
    pairing = PairingFactory()
    data = posted(pairing, **{"what-if:case.back_depth": "3.70", "try": "gone", "in": "check"})
    response = owner_client.post(page_of(pairing), data)
    assert response.context["changed_numbers"] == ["case back depth 3.70"]
    assert "what-if:case.back_depth" in response.text


def test_every_fit_check_of_the_demo_is_a_light_page_and_a_changed_number_a_lighter_answer(owner_client):
    """A page under 90 kB, and an answer under 40 kB for a page that says what it shows already."""
    fill_workshop()
    changed = 0
    for pairing in Pairing.objects.all():
        page = owner_client.get(page_of(pairing)).text
        assert len(page.encode()) < 90_000, pairing
        has = re.findall(r'data-is="(\w+)"', page)
        for path, text in TRIED_NOW.items():
            swap = owner_client.post(
                page_of(pairing), posted(pairing, has=has, **{f"what-if:{path}": text}), headers=HTMX
            )
            changed += "innerHTML:#verdict" in swap.text
            assert len(swap.content) < 40_000, (pairing, path)
    assert changed >= 50


def test_what_the_page_shows_already_is_not_sent_again_and_what_changed_is(owner_client):
    pairing = PairingFactory()
    has = re.findall(r'data-is="(\w+)"', owner_client.get(page_of(pairing)).text)
    same = owner_client.post(page_of(pairing), posted(pairing, has=has), headers=HTMX).text
    assert "<svg xmlns" not in same
    assert '<figure id="figure-dial" hx-preserve="true"></figure>' in same
    assert '<div id="check-back-gap" hx-preserve="true"></div>' in same
    data = posted(pairing, has=has, **{"what-if:case.back_depth": "4.00"})
    other = owner_client.post(page_of(pairing), data, headers=HTMX).text
    assert 'class="drawing drawing-section"' in other
    assert 'class="drawing drawing-dial"' not in other
    assert "0.10 mm" in other.partition('id="check-back-gap"')[2][:600]


def stored(client, pairing, path, text, **more):
    data = posted(pairing, **{f"what-if:{path}": text, "store-tried": path, "try": path, "in": "section"}) | more
    return client.post(reverse("parts:measured", args=[pairing.pk]), data, headers=HTMX)


def test_a_number_tried_is_saved_as_measured_with_what_is_in_hand(owner_client):
    pairing = PairingFactory()
    offered = owner_client.post(
        page_of(pairing), posted(pairing, **{"what-if:case.back_depth": "4.21"} | TRY), headers=HTMX
    )
    assert 'name="store-tried" value="case.back_depth"' in offered.text
    assert "calliper ±0.08" in offered.text
    answer = stored(owner_client, pairing, "case.back_depth", "4.21")
    pairing.case.refresh_from_db()
    assert (pairing.case.back_depth, pairing.case.back_depth_pm, pairing.case.back_depth_source) == (
        4.21,
        0.08,
        "m",
    )
    assert "Saved with its part." in answer.text
    assert 'name="store-tried"' not in answer.text
    assert answer.context["pairing"].what_if == {}
    assert "4.21" in slot_of(owner_client.get(page_of(pairing), TRY).text)


@pytest.mark.parametrize(
    ("path", "text"), [("rules.gap_min", "0.4"), ("dial.feet[0].radius", "9"), ("case.back_depth", "deep")]
)
def test_what_no_part_can_take_is_not_offered_to_be_saved(owner_client, path, text):
    pairing = PairingFactory()
    tried = {f"what-if:{path}": text, "try": path, "in": "section"}
    assert 'name="store-tried"' not in owner_client.post(page_of(pairing), posted(pairing, **tried), headers=HTMX).text


def test_what_cannot_be_saved_is_said_in_the_slot_and_stays_tried(owner_client):
    pairing = PairingFactory()
    answer = stored(owner_client, pairing, "case.back_depth", "4.21", case=PairingFactory().case_id)
    assert "The page shows another part here than the saved fit check has." in as_read(answer.text)
    assert answer.context["pairing"].what_if == {"case.back_depth": "4.21"}
    pairing.case.refresh_from_db()
    assert pairing.case.back_depth != 4.21


def test_who_may_only_look_saves_nothing(reader):
    pairing = PairingFactory()
    tried = posted(pairing, **{"what-if:case.back_depth": "4.21"} | TRY)
    answer = reader.post(reverse("parts:pairing-tried", args=[pairing.pk]), tried, headers=HTMX)
    assert 'name="store-tried"' not in answer.text
    assert stored(reader, pairing, "case.back_depth", "4.21").status_code == 403


def test_all_numbers_tried_are_put_back_from_the_verdict(owner_client):
    pairing = PairingFactory(what_if={"dial.thickness": "0.5", "stem.length": "7.1"})
    text = owner_client.get(page_of(pairing)).text
    paths = max(re.findall(r'name="put-back" value="([^"]*)"', text), key=len)
    assert set(paths.split()) == {"dial.thickness", "stem.length"}
    answer = owner_client.post(
        page_of(pairing), posted(pairing, **{"what-if:dial.thickness": "0.5", "put-back": paths})
    )
    assert answer.context["pairing"].what_if == {}
