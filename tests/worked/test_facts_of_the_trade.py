"""What every watchmaker who converts watches knows, as the program answers it.

None of it has a source that could be named: each test says so.
"""

import json
from pathlib import Path

import pytest

from jobs.stages.checklist import items_of
from parts.fit import SheetError, check_sheet
from tests.fit.sheets import judged, report

DEMO = json.loads((Path(__file__).resolve().parents[2] / "parts" / "demo" / "workshop.json").read_text())


def hand_on_post(name, hole, post):
    """The verdict of a hand's hole on a post of another watch."""
    return judged(f"post-{name}", {f"hands.{name}.hole_diameter": hole, f"movement.posts.{name}.diameter": post})


def sold(name, hand, post):
    changes = {f"hands.{name}.hole_diameter": None, f"movement.posts.{name}.diameter": None}
    return judged(
        f"post-{name}",
        changes | {f"hands.{name}.made_for": hand, f"movement.posts.{name}.made_for": post},
    )


def test_a_seconds_hand_bored_0_20_goes_from_one_common_movement_to_another_as_it_is():
    """Common practice, no source: their fourth-wheel posts take the same hand."""
    assert sold("seconds", 0.20, 0.20).verdict == "fits"
    assert hand_on_post("seconds", 0.195, 0.20).verdict == "fits"
    assert hand_on_post("seconds", 0.20, 0.20).verdict == "fits"


def test_an_hour_hand_of_1_20_goes_on_a_post_of_1_20():
    """Common practice, no source."""
    assert sold("hour", 1.20, 1.20).verdict == "fits"
    changes = {
        "hands.hour.hole_diameter": 1.19,
        "movement.posts.hour.diameter": 1.2,
        "hands.minute.hole_diameter": 0.89,
    }
    assert judged("post-hour", changes).verdict == "fits"


def test_an_hour_hand_of_1_20_does_not_go_on_a_post_of_1_50_as_it_is():
    """Common practice, no source: it is opened while its hub allows, or another hand is taken."""
    assert sold("hour", 1.20, 1.50).verdict == "work"


@pytest.mark.parametrize("off", [-0.9, -0.5, 0.5, 0.9])
def test_a_numeral_off_by_clearly_less_than_a_millimetre_is_what_customers_accept(off):
    """Common practice, no source: along the radius or across it, in a window that leaves it whole."""
    window = {"dial.window.radial": 4.0, "dial.window.tangential": 2.6, "movement.date.disc_inner_radius": 7.0}
    along = report(window | {"movement.date.numeral_radius": 10.0 + off})
    across = report(window | {"movement.date.angle": off / 10.0 * 57.2958, "dial.window.tangential": 3.4})
    for found in (along, across):
        assert found["date-position"].verdict == "work"
        assert [remedy.kind for remedy in found["date-position"].remedies] == ["accept"]
        assert found["date-cut"].verdict != "no"
    assert along.verdict == "work"


def test_a_numeral_off_by_more_than_a_millimetre_is_not():
    """Common practice, no source."""
    assert judged("date-position", {"movement.date.numeral_radius": 11.1}).verdict == "no"


@pytest.mark.parametrize("length", [15.2, 16.0, 20.0, 25.0])
def test_a_stem_is_cut_long_then_filed_and_never_below(length):
    """Common practice, no source: what is off is off."""
    stem = report({"stem.length": length}).stem
    steps = [step.length for step in stem.steps]
    assert steps == sorted(steps, reverse=True)
    assert min(steps) == stem.length
    assert "never below" in stem.steps[-1].text
    short = judged("stem-length", {"stem.length": 14.5})
    assert [remedy.kind for remedy in short.remedies] == ["part"]


def test_the_commonest_crown_thread_is_0_90():
    """Common practice, no source: and one that measures a little less is the same."""
    assert judged("stem-thread", {"crown.thread": 0.90, "movement.stem_thread": 0.88, "stem.thread": 0.89}).verdict == (
        "fits"
    )


def test_a_quartz_movement_in_a_mechanicals_place_leaves_a_ring_to_fill_and_a_spacer_to_make():
    """Common practice, no source: it is smaller round its rim, and its stem lies nearer to its dial rest."""
    found = report(
        {
            "movement.fit_diameter": 23.3,
            "movement.overall_diameter": 23.7,
            "movement.stem_axis_depth": 1.1,
            "movement.back_height": 2.6,
            "movement.date": "none",
            "dial.window": "none",
        }
    )
    assert (found["holder-wall"].verdict, [r.kind for r in found["holder-wall"].remedies]) == ("work", ["part"])
    assert (found["stem-height"].verdict, [r.kind for r in found["stem-height"].remedies]) == ("work", ["part"])
    assert found.pairing.stack.thickness == pytest.approx(0.5)
    assert found.verdict == "work"


def test_the_date_changes_within_five_minutes_of_midnight_once_the_hour_hand_is_set_at_the_jump():
    """Common practice, no source: so the list for the hands says it, in that order, where there is a date."""
    texts = [item.text for item in items_of("hands", report(), None)]
    at = [
        texts.index("Hour hand set to 12 as the date jumps."),
        texts.index("Date changes within five minutes of midnight."),
    ]
    assert at == sorted(at)
    plain = report({"movement.date": "none", "dial.window": "none"})
    assert not any("midnight" in item.text for item in items_of("hands", plain, None))


KINDS = {
    "case": "cases",
    "dial": "dials",
    "movement": "movements",
    "hands": "hand_sets",
    "stem": "stems",
    "crown": "crowns",
}


def named(kind, name):
    """The demo's part of that name, alone or behind its family's."""
    for item in DEMO[KINDS[kind]]:
        if name in (item["name"], ", ".join(filter(None, (item.get("family"), item["name"])))):
            return item["sheet"]
    raise LookupError(f"{kind}: {name}")


def demo_sheets():
    for item in DEMO["pairings"]:
        data = {kind: named(kind, item[kind]) for kind in KINDS}
        own = {role: item[f"{role}_hand_from"] for role in data["hands"] if f"{role}_hand_from" in item}
        data["hands"] = data["hands"] | {role: named("hands", name)[role] for role, name in own.items()}
        yield item["name"], data | {"spacer": {"placement": item.get("placement", "auto")}}


def leaves(node, path=""):
    """Paths of all numbers of a sheet."""
    for name, value in node.items() if isinstance(node, dict) else enumerate(node):
        here = f"{path}.{name}" if path else str(name)
        is_pair = isinstance(value, list) and len(value) == 2 and not isinstance(value[0], (list, dict))
        if is_pair or (isinstance(value, (int, float)) and not isinstance(value, bool)):
            yield here
        elif isinstance(value, (dict, list)):
            yield from leaves(value, here)


def without(data, path):
    """The sheet without the number at a path."""
    copy = json.loads(json.dumps(data))
    *way, last = path.split(".")
    node = copy
    for step in way:
        node = node[int(step)] if isinstance(node, list) else node[step]
    node[last] = None
    return copy


@pytest.mark.long
@pytest.mark.parametrize(
    ("name", "data"), list(demo_sheets()), ids=lambda value: value if isinstance(value, str) else ""
)
def test_no_number_taken_away_turns_a_pairing_of_the_demo_into_a_no(name, data):
    """Common practice, no source: what is not known is no reason to say that it will not go."""
    whole = check_sheet(data)
    certain = {item.key for item in whole.checks if item.verdict == "no"}
    for path in leaves(data):
        try:
            found = check_sheet(without(data, path))
        except SheetError as refusal:
            pytest.fail(f"{path}: {refusal}")
        assert whole.verdict == "no" or found.verdict != "no", path
        assert {item.key for item in found.checks if item.verdict == "no"} <= certain, path


def test_the_demos_parts_are_all_named_by_its_pairings():
    """Common practice, no source: the ten jobs of the demo are the everyday ones."""
    assert len(list(demo_sheets())) == len(DEMO["pairings"]) >= 10
