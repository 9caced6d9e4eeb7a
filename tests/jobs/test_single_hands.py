"""Hands chosen one by one: a new hour and minute hand with the watch's own seconds hand, through a whole job."""

import pytest

from jobs import stock
from jobs.models import Shop
from jobs.options import choosing
from jobs.options.keeping import replaced
from jobs.papers.handover import handover
from jobs.papers.job_sheet import _parts
from jobs.quotes.lines import _new_parts
from jobs.stages import measuring
from jobs.timing.timing_runs import AT_MINUTE, AT_SECONDS, tapped_when
from parts.models import Hand, Pairing
from parts.pairings.answer import answer
from parts.pairings.look import looks_of
from parts.pairings.page import drawings, hand_heights
from parts.pairings.placing import field_of
from parts.sheets import sheet_of, sources_of
from tests.factories import DialFactory, HandFactory, HandSetFactory, JobFactory, MovementFactory, PairingFactory
from tests.fit.constructions.sheets import SMALL

pytestmark = pytest.mark.django_db


@pytest.fixture
def own_seconds():
    """The watch's own seconds hand, in a set of its own."""
    hands = HandSetFactory(name="Own seconds hand", hands=False, seconds=False, made_for="26-001")
    HandFactory(hand_set=hands, role="seconds", hole_diameter=0.20, length=11.00, thickness=0.10, hub_height=0.40)
    return hands


@pytest.fixture
def pairing(own_seconds):
    return PairingFactory(hands__name="Leaf", seconds_hand_from=own_seconds)


def test_each_hand_comes_from_its_own_set(pairing):
    hands = sheet_of(pairing)["hands"]
    assert (hands["hour"]["length"], hands["minute"]["length"], hands["seconds"]["length"]) == (8.0, 11.5, 11.0)
    assert pairing.hands_in_words == "Leaf, seconds hand from Own seconds hand, 26-001"
    assert answer(pairing).report["post-seconds"].value.value == pytest.approx(0.0)
    assert sources_of(pairing)["hands.seconds.length"] == "measured"


def test_the_watchs_own_hand_is_neither_lost_nor_bought_also_outside_a_job(pairing, own_seconds):
    job = JobFactory(keep="seconds hand")
    own_seconds.made_for = ""
    own_seconds.save()
    assert [str(loss) for loss in replaced(job, pairing)] == ["the seconds hand (by Own seconds hand)"]
    own_seconds.is_watchs_own = True
    own_seconds.save()
    assert replaced(job, Pairing.objects.with_parts().get(pk=pairing.pk)) == []


def test_a_hand_of_which_no_set_is_chosen_waits(own_seconds):
    report = answer(PairingFactory(hands=None, seconds_hand_from=own_seconds)).report
    assert report.waiting == ["hands.hour", "hands.minute"]
    assert report["post-seconds"].verdict == "fits"


def test_a_set_without_a_seconds_hand_says_that_the_watch_has_two():
    pairing = PairingFactory(hands=HandSetFactory(seconds=False))
    report = answer(pairing).report
    assert report.waiting == []
    assert "post-seconds" not in {check.key for check in report.checks}


def test_what_trying_a_hand_said_decides_over_its_size(pairing):
    pairing.tried_hour = "tight"
    assert [remedy.text for remedy in answer(pairing).report["post-hour"].remedies] == [
        "Open the hour hand to fit its post."
    ]


def test_a_measured_hand_is_written_to_the_set_that_it_comes_from(pairing, own_seconds, owner):
    job = JobFactory()
    Pairing.objects.create(name="another", seconds_hand_from=own_seconds)
    option = choosing.add_option(job=job, pairing=pairing, by=owner)
    stage = job.stages.get(kind="hands")
    mine = option.pairing
    measuring.write_back(stage=stage, pairing=mine, path="hands.seconds.hole_diameter", text="0.21", by=owner)
    mine = Pairing.objects.get(pk=mine.pk)
    assert mine.hands == pairing.hands
    assert mine.seconds_hand_from.copied_from == own_seconds
    assert Hand.objects.get(hand_set=mine.seconds_hand_from).hole_diameter == 0.21
    assert Hand.objects.get(hand_set=own_seconds).hole_diameter == 0.20


def test_the_drawer_lists_every_set_once(pairing):
    pairing.hour_hand_from = pairing.hands
    lines = stock.drawer_of(JobFactory(), pairing)
    assert [str(line.part) for line in lines if line.kind == "hand-sets"] == [
        "Leaf",
        "Own seconds hand, 26-001",
    ]


def test_a_quote_sells_new_single_hands_and_not_the_watchs_own(pairing):
    assert [(words, part.name) for _, words, part in _new_parts(pairing) if words.startswith("New h")] == [
        ("New hour and minute hands", "Leaf")
    ]
    pairing.minute_hand_from = HandSetFactory(name="Baton")
    new = [(words, part.name) for _, words, part in _new_parts(pairing)]
    assert {("New minute hand", "Baton"), ("New hour hand", "Leaf")} < set(new)
    assert "Own seconds hand" not in [name for _, name in new]


def test_the_customers_note_knows_of_the_single_seconds_hand(owner, own_seconds):
    job = JobFactory()
    pairing = PairingFactory(hands=HandSetFactory(seconds=False), seconds_hand_from=own_seconds)
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=owner), by=owner)
    assert handover(job, shop=Shop())["has_seconds"] is True


SMALL_HAND = SMALL["hands.subsidiary"]["small seconds"]


@pytest.fixture
def own_small():
    """The watch's own small seconds hand, in a set of its own."""
    hands = HandSetFactory(name="Own small hand", hands=False, seconds=False, is_watchs_own=True)
    hands.subsidiary = {"small seconds": SMALL_HAND | {"length": 2.2}}
    hands.save()
    return hands


@pytest.fixture
def small_pairing(own_small):
    """A watch with small seconds and an alarm: new hands, a new alarm hand, and its own small seconds hand."""
    leaf = HandSetFactory(name="Leaf", seconds=False)
    leaf.subsidiary = {"small seconds": SMALL_HAND, "alarm": SMALL_HAND | {"length": 1.8}}
    leaf.save()
    return PairingFactory(
        movement=MovementFactory(subsidiary=SMALL["movement.subsidiary"]),
        dial=DialFactory(subdials=SMALL["dial.subdials"]),
        hands=leaf,
        small_seconds_hand_from=own_small,
    )


def test_the_small_seconds_hand_comes_from_its_own_set_and_no_other_small_hand_does(small_pairing):
    hands = sheet_of(small_pairing)["hands"]
    assert {post: hand["length"] for post, hand in hands["subsidiary"].items()} == {"small seconds": 2.2, "alarm": 1.8}
    assert small_pairing.hands_in_words == "Leaf, small seconds hand from Own small hand"
    assert field_of(small_pairing, "hands.subsidiary.small seconds.length") == "small_seconds_hand_from"
    assert field_of(small_pairing, "hands.subsidiary.alarm.length") == "hands"


def test_a_small_seconds_hand_is_checked_and_drawn_without_any_other_hand(small_pairing):
    small_pairing.hands = None
    report = answer(small_pairing).report
    assert report["sub-post"].value.value == pytest.approx(-0.01)
    assert report.waiting[:2] == ["hands.hour", "hands.minute"]
    assert small_pairing.kept_hands == ("subsidiary",)
    drawn = drawings(report, staying=small_pairing.kept_hands)
    assert 'class="hand hand-small kept"' in drawn["section"].markup
    assert 'class="hand hand-small kept"' in drawn["dial"].markup
    assert 'data-hand="subsidiary"' in looks_of(pairing=small_pairing, report=report).dial


def test_a_quote_sells_a_new_small_seconds_hand_and_not_the_watchs_own(small_pairing, own_small):
    assert "Own small hand" not in [part.name for _, _, part in _new_parts(small_pairing)]
    own_small.is_watchs_own = False
    own_small.save()
    new = _new_parts(Pairing.objects.with_parts().get(pk=small_pairing.pk))
    assert ("small_seconds_hand_from", "New small seconds hand", own_small) in new
    assert ("hands", "New hands", small_pairing.hands) in new


def test_what_is_to_be_kept_tells_the_small_seconds_hand_from_that_of_the_centre(small_pairing, own_small):
    job = JobFactory(keep="small seconds hand")
    assert replaced(job, small_pairing) == []
    small_pairing.small_seconds_hand_from = None
    assert [str(loss) for loss in replaced(job, small_pairing)] == ["the small seconds hand (by Leaf)"]
    job.keep = "hands"
    assert [str(loss) for loss in replaced(job, small_pairing)] == ["the hands (by Leaf)"]
    small_pairing.small_seconds_hand_from = own_small
    assert [str(loss) for loss in replaced(job, small_pairing)] == ["the hour, minute and seconds hands (by Leaf)"]


def test_papers_and_timing_know_of_the_small_seconds_hand(small_pairing, owner):
    parts = {part.what: (part.name, part.note) for part in _parts(small_pairing, answer(small_pairing).report, [])}
    assert parts["small seconds hand"] == ("Own small hand", "the watch's own")
    assert parts["alarm hand"] == ("Leaf", "")
    job = JobFactory()
    option = choosing.add_option(job=job, pairing=small_pairing, by=owner)
    choosing.choose(option=option, by=owner)
    assert handover(job, shop=Shop())["has_seconds"] is True
    assert tapped_when(option) == AT_SECONDS
    option.pairing.hands.subsidiary = option.pairing.small_seconds_hand_from = None
    assert tapped_when(option) == AT_MINUTE


def test_the_drawer_lists_the_set_of_the_small_seconds_hand(small_pairing):
    lines = stock.drawer_of(JobFactory(), small_pairing)
    assert [str(line.part) for line in lines if line.kind == "hand-sets"] == ["Leaf", "Own small hand"]


def test_the_small_seconds_hand_is_tried_on_its_post_and_its_height_told(small_pairing):
    small_pairing.tried_small_seconds = "tight"
    report = answer(small_pairing).report
    assert [remedy.text for remedy in report["sub-post"].remedies] == ["Open the small seconds hand to fit its post."]
    assert "tried" not in sheet_of(small_pairing)["hands"]["subsidiary"]["alarm"]
    heights = {each["name"]: each["height"] for each in hand_heights(report)}
    assert heights["small seconds"] == pytest.approx(report.pairing.small["small seconds"].seat.top.value - 0.4)
