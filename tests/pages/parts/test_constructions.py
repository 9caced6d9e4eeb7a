"""Parts and fit checks of other constructions, walked from entry to report."""

import json
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from parts.demo import fill_workshop
from parts.models import Case, Pairing
from parts.sheets import records_from_sheet, sheet_of
from tests.factories import CaseFactory, DialFactory, PairingFactory, StemFactory
from tests.fit.constructions.sheets import ALL
from tests.fit.sheets import sheet
from tests.pages.parts.test_pairings import posted
from tests.pages.parts.test_part_entry import filled

ADD = "/parts/cases/add/"
pytestmark = pytest.mark.django_db


def fields(response):
    return {entry.field.name for group in response.context["editor"].groups for entry in group.entries}


def test_the_form_asks_for_the_construction_and_then_for_what_it_needs(owner_client):
    plain = fields(owner_client.get(ADD))
    assert "back_depth" in plain
    assert "floor_stem" not in plain
    typed = {"name": "one piece", "loading": "front"}
    asked = owner_client.post(ADD, filled(owner_client, ADD, **typed) | {"add_row": "loading"})
    assert asked.status_code == 200
    assert {"floor_stem", "floor_ring", "floor_crystal_centre", "ring"} <= fields(asked)
    assert "back_depth" not in fields(asked)
    assert 'value="one piece"' in asked.text
    assert not Case.objects.exists()
    data = filled(owner_client, ADD, **typed) | {"floor_stem": "1.90", "floor_ring": "3.90 ±0.02", "ring": "rehaut"}
    owner_client.post(ADD, data)
    case = Case.objects.get()
    assert (case.loading, case.ring, case.floor_stem, case.floor_ring_pm) == ("front", "rehaut", 1.9, 0.02)
    page = owner_client.get(f"/parts/cases/{case.pk}/").text
    assert "3.90 ±0.02" in page


def test_a_cases_page_shows_its_own_construction_alone(owner_client):
    back, front = CaseFactory(), CaseFactory(loading="front")
    shown = [owner_client.get(f"/parts/cases/{case.pk}/").text for case in (back, front)]
    assert ["Loaded from the front" in text for text in shown] == [False, True]
    assert ["ack depth" in text for text in shown] == [True, False]


def test_a_number_of_the_other_construction_stays_in_sight(owner_client):
    case = CaseFactory(loading="front", floor_stem=1.9)
    page = fields(owner_client.get(f"/parts/cases/{case.pk}/edit/"))
    assert {"floor_stem", "back_depth"} <= page


def test_heights_that_contradict_each_other_are_told_on_the_field(owner_client):
    typed = {"name": "a", "loading": "front", "floor_stem": "4.0", "floor_ring": "3.0"}
    response = owner_client.post(ADD, filled(owner_client, ADD) | typed)
    assert response.status_code == 422
    assert "the ring lies over the stem" in response.text


def test_an_outline_is_typed_or_read_from_a_drawing(owner_client):
    typed = {"name": "cushion", "bore_outline": "rectangle 27 x 30.4 corner 2"}
    owner_client.post(ADD, filled(owner_client, ADD) | typed)
    case = Case.objects.get()
    assert case.bore_outline == {"shape": "rectangle", "width": 27.0, "height": 30.4, "corner": 2.0}
    svg = b'<svg width="40mm" height="40mm" viewBox="0 0 40 40"><path d="M8 5h24v30H8z"/></svg>'
    address = f"/parts/cases/{case.pk}/edit/"
    data = filled(owner_client, address) | {"bore_outline_file": SimpleUploadedFile("bore.svg", svg)}
    owner_client.post(address, {name: value for name, value in data.items() if value is not None})
    case.refresh_from_db()
    assert case.bore_outline["shape"] == "polyline"
    assert len(case.bore_outline["points"]) == 4
    assert "12, 15" in owner_client.get(f"/parts/cases/{case.pk}/").text
    wrong = filled(owner_client, address) | {"bore_outline_file": SimpleUploadedFile("bore.svg", b"<svg")}
    response = owner_client.post(address, wrong)
    assert response.status_code == 422
    assert "cannot be read as a drawing" in response.text


SIZES = {"bore_outline_shape": "rectangle", "bore_outline_width": "27,0 ±0.02", "bore_outline_height": "30.4"}


def test_an_outline_is_typed_by_its_shape_and_plain_numbers(owner_client):
    typed = SIZES | {"name": "cushion", "bore_outline_corner": "2", "bore_outline": ""}
    owner_client.post(ADD, filled(owner_client, ADD) | typed)
    case = Case.objects.get()
    rectangle = {"shape": "rectangle", "width": [27.0, 0.02], "height": 30.4, "corner": 2.0}
    assert case.bore_outline == rectangle
    address = f"/parts/cases/{case.pk}/edit/"
    page = owner_client.get(address).text
    for name, shown in (("width", "27.00 ±0.02"), ("height", "30.40"), ("corner", "2.00")):
        assert re.search(f'name="bore_outline_{name}" value="{shown}"', page)
    assert re.search(r'<option value="rectangle" selected>', page)
    oval = {"bore_outline_shape": "oval", "bore_outline_width": "26", "bore_outline_height": "29", "bore_outline": ""}
    owner_client.post(address, filled(owner_client, address) | oval)
    case.refresh_from_db()
    assert case.bore_outline == {"shape": "oval", "width": 26.0, "height": 29.0}
    owner_client.post(address, filled(owner_client, address) | {"bore_outline": ""})
    case.refresh_from_db()
    assert case.bore_outline is None


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (
            {"bore_outline_shape": "oval", "bore_outline_corner": "2"},
            "Corner 2: an oval has no corner radius. Clear it.",
        ),
        ({"bore_outline_shape": ""}, "Choose the shape that these sizes are of, or clear them."),
        ({"bore_outline_width": "wide"}, "width: “wide” is not a number"),
        (
            {"bore_outline_shape": "polyline"},
            "Type the outline&#x27;s points, or choose a drawing of it under More, seldom needed.",
        ),
    ],
)
def test_sizes_that_are_of_no_such_shape_are_refused_and_stay_as_they_are_typed(owner_client, typed, told):
    sent = filled(owner_client, ADD) | {"name": "a", "bore_outline": ""} | SIZES | typed
    response = owner_client.post(ADD, sent)
    assert response.status_code == 422
    assert told in response.text
    assert f'name="bore_outline_width" value="{sent["bore_outline_width"]}"' in response.text


def test_every_size_of_an_outline_that_is_wrong_is_told(owner_client):
    typed = {"bore_outline_width": "-3", "bore_outline_height": "wide", "bore_outline_corner": "101"}
    sent = filled(owner_client, ADD) | {"name": "a", "bore_outline": ""} | SIZES | typed
    response = owner_client.post(ADD, sent)
    assert response.status_code == 422
    told = response.context["editor"].form.errors["bore_outline"]
    assert told == [
        (
            "−3.00 mm is out of range: width must be above 0, at most 100 mm. "
            "Check the reading, or leave it blank if not measured."
        ),
        (
            "height: “wide” is not a number. Type 27.40, 27,40 or 27.40 ±0.02 in mm, or lignes such as 11 1/2''', "
            "or leave it blank if not measured."
        ),
        (
            "101.00 mm is out of range: corner radius must be between 0 and 100 mm. "
            "Check the reading, or leave it blank if not measured."
        ),
    ]


def test_points_that_are_no_outline_are_told_while_they_are_typed(owner_client):
    add = "/parts/movements/add/"
    typed = {"name": "a", "outline_shape": "polyline", "outline": "5, 5\n6, 5\n6, 6"}
    answer = owner_client.post(reverse("parts:look", args=["movements"]), filled(owner_client, add) | typed)
    assert answer.status_code == 200
    told = "This outline does not work: it does not run once round the hands&#x27; axis."
    assert told in owner_client.post(add, filled(owner_client, add) | typed).text


def test_two_subdials_of_one_name_are_told_on_their_field(owner_client):
    add = "/parts/dials/add/"
    rows = "small seconds; 180; 6.5; 0.5\nsmall seconds; 90; 6.5; 0.5"
    response = owner_client.post(add, filled(owner_client, add) | {"name": "a", "subdials": rows})
    assert response.status_code == 422
    assert response.context["editor"].form.errors["subdials"] == [
        "Small seconds does not work: two have the same name. It must be a name of its own."
    ]


def test_an_opening_wider_than_its_seat_is_told_on_the_seats_outline(owner_client):
    typed = {"seat_outline": "rectangle 16 × 22, corner 1", "opening_outline": "rectangle 17 × 20, corner 1"}
    response = owner_client.post(ADD, filled(owner_client, ADD) | {"name": "a"} | typed)
    assert response.status_code == 422
    assert response.context["editor"].form.errors["seat_outline"] == [
        (
            "16.00 mm does not work: the dial would fall through the opening. "
            "It must be at least the case dial opening outline width, 17.00 mm."
        )
    ]


def test_an_outline_that_is_none_is_refused_on_its_field(owner_client):
    response = owner_client.post(ADD, filled(owner_client, ADD) | {"name": "a", "bore_outline": "oval 26"})
    assert response.status_code in (302, 422)
    response = owner_client.post(
        ADD, filled(owner_client, ADD) | {"name": "a", "bore_outline": "rectangle 20 × 30, corner 11"}
    )
    assert response.status_code == 422
    assert "the corner is too round" in response.text


@pytest.mark.parametrize("name", ALL)
def test_a_sheet_of_each_construction_comes_back_from_its_records(name):
    data = json.loads(json.dumps(sheet(ALL[name])))
    pairing = records_from_sheet(data, name=name)
    back = sheet_of(Pairing.objects.get(pk=pairing.pk))
    for part in ("case", "dial", "movement", "stem"):
        for key, value in data[part].items():
            if key not in ("loading", "own_case") and value is not None and not (key == "window" and value == "none"):
                assert _plain(back[part].get(key)) == _plain(value), (part, key)
    assert _plain(back["hands"].get("subsidiary")) == _plain(data["hands"].get("subsidiary"))


def test_a_rim_written_as_pairs_is_kept_by_name():
    pairing = records_from_sheet({"case": {"rim": [[13.5, 0.6], [12.6, [1.8, 0.05]]]}}, name="rim")
    assert pairing.case.rim == [{"radius": 13.5, "height": 0.6}, {"radius": 12.6, "height": [1.8, 0.05]}]


def _plain(node):
    """Without what is not measured."""
    if isinstance(node, dict):
        return {key: _plain(each) for key, each in node.items() if each not in (None, "")}
    return [_plain(each) for each in node] if isinstance(node, list) else node


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("Harrowlea 19 to quartz", ["Turn the ring from metal", "rectangle 16.20 ±0.03 × 19.60 ±0.03"]),
        ("Quaymoor 34, from the front", ["under the movement", "tension ring", "Floor to ring"]),
    ],
)
def test_the_demos_rectangular_and_one_piece_watches_are_checked_drawn_and_ranked(owner_client, name, says):
    fill_workshop()
    pairing = Pairing.objects.get(name=name)
    page = owner_client.get(reverse("parts:pairing", args=[pairing.pk]))
    assert page.context["report"].verdict == "work"
    assert "Section through the watch along the stem" in page.text
    text = page.text
    for slug, record in (("cases", pairing.case), ("dials", pairing.dial), ("movements", pairing.movement)):
        text += owner_client.get(f"/parts/{slug}/{record.pk}/").text
    assert [words for words in says if words not in text] == []
    given = f"case={pairing.case_id}&dial={pairing.dial_id}"
    assert pairing.movement.name in owner_client.get(f"{reverse('parts:goes-in', args=['movements'])}?{given}").text


def test_a_dial_on_its_movement_is_entered(owner_client):
    dial = DialFactory()
    address = f"/parts/dials/{dial.pk}/edit/"
    owner_client.post(address, filled(owner_client, address, rests_on="movement", rise="0.30"))
    dial.refresh_from_db()
    assert (dial.rests_on, dial.rise) == ("movement", 0.3)


@pytest.mark.alike
@pytest.mark.parametrize("name", ALL)
def test_the_fit_checks_page_shows_each_construction_and_prints_it(owner_client, name):
    pairing = records_from_sheet(json.loads(json.dumps(sheet(ALL[name]))), name=name)
    page = owner_client.get(reverse("parts:pairing", args=[pairing.pk]))
    assert page.status_code == 200
    assert page.context["report"].verdict in ("fits", "work")
    paper = owner_client.get(reverse("jobs:fit-check-paper", args=[pairing.pk]))
    assert paper.content.startswith(b"%PDF")
    sent = owner_client.get(f"/parts/pairings/{pairing.pk}/sheet.json")
    assert json.loads(sent.content)["case"]["construction"] == pairing.case.loading


@pytest.mark.parametrize(
    ("name", "path", "number", "key"),
    [
        ("rectangle", "case.bore_outline.width", "25.00", "case-bore"),
        ("front", "case.floor_stem", "1.50", "stem-height"),
        ("small", "hands.subsidiary[0].hole_diameter", "0.35", "sub-post"),
        ("small", "dial.subdials[0].radius", "5.90", "sub-place"),
        ("rim", "case.rim[2].radius", "11.00", "tip-clearance"),
    ],
)
def test_what_if_a_number_of_a_construction_were_another(owner_client, name, path, number, key):
    pairing = records_from_sheet(json.loads(json.dumps(sheet(ALL[name]))), name=name)
    data = posted(pairing, do="check", **{f"what-if:{path}": number})
    changed = owner_client.post(reverse("parts:pairing", args=[pairing.pk]), data)
    assert changed.context["report"][key].verdict == "no"


LOST = {
    "rectangle": "case.bore_outline.corner",
    "small": "hands.subsidiary.small seconds.hub_height",
    "day": "movement.day.numeral_radius",
    "split": "stem.joint.overlap",
    "front": "case.floor_ring",
    "rim": "case.rim.1.radius",
}


def page_without(client, name, lost):
    """The fit check of a construction that lacks one number."""
    data = json.loads(json.dumps(sheet(ALL[name])))
    *way, last = lost.split(".")
    node = data
    for step in way:
        node = node[int(step)] if isinstance(node, list) else node[step]
    node[last] = None
    return client.get(reverse("parts:pairing", args=[records_from_sheet(data, name=name).pk]))


@pytest.mark.alike
@pytest.mark.parametrize(("name", "lost"), [*LOST.items(), ("small", "movement.subsidiary.0.radius")])
def test_what_is_not_measured_of_a_construction_leaves_it_open(owner_client, name, lost):
    assert page_without(owner_client, name, lost).context["report"].verdict == "unclear"


@pytest.mark.alike
@pytest.mark.parametrize(
    "name", [name if name == "front" else pytest.param(name, marks=pytest.mark.long) for name in LOST]
)
def test_every_link_of_its_page_opens(owner_client, name):
    """Of one construction in every run, of the others in the long trials: each page has some sixty links."""
    page = page_without(owner_client, name, LOST[name])
    links = {link.replace("&amp;", "&") for link in re.findall(r'(?:href|hx-get)="([/?][^"#]*)', page.text)}
    answers = {link: owner_client.get(link if link[0] == "/" else page.wsgi_request.path + link) for link in links}
    wrong = {link: answer.status_code for link, answer in answers.items() if answer.status_code >= 400}
    assert len(links) > 40
    assert {link: code for link, code in wrong.items() if not link.startswith("/static/")} == {}


@pytest.mark.parametrize(("loading", "open_ones"), [("front", {"inner", "outer", "overlap"}), ("back", set())])
def test_a_stem_that_goes_into_a_one_piece_case_is_asked_openly_how_it_comes_apart(owner_client, loading, open_ones):
    stem = StemFactory()
    PairingFactory(stem=stem, case=CaseFactory(name="of it", loading=loading))
    page = owner_client.get(reverse("parts:edit", args=["stems", stem.pk]))
    group = next(group for group in page.context["editor"].groups if group.group.title == "Split stem")
    assert {entry.field.name.split("_")[1] for entry in group.leading} == open_ones
    assert len(group.leading) + len(group.seldom) == 3


@pytest.mark.parametrize(("loading", "leading"), [("front", 3), ("back", 0)])
def test_so_is_a_new_stem_that_is_entered_from_a_fit_check_with_such_a_case(owner_client, loading, leading):
    case, address = CaseFactory(loading=loading), reverse("parts:add", args=["stems"])
    shown = owner_client.get(address, {"within": "page", "into": case.pk}, headers={"HX-Request": "true"})
    wrong = {"within": "page", "into": case.pk, "name": "", "stamp": ""}
    again = owner_client.post(address, wrong, headers={"HX-Request": "true"})
    for page in (shown, again):
        group = next(group for group in page.context["editor"].groups if group.group.title == "Split stem")
        assert len(group.leading) == leading
        assert f'name="into" value="{case.pk}"' in page.text


def test_an_outline_is_shown_with_its_unit_in_place_of_the_diameter_that_it_stands_for(owner_client):
    case = CaseFactory(
        name="cushion",
        bore_diameter=None,
        bore_outline={"shape": "rectangle", "width": [27.0, 0.02], "height": 30.4, "corner": 2.0},
        dial_seat_diameter=None,
        seat_outline={"shape": "polyline", "points": [[13, 15], [-13, 15], [-13, -15], [13, -15]]},
    )
    page = owner_client.get(f"/parts/cases/{case.pk}/")
    lines = {line.label: line.text for group in page.context["groups"] for line in group.lines}
    assert lines["bore outline"] == "rectangle 27.00 ±0.02 × 30.40 mm, corner 2.00 mm"
    assert lines["dial seat outline"].startswith("4 points, 26.00 × 30.00 mm: 13, 15 | -13, 15")
    assert not {"bore diameter", "dial seat diameter"} & {*lines}
    round_one = CaseFactory(name="round")
    rows = {row["record"].name: row for row in owner_client.get("/parts/cases/").context["lines"]}
    cells = dict(rows["cushion"]["cells"])
    assert cells["bore diameter"] == "27.00 × 30.40 mm"
    assert cells["dial seat diameter"] == "26.00 × 30.00 mm"
    assert rows["cushion"]["measured"] == rows[round_one.name]["measured"]
