"""What would go in?: the library ranked for what is given, and cases against movements."""

import re

import pytest

from parts.goes_in.question import Question
from parts.models import Movement
from tests.factories import CaseFactory, DialFactory, HandSetFactory, MovementFactory, PairingFactory
from tests.reading import as_read

HERE = "/parts/goes-in/"


@pytest.fixture
def whole(db):
    """A pairing, and a movement too wide for its case."""
    MovementFactory(name="wide one", overall_diameter=40.0)
    return PairingFactory()


def address(pairing, kind="", **more):
    given = {name: getattr(pairing, f"{name}_id") for name in ("case", "dial", "hands")} | more
    return HERE + kind + "?" + "&".join(f"{name}={value}" for name, value in given.items())


def names(response):
    return [str(line.record) for line in response.context["lines"]]


def test_ranks_the_movements_for_a_case_and_dial(owner_client, whole):
    response = owner_client.get(address(whole))
    assert names(response) == [whole.movement.name, "wide one"]
    assert response.context["ranking"].counts == [("fits", 1), ("work", 0), ("unclear", 0), ("no", 1)]
    assert "The movement, 40.00 mm across, is 13.80 mm too wide for the 26.20 mm bore." in response.text
    assert f"/parts/pairings/new/?case={whole.case_id}&amp;dial={whole.dial_id}" in response.text


def test_what_waits_for_a_part_is_told_and_the_verdict_goes_so_far(owner_client, whole):
    case_alone = owner_client.get(f"{HERE}?case={whole.case_id}").text
    assert re.search(r"So far: what hangs on dial, .* is judged once chosen", case_alone)
    assert "<strong>so far</strong>" in case_alone


def test_on_a_telephone_the_answer_is_a_press_away(owner_client, whole):
    way = '<a class="button" href="#ranking">'
    assert way in owner_client.get(address(whole)).text
    assert way not in owner_client.get("/parts/goes-in/movements/").text


def test_asks_first_what_is_given(owner_client, whole):
    response = owner_client.get(HERE)
    assert "Choose a case and its dial" in as_read(response.text)
    assert "lines" not in response.context


@pytest.mark.parametrize("kind", ["hand-sets", "stems", "crowns"])
def test_ranks_the_other_parts(owner_client, whole, kind):
    response = owner_client.get(f"{HERE}{kind}/?case={whole.case_id}&movement={whole.movement_id}")
    assert len(names(response)) == 1
    assert f"against {whole.case}, {whole.movement}" in response.text


def test_a_part_that_nobody_looks_for_here_is_not_found(owner_client, whole):
    assert owner_client.get(f"{HERE}dials/").status_code == 404


def test_an_answer_to_htmx_is_the_ranking_alone(owner_client, whole):
    response = owner_client.get(address(whole), headers={"HX-Request": "true"})
    assert "<html" not in response.text
    assert names(response) == [whole.movement.name, "wide one"]


def test_a_missing_dimension_is_told_with_the_values_that_would_do(owner_client, whole):
    whole.case.stem_axis_depth = None
    whole.case.save()
    assert "Would fit if the case stem axis depth is between" in owner_client.get(address(whole)).text


def test_typed_numbers_count_in_place_of_the_stored(owner_client, whole):
    response = owner_client.get(address(whole, **{"what-if:case.bore_diameter": "27.9"}))
    assert {line.report.verdict for line in response.context["lines"]} <= {"work", "fits", "no"}
    assert "what-if%3Acase.bore_diameter=27.9" in response.text
    wide = next(line for line in response.context["lines"] if line.record.name == "wide one")
    assert wide.report["case-bore"].value.value == pytest.approx(27.9 - 40.0)


def test_a_typed_number_that_contradicts_the_case_is_refused(owner_client, whole):
    response = owner_client.get(address(whole, **{"what-if:case.bore_diameter": "41"}))
    assert "the crown would sit inside the bore" in response.text


def test_a_typed_number_that_cannot_be_is_left_out_and_said(owner_client, whole):
    response = owner_client.get(address(whole, **{"what-if:case.bore_diameter": "wide"}))
    assert "Ignored:" in response.text
    assert 'value="wide"' in response.text
    assert len(names(response)) == 2


@pytest.mark.parametrize(
    ("sieve", "left"),
    [
        ({"words": "wide"}, ["wide one"]),
        ({"words": "no such"}, []),
        ({"date": "no"}, ["movement", "wide one"]),
        ({"date": "yes"}, []),
        ({"in_stock": "on"}, []),
        ({"height": "1,5"}, []),
        ({"height": "9"}, ["movement", "wide one"]),
        ({"cell_life": "1"}, ["movement", "wide one"]),
        ({"cell_life": "600"}, []),
        ({"goes_on": "yes"}, ["movement", "wide one"]),
    ],
)
def test_filters(owner_client, whole, sieve, left):
    Movement.objects.exclude(name="wide one").update(name="movement")
    response = owner_client.get(address(whole, **sieve))
    assert (names(response) if left else response.context["page"].paginator.count) == (left or 0)
    assert ("passes these filters" in response.text) is not bool(left)


@pytest.mark.parametrize(
    ("sieve", "words"),
    [
        ({"cell_life": "a year"}, "“a year” is not a number"),
        ({"cell_life": "-1"}, "it must be between 0 and 600 months"),
        ({"height": "nan"}, "is not a number"),
        ({"date": "maybe"}, "“maybe” is not on the list. Choose from the list."),
        ({"dial": "999999"}, "That part is no longer in the library"),
        ({"dial": "abc"}, "That part is no longer in the library"),
    ],
)
def test_a_filter_that_cannot_be_is_said_beside_it(owner_client, whole, sieve, words):
    response = owner_client.get(address(whole, **sieve))
    assert (response.status_code, words in response.text) == (200, True)
    assert "lines" not in response.context


def test_numbers_that_cannot_be_a_watch_are_said(owner_client, whole):
    dial = DialFactory(dated=True)
    response = owner_client.get(f"{HERE}?case={whole.case_id}&dial={dial.pk}&what-if:dial.window.radius=30")
    assert "These numbers contradict each other" in response.text


def test_a_part_with_numbers_that_contradict_is_said_and_leads_to_its_correction(owner_client, whole):
    HandSetFactory(name="odd")
    odd = whole.hands.__class__.objects.get(name="odd")
    odd.hands.filter(role="hour").update(hub_height=0.05, thickness=0.2)
    response = owner_client.get(f"{HERE}hand-sets/?case={whole.case_id}&movement={whole.movement_id}")
    assert "Its own numbers contradict each other: the hub is thinner than the blade" in response.text
    assert f"/parts/hand-sets/{odd.pk}/edit/" in response.text


def test_pages_of_twenty(owner_client, whole):
    MovementFactory.create_batch(25)
    first, second = owner_client.get(address(whole)), owner_client.get(address(whole, page=2))
    assert (len(names(first)), len(names(second))) == (20, 7)
    assert not set(names(first)) & set(names(second))
    assert "page=2" in first.text


def test_begins_with_a_kept_pairing_or_a_case_family(owner_client, whole):
    whole.what_if = {"case.bore_diameter": "27"}
    whole.save()
    response = owner_client.get(f"{HERE}hand-sets/?pairing={whole.pk}")
    assert response.url.startswith(f"{HERE}hand-sets/?case={whole.case_id}&dial={whole.dial_id}&movement=")
    assert "what-if%3Acase.bore_diameter=27" in response.url
    assert owner_client.get(f"{HERE}movements/?family={whole.case.family_id}").url == (
        f"{HERE}movements/?case={whole.case_id}&dial={whole.dial_id}"
    )
    assert owner_client.get(f"{HERE}movements/?pairing=x").status_code == 404
    assert owner_client.get(f"{HERE}movements/?family=99999").status_code == 302


def test_pictures_of_one_line(owner_client, whole):
    where = f"{HERE}movements/{whole.movement_id}/pictures/?case={whole.case_id}&dial={whole.dial_id}"
    alone = owner_client.get(where)
    assert "Section through the watch along the stem" in alone.text
    assert "<html" not in owner_client.get(where, headers={"HX-Request": "true"}).text


def test_the_table_of_cases_by_movements(owner_client, whole):
    CaseFactory(name="narrow", bore_diameter=20.0)
    response = owner_client.get(f"{HERE}cases/")
    rows = {str(row.case): (row.takes, [verdict for _, verdict in row.cells]) for row in response.context["rows"]}
    narrow = next(value for name, value in rows.items() if name.endswith("narrow"))
    assert narrow == (0, ["no", "no"])
    assert rows[str(whole.case)] == (1, ["fits", "no"])
    assert [(str(movement), count) for movement, count in response.context["columns"]] == [
        (whole.movement.name, 1),
        ("wide one", 0),
    ]


def test_the_table_is_sieved_and_ordered(owner_client, whole):
    CaseFactory(name="a narrow one", family=None, bore_diameter=20.0)
    by_words = owner_client.get(f"{HERE}cases/?case_words=narrow&movement_words=wide")
    assert ([str(row.case) for row in by_words.context["rows"]], by_words.context["movements"]) == (["a narrow one"], 1)
    most = owner_client.get(f"{HERE}cases/?order=most&hands={whole.hands_id}")
    assert [row.takes for row in most.context["rows"]] == [1, 0]
    assert "No case found" in as_read(owner_client.get(f"{HERE}cases/?case_words=zzz").text)
    assert "No movement found" in owner_client.get(f"{HERE}cases/?movement_words=zzz").text


def test_the_number_of_queries_does_not_grow(owner_client, whole, django_assert_max_num_queries):
    owner_client.get(address(whole))
    MovementFactory.create_batch(15)
    with django_assert_max_num_queries(27):
        owner_client.get(address(whole))
    CaseFactory.create_batch(15)
    with django_assert_max_num_queries(27):
        owner_client.get(f"{HERE}cases/")


@pytest.mark.django_db
def test_asking_leaves_the_pairing_as_it_is():
    pairing = PairingFactory()
    movement = pairing.movement
    question = Question.of("movement", pairing, {})
    assert "case" in question.parts
    assert (pairing.movement, pairing.movement_id) == (movement, movement.pk)
