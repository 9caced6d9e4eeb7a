"""Words: folded, known or taken for the nearest, whatever is typed."""

import pytest

from jobs.models import PastWord
from jobs.past.search.snippets import places_of
from jobs.past.search.words import Term, fold, learn_words, terms_of, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def known():
    learn_words(["bramblegate holder crystal rubbed sanded spacer stem steel 2150"])


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("Zoë ÄHREN", "zoe ahren"),
        ("Łucja Bjørn", "lucja bjorn"),
        ("Straße", "strasse"),
        ("ﬁling", "filing"),
        ("İzmir", "izmir"),
    ],
)
def test_case_and_accents_are_folded_away(text, folded):
    assert fold(text) == folded


def test_only_letters_and_digits_are_left():
    assert words_of('26-014: 0.35 mm "front" (NEAR/2) *a_b* \0x') == (
        ["26", "014", "0", "35", "mm", "front", "near", "2", "a", "b", "x"]
    )


def test_a_known_beginning_of_a_word_is_taken_as_it_is(known):
    assert terms_of("Holder cryst") == [Term("holder", starts="holder"), Term("cryst", starts="cryst")]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("brambelgate", ("bramblegate",)),  # two letters swapped
        ("holdr", ("holder",)),  # one left out
        ("crrystal", ("crystal",)),  # one too many
        ("spacar", ("spacer",)),  # one wrong
        ("bramblgaet", ("bramblegate",)),  # two slips in a long word
        ("stee1", ("steel",)),
    ],
)
def test_a_mistyped_word_is_taken_for_the_nearest(known, typed, meant):
    assert terms_of(typed) == [Term(typed, near=meant)]


@pytest.mark.parametrize("typed", ["zzzzzzz", "sten2150", "2151", "xyz"])
def test_a_word_far_from_all_stays_as_it_is(known, typed):
    assert terms_of(typed) == [Term(typed, starts=typed)]


def test_of_equally_near_words_all_are_meant():
    learn_words(["stems steam"])
    assert terms_of("stem") == [Term("stem", starts="stem")]
    assert terms_of("steem") == [Term("steem", near=("steam",))]
    learn_words(["steep"])
    assert terms_of("steem") == [Term("steem", near=("steam", "steep"))]


@pytest.mark.parametrize("text", ["", "   ", "\0", '"', "***", "()", "-", "NEAR(", "a" * 100_000, "х" * 70])
def test_nothing_typed_breaks_it(known, text):
    assert len(terms_of(text)) == (1 if text[:1].isalpha() else 1 if text == "NEAR(" else 0)


def test_eight_words_count():
    assert len(terms_of("one two three four five six seven eight nine ten")) == 8


def test_numbers_alone_are_no_words_to_be_held_against(known):
    assert not PastWord.objects.filter(word="2150").exists()


def test_the_words_found_are_marked_and_everything_else_is_escaped():
    told = [["job", "remarks", "<b>Zoë’s</b> holder & ring"], ["job", "wish", "no match"]]
    (place,) = places_of(told, [Term("zoe", starts="zoe"), Term("hodler", near=("holder",))])
    assert place.where == "remarks"
    assert place.text == "&lt;b&gt;<mark>Zoë</mark>’s&lt;/b&gt; <mark>holder</mark> &amp; ring"


def test_a_long_text_is_cut_about_the_first_word_found():
    text = "word " * 100 + "burr on the rim " + "word " * 100
    (place,) = places_of([["job", "holder", text]], [Term("burr", starts="burr")])
    assert place.text.startswith("…word")
    assert place.text.endswith("…")
    assert "<mark>burr</mark> on the rim" in place.text
    assert len(place.text) < 230


def test_the_places_that_hold_more_of_the_words_come_first():
    told = [["job", "wish", "a ring"], ["job", "remarks", "the ring and the burr"], ["job", "stem", "a burr"]]
    told.append(["job", "dial", "ring"])
    terms = [Term("ring", starts="ring"), Term("burr", starts="burr")]
    assert [place.where for place in places_of(told, terms)] == ["remarks", "wish", "stem"]


def test_a_text_of_one_word_is_quoted_whole():
    (place,) = places_of([["job", "wish", "quartz"]], [Term("quartz", starts="quartz")])
    assert place.text == "<mark>quartz</mark>"
