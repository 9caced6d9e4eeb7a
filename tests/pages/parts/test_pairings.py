"""The fit check page: checking, asking what if, keeping, comparing, printing, uploading."""

import json
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from jobs.options import choosing
from parts.models import Case, Pairing
from parts.pairings.answer import answer, save_with_report
from parts.sheets import sheet_of
from tests.factories import CaseFactory, HandSetFactory, JobFactory, MovementFactory, PairingFactory, StemFactory
from tests.reading import as_read

pytestmark = pytest.mark.django_db
PARTS = ("case", "dial", "movement", "hands", "stem", "crown")


def posted(pairing, **changes):
    chosen = {name: getattr(pairing, f"{name}_id") or "" for name in PARTS}
    return chosen | {"placement": pairing.placement, "name": pairing.name, "notes": ""} | changes


def page_of(pairing):
    return reverse("parts:pairing", args=[pairing.pk])


def test_the_page_shows_verdict_drawings_and_every_check(owner_client):
    pairing = PairingFactory()
    response = owner_client.get(page_of(pairing))
    report = response.context["report"]
    assert report.verdict == "work"
    assert "Fits with work" in response.text
    assert len(re.findall(r'id="check-[a-z-]+"', response.text)) == len(report.checks) == 33
    for name in ("section", "stack", "dial"):
        assert f"drawing-{name}" in response.text
    assert 'class="drawing drawing-window"' not in response.text


def test_a_new_check_takes_parts_from_the_address_and_stores_nothing(owner_client):
    case, movement = CaseFactory(), MovementFactory()
    response = owner_client.get(reverse("parts:pairing-new"), {"case": case.pk, "movement": movement.pk, "dial": "x"})
    assert response.context["report"]["case-bore"].value.value == pytest.approx(0.05)
    assert response.context["report"].verdict == "fits"
    assert response.context["report"].waiting == ["dial", "hands", "stem", "crown"]
    assert "<strong>so far</strong>" in response.text
    assert Pairing.objects.count() == 0


def test_a_number_changed_on_the_page_changes_the_verdict_and_no_record(owner_client):
    pairing = PairingFactory()
    data = posted(pairing, do="check", **{"what-if:case.back_depth": "3,70"})
    response = owner_client.post(page_of(pairing), data)
    report = response.context["report"]
    assert report["back-gap"].value.value == pytest.approx(3.70 - 0.40 - 3.50)
    assert report.verdict == "no"
    assert Case.objects.get().back_depth == 4.20
    assert Pairing.objects.get().what_if == {}


def swapped(owner_client, pairing, **changes):
    return owner_client.post(page_of(pairing), posted(pairing, **changes), headers={"hx-request": "true"}).text


def test_htmx_gets_the_verdict_and_the_report_only(owner_client):
    pairing = PairingFactory()
    shown = re.search(r'name="numbers-of" value="([^"]+)"', owner_client.get(page_of(pairing), {"numbers": "1"}).text)[
        1
    ]
    text = swapped(owner_client, pairing, **{"numbers-of": shown})
    assert "<html" not in text
    assert 'hx-swap-oob="innerHTML:#verdict"' in text
    assert "Fits with work" in text
    assert "what-if:case.bore_diameter" not in text


def test_htmx_gets_the_numbers_of_a_part_chosen_instead(owner_client):
    pairing, other = PairingFactory(), CaseFactory(back_depth=5.55)
    shown = re.search(r'name="numbers-of" value="([^"]+)"', owner_client.get(page_of(pairing), {"numbers": "1"}).text)[
        1
    ]
    text = swapped(owner_client, pairing, case=other.pk, **{"numbers-of": shown, "what-if:dial.thickness": "0.45"})
    assert 'hx-swap-oob="innerHTML:#worksheet"' in text
    assert "5.55 mm" in text
    assert "tried: 0.45" in text


def test_nothing_chosen_asks_for_parts_and_gives_no_verdict(owner_client):
    text = owner_client.get(reverse("parts:pairing-new")).text
    assert "Choose the parts" in text
    assert "verdict-banner" not in text


def test_parts_not_chosen_are_named_and_not_asked_to_be_measured(owner_client):
    case = CaseFactory(back_depth=None)
    response = owner_client.get(reverse("parts:pairing-new"), {"case": case.pk})
    assert "No verdict yet. Still to choose: dial, movement, hands, stem, crown." in response.text
    assert response.context["measure_next"] == []


def test_an_unreadable_number_is_named_kept_and_left_out(owner_client):
    pairing = PairingFactory()
    data = posted(pairing, do="save", **{"what-if:case.back_depth": "four"})
    response = owner_client.post(page_of(pairing), data)
    assert response.status_code == 422
    assert 'value="four"' in response.text
    assert "“four” is not a number" in response.text
    assert response.context["report"]["back-gap"].value.value == pytest.approx(4.20 - 0.40 - 3.50)
    assert Pairing.objects.get().report is None


def test_a_number_beyond_its_limits_names_the_limit(owner_client):
    pairing = PairingFactory()
    response = owner_client.post(page_of(pairing), posted(pairing, **{"what-if:case.bore_diameter": "-3"}))
    assert "-3 does not work: out of range for bore diameter. It must be above 0, at most 100 mm." in response.text
    assert "case.bore_diameter is" not in response.text


def test_a_number_that_contradicts_the_part_lands_on_its_field_and_the_verdict_stays(owner_client):
    pairing = PairingFactory()
    response = owner_client.post(page_of(pairing), posted(pairing, **{"what-if:hands.hour.hub_height": "0.01"}))
    fault = re.search(r'id="what-if:hands.hour.hub_height-fault">(.*?)</p>', response.text)[1]
    assert fault.startswith("0.01 does not work: the hub is thinner than the blade. It must be at least")
    assert response.context["report"].verdict == "work"
    assert response.context["changed_numbers"] == []


def test_htmx_gets_what_is_wrong_with_each_typed_number(owner_client):
    pairing = PairingFactory()
    shown = re.search(r'name="numbers-of" value="([^"]+)"', owner_client.get(page_of(pairing), {"numbers": "1"}).text)[
        1
    ]
    typed = {"what-if:case.back_depth": "four", "what-if:stem.length": "7.10", "what-if:dial.thickness": ""}
    text = swapped(owner_client, pairing, **{"numbers-of": shown}, **typed)
    marks = dict(re.findall(r'<p class="field-errors" id="what-if:(.*?)-fault" hx-swap-oob="true">(.*?)</p>', text))
    assert marks.keys() == {"case.back_depth", "stem.length"}
    assert "“four” is not a number" in marks["case.back_depth"]
    assert marks["stem.length"] == ""


def test_the_verdict_says_which_numbers_it_was_made_with(owner_client):
    pairing = PairingFactory(what_if={"case.back_depth": "4.30", "stem.length": "long"})
    said = as_read(owner_client.get(page_of(pairing)).text)
    assert "With 1 number changed: case back depth 4.30." in re.sub(r"<[^>]+>", "", said)


def test_a_bench_rule_stands_with_its_reason_once_the_numbers_are_opened(owner_client):
    pairing, reason = PairingFactory(), "how far the stem may sit off the hole&#x27;s axis before it binds"
    assert reason not in owner_client.get(page_of(pairing)).text
    assert reason in owner_client.get(page_of(pairing), {"numbers": "1"}).text
    numbers = reverse("parts:numbers", args=[pairing.pk])
    opened = owner_client.post(numbers, posted(pairing, **{"what-if:dial.thickness": "0.45"})).text
    assert reason in opened
    assert "tried: 0.45" in opened


def test_the_worst_check_comes_first_and_what_fits_is_folded(owner_client):
    pairing = PairingFactory(case__back_depth=3.70, case__crystal_gap_centre=None)
    response = owner_client.get(page_of(pairing))
    keys = [row.check.key for row in response.context["asking"]]
    assert keys[0] == "back-gap"
    assert {row.check.verdict for row in response.context["fitting"]} == {"fits"}
    folded = response.text.partition('<details class="fitting">')[2]
    assert 'id="check-case-bore"' in folded
    assert 'id="check-back-gap"' not in folded


def test_one_primary_button_leads(owner_client):
    saved, unclear = PairingFactory(), PairingFactory(case__back_depth=None)
    for pairing in (saved, unclear):
        page = owner_client.get(page_of(pairing)).text
        leading = page.partition('<div id="measure-next"')[2].partition('<details class="fit-keep"')[0]
        assert leading.count('class="lead') + leading.count(' lead"') >= 1
        assert leading.count("button primary") <= 1


def test_what_is_simply_there_has_no_number(owner_client):
    response = owner_client.get(page_of(PairingFactory()))
    row = re.search(r'<div class="check-line" id="check-date-present".*?</div>', response.text, re.DOTALL)[0]
    assert 'class="press"' not in row
    feet = re.search(r'<div class="check-line" id="check-dial-feet".*?</div>', as_read(response.text), re.DOTALL)[0]
    assert "Dial feet: </span>2</a>" in feet
    assert "margin" not in feet


def test_only_what_would_be_drawn_is_called_not_drawn(owner_client):
    pairing = PairingFactory(movement__back_height=None, movement__current=None)
    pairing.hands.hands.update(mass=None, centre_of_mass=None)
    assert owner_client.get(page_of(pairing)).context["missing"] == ["movement back height"]


def test_what_cannot_be_computed_is_not_called_measured(owner_client):
    pairing = PairingFactory(movement__stem_reference_radius=None)
    numbers = re.search(
        r'<section class="sheet bench-numbers" id="bench">.*?</section>',
        owner_client.get(page_of(pairing)).text,
        re.DOTALL,
    )
    assert "<dt>Stem length L</dt><dd>not known yet</dd>" in as_read(numbers[0])


def test_keeping_stores_parts_changes_and_the_report(owner_client):
    pairing = PairingFactory()
    data = posted(pairing, do="save", name="For the grey one", **{"what-if:rules.gap_min": "0.20"})
    response = owner_client.post(reverse("parts:pairing-new"), data)
    kept = Pairing.objects.get(name="For the grey one")
    assert response.url == page_of(kept)
    assert kept.what_if == {"rules.gap_min": "0.20"}
    assert kept.report["rules"]["gap_min"] == 0.20
    assert kept.report["sheet"]["case"]["bore_diameter"] == [26.2, 0.02]
    assert kept.computed_at is not None


def test_keeping_without_a_name_is_refused_and_loses_nothing(owner_client):
    pairing = PairingFactory()
    data = posted(pairing, do="save", name="", notes="Ask for the old crown", **{"what-if:stem.length": "7.10"})
    response = owner_client.post(reverse("parts:pairing-new"), data)
    assert response.status_code == 422
    assert "Give the fit check a name to find it by." in response.text
    assert "Ask for the old crown" in response.text
    assert 'value="7.10"' in response.text
    assert Pairing.objects.saved().get() == pairing


def test_a_window_older_than_the_last_change_is_told_before_it_overwrites(owner_client):
    pairing = PairingFactory(name="Grey one")
    stamp = re.search(r'name="stamp" value="([^"]+)"', owner_client.get(page_of(pairing), {"numbers": "1"}).text)[1]
    first = owner_client.post(page_of(pairing), posted(pairing, do="save", name="From the first window", stamp=stamp))
    assert first.status_code == 302
    late = posted(pairing, do="save", name="From the second window", stamp=stamp, **{"what-if:stem.length": "7.10"})
    refused = owner_client.post(page_of(pairing), late)
    assert refused.status_code == 422
    assert "Someone changed this" in refused.text
    assert 'value="From the second window"' in refused.text
    assert 'value="7.10"' in refused.text
    assert Pairing.objects.get().name == "From the first window"
    again = re.search(r'name="stamp" value="([^"]+)"', refused.text)[1]
    assert owner_client.post(page_of(pairing), late | {"stamp": again}).status_code == 302
    assert Pairing.objects.get().name == "From the second window"


def test_a_part_that_is_not_there_is_refused_on_its_field(owner_client):
    pairing = PairingFactory()
    response = owner_client.post(page_of(pairing), posted(pairing, do="save", case="999"))
    assert response.status_code == 422
    assert "case" in response.context["form"].errors


def test_what_changed_since_it_was_kept_is_listed_and_the_old_report_stays(owner_client):
    pairing = PairingFactory()
    save_with_report(pairing=pairing, answered=answer(pairing))
    Case.objects.update(back_depth=3.70)
    response = owner_client.get(page_of(pairing))
    assert response.context["changed"].rows == [("Back clearance", "fits", "no")]
    assert Pairing.objects.get().report["verdict"] == "work"


def test_the_page_takes_the_same_number_of_queries_for_any_pairing(owner_client, django_assert_max_num_queries):
    for _ in range(8):
        last = PairingFactory()
    with django_assert_max_num_queries(24):
        owner_client.get(page_of(last))


def test_the_sheet_can_be_downloaded_and_uploaded_again(owner_client):
    pairing = PairingFactory(what_if={"case.back_depth": "4.30"})
    response = owner_client.get(reverse("parts:pairing-sheet", args=[pairing.pk]))
    sheet = json.loads(response.content)
    assert sheet["case"]["back_depth"] == 4.30
    file = (b"\xef\xbb\xbf" + response.content, "sheet.json")
    owner_client.post(reverse("parts:pairing-upload"), {"name": "Again", "sheet": _file(*file)})
    again = Pairing.objects.with_parts().get(name="Again")
    assert sheet_of(again) | {"rules": {}} == sheet | {"rules": {}}
    assert again.case.name == "Again"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b'{"case": {"bore": 27}}', "case.bore is 27: unknown key"),
        (b'{"dial": {"diameter": -2}}', "dial.diameter is -2"),
        (b"hello", "not JSON"),
        (b"{}", "it has no part"),
        (b"null", "it has no part"),
        (b"\xff\xfe\x00", "This is not a text file in UTF-8"),
        (b'{"case": ' * 20000, "nested too deeply"),
    ],
)
def test_a_bad_sheet_is_refused_whole(owner_client, content, words):
    response = owner_client.post(reverse("parts:pairing-upload"), {"name": "Bad", "sheet": _file(content, "bad.json")})
    assert words in response.content.decode().replace("&#x27;", "'")
    assert Pairing.objects.count() == Case.objects.count() == 0


def test_pairings_stand_side_by_side(owner_client):
    one, two = PairingFactory(name="With ring"), PairingFactory(name="Deep case", case__back_depth=3.70)
    response = owner_client.get(reverse("parts:pairing-compare"), {"pairing": [one.pk, two.pk]})
    comparison = response.context["comparison"]
    assert [found.report.verdict for found in comparison.answers] == ["work", "no"]
    differing = [line.title for line in comparison.checks if line.differs]
    assert differing == ["Back clearance"]
    assert [(group.title, group.same, len(group.lines)) for group in comparison.groups] == [
        ("Parts that differ", False, 6),
        ("Checks that differ", False, 1),
        ("parts that are the same", True, 1),
        ("numbers for the bench that are the same", True, 5),
        ("checks with the same verdict", True, 32),
    ]
    assert response.text.index("Checks that differ") < response.text.index("32 checks with the same verdict")


def test_side_by_side_a_check_without_its_part_says_what_it_waits_for(owner_client):
    pairings = (PairingFactory(), PairingFactory(stem=None))
    response = owner_client.get(reverse("parts:pairing-compare"), {"pairing": [pairing.pk for pairing in pairings]})
    [length] = [line for line in response.context["comparison"].checks if line.title == "Stem length"]
    assert length.cells[1] == ("", "Waits until chosen: the stem.")
    assert "Waits until chosen: the stem." in response.text


def test_side_by_side_tells_the_numbers_that_were_changed(owner_client):
    one, two = PairingFactory(), PairingFactory(what_if={"case.back_depth": "4.30"})
    comparison = owner_client.get(reverse("parts:pairing-compare"), {"pairing": [one.pk, two.pk]}).context["comparison"]
    [changed] = [line for line in comparison.parts if line.title == "Changed numbers"]
    assert changed.cells == ["none", "case back depth 4.30"]
    assert {answered.report.verdict for answered in comparison.answers} == {"work"}


def test_side_by_side_tells_the_heights_the_spacer_and_the_stem(owner_client):
    pairings = (
        PairingFactory(),
        PairingFactory(case__stem_axis_depth=2.9, case__back_depth=5.0),
        PairingFactory(case__stem_axis_depth=None, hands__seconds=False),
    )
    address = {"pairing": [pairing.pk for pairing in pairings]}
    comparison = owner_client.get(reverse("parts:pairing-compare"), address).context["comparison"]
    assert {line.title: line.cells for line in comparison.numbers} == {
        "Spacer": ["none", "0.50 mm in front of the dial", "not known yet"],
        "Stem length L": ["4.55 mm"] * 3,
        "Hour hand above dial": ["0.90 mm"] * 3,
        "Minute hand above dial": ["1.50 mm"] * 3,
        "Seconds hand above dial": ["2.10 mm", "2.10 mm", "no such hand"],
    }
    assert [line.title for line in comparison.parts if not line.differs] == ["Changed numbers"]


@pytest.mark.parametrize("odd", ["²", "9" * 30, "9" * 19, "-1", "", "x"])
def test_odd_keys_in_an_address_name_nothing(owner_client, odd):
    pairing = PairingFactory()
    compared = owner_client.get(reverse("parts:pairing-compare"), {"pairing": [pairing.pk, odd]}, follow=True)
    assert "Tick 2 to 4 fit checks" in compared.text
    new = owner_client.get(reverse("parts:pairing-new"), {"case": odd})
    assert "Choose the parts" in new.text


def test_there_is_no_pairing_number_0(owner_client):
    assert owner_client.get("/parts/pairings/0/").status_code == 404


def test_one_pairing_alone_is_not_compared(owner_client):
    pairing = PairingFactory()
    response = owner_client.get(reverse("parts:pairing-compare"), {"pairing": [pairing.pk, "x"]}, follow=True)
    assert "Tick 2 to 4 fit checks" in response.text


def test_a_pairing_is_put_away_and_brought_back(owner_client):
    pairing = PairingFactory(name="Grey one")
    address = reverse("parts:pairing-put-away", args=[pairing.pk])
    assert "is archived" in owner_client.post(address, {"do": "put-away"}, follow=True).text
    assert "No fit check saved yet" in owner_client.get(reverse("parts:pairings")).text
    assert "Grey one" in owner_client.get(reverse("parts:pairings"), {"away": "1"}).text
    assert owner_client.get(address).url == page_of(pairing)
    assert Pairing.objects.get().archived
    owner_client.post(address, {"do": "bring-back"})
    assert "Grey one" in owner_client.get(reverse("parts:pairings")).text


def _file(content, name):
    return SimpleUploadedFile(name, content, content_type="application/json")


def test_single_hands_are_chosen_beside_the_set(owner_client):
    pairing, other = PairingFactory(), HandSetFactory(name="Own ones")
    data = posted(pairing, do="save", seconds_hand_from=other.pk, tried_hour="grips")
    assert owner_client.post(page_of(pairing), data).status_code == 302
    stored = Pairing.objects.get(pk=pairing.pk)
    assert (stored.seconds_hand_from, stored.tried_hour) == (other, "grips")
    text = owner_client.get(page_of(pairing)).text
    assert "<b>in use</b>" in text
    assert "was tried on its post and grips" in text
    assert pairing.name in owner_client.get(f"/parts/hand-sets/{other.pk}/").text


def test_a_set_without_such_a_hand_is_not_offered_for_it(owner_client):
    pairing, two_handed = PairingFactory(), HandSetFactory(seconds=False)
    refused = owner_client.post(page_of(pairing), posted(pairing, do="save", seconds_hand_from=two_handed.pk))
    assert (refused.status_code, list(refused.context["form"].errors)) == (422, ["seconds_hand_from"])
    assert "That part is no longer in the library" in refused.text
    assert (
        owner_client.post(page_of(pairing), posted(pairing, do="save", minute_hand_from=two_handed.pk)).status_code
        == 302
    )


def test_the_chance_comes_after_the_verdict_with_what_would_make_it_fit(owner_client):
    pairing = PairingFactory(case__crystal_gap_centre=1.60, case__crystal_gap_centre_pm=0.02)
    MovementFactory(post_seconds_height=1.0)
    shown = owner_client.get(page_of(pairing))
    address = reverse("parts:pairing-chance", args=[pairing.pk])
    assert (shown.context["report"].verdict, shown.context["report"].chance) == ("no", None)
    assert f'hx-post="{address}"' in shown.text
    text = " ".join(owner_client.post(address, posted(pairing)).text.split())
    assert "Fits, as it is or with work, in 0 of 100 cases" in text
    assert "Fits with a case crystal gap at the centre of at least" in text
    assert owner_client.get(address).status_code == 302


def test_a_chance_between_is_told_beside_its_check_too(owner_client):
    pairing = PairingFactory(case__back_depth=3.90, case__back_depth_pm=0.05)
    text = owner_client.post(reverse("parts:pairing-chance", args=[pairing.pk]), posted(pairing)).text
    assert '<small id="chance-back-gap" hx-swap-oob="true">too close to call: fits in 5' in text
    assert "measure-next" in text


def test_a_report_of_the_first_edition_says_so_once_and_folded(owner_client):
    pairing = PairingFactory()
    save_with_report(pairing=pairing, answered=answer(pairing))
    report = Pairing.objects.get().report
    report.pop("edition")
    report["checks"] = [check for check in report["checks"] if check["key"] != "dial-bore"]
    Pairing.objects.update(report=report)
    text = " ".join(owner_client.get(page_of(pairing)).text.split())
    assert "Saved by the first edition of the fit check; 1 check reads differently now" in text
    assert "Changed since you saved" not in text
    assert Pairing.objects.get().report == report


def test_what_is_unlikely_is_told_on_the_check_and_where_it_was_entered(owner_client):
    case = CaseFactory(bore_diameter=70.0, crown_seat_radius=36.0)
    pairing = PairingFactory(case=case)
    says = "Look at the bore again: 70.00 mm is large for a watch."
    assert says in owner_client.get(page_of(pairing)).text
    assert says in owner_client.get(f"/parts/cases/{case.pk}/").text


def test_a_change_says_at_once_that_it_is_not_saved_and_leads_back_to_its_job(owner_client, owner):
    pairing, stem = PairingFactory(stem=None, crown=None), StemFactory()
    job = JobFactory(number="26-040")
    pairing = choosing.add_option(job=job, pairing=pairing, by=owner).pairing
    page = page_of(pairing)
    text = as_read(owner_client.get(page).text)
    assert "not saved yet" not in text
    assert f'<a href="{job.get_absolute_url()}">Job 26-040</a>' in text
    changed = as_read(owner_client.post(page, posted(pairing, stem=stem.pk), HTTP_HX_REQUEST="true").text)
    assert "Changed, not saved yet. Job 26-040 goes by what was saved." in changed
    assert 'value="save">Save the changes</button>' in changed
    assert "what-if-then" not in changed, "nowhere to put it while no number is tried"
    saved = owner_client.post(page, posted(pairing, stem=stem.pk, do="save", name="With stem"), follow=True)
    assert "is saved. Next: go on with job 26-040." in saved.text
    assert "not saved yet" not in saved.text


def test_changes_that_were_not_saved_are_there_again_until_saved_or_discarded(owner_client):
    pairing, other = PairingFactory(), MovementFactory()
    page = page_of(pairing)
    owner_client.post(
        page, posted(pairing, movement=other.pk, **{"what-if:stem.length": "7.10"}), HTTP_HX_REQUEST="true"
    )
    back = owner_client.get(page)
    assert back.context["pairing"].movement == other
    assert "Your changes from before are here, not saved yet." in back.text
    assert 'value="7.10"' in back.text
    assert Pairing.objects.get(pk=pairing.pk).movement == pairing.movement
    owner_client.get(page, {"discard": "1"})
    assert owner_client.get(page).context["pairing"].movement == pairing.movement
    owner_client.post(page, posted(pairing, movement=other.pk), HTTP_HX_REQUEST="true")
    owner_client.post(page, posted(pairing, movement=other.pk, do="save", name="With the other"))
    assert "not saved yet" not in owner_client.get(page).text
    assert Pairing.objects.get(pk=pairing.pk).movement == other


def test_a_small_seconds_hand_is_chosen_by_itself_among_sets_that_have_one(owner_client):
    pairing, plain = PairingFactory(), HandSetFactory(name="Old three-hand")
    own = HandSetFactory(name="Old small hand", hands=False, seconds=False, subsidiary={"small seconds": {"length": 2}})
    address = reverse("parts:pick", args=["hand-sets"])
    found = owner_client.get(address, {"words": "old", "name": "small_seconds_hand_from", "role": "small_seconds"}).text
    assert ("Old small hand" in found, "Old three-hand" in found) == (True, False)
    refused = owner_client.post(page_of(pairing), posted(pairing, do="save", small_seconds_hand_from=plain.pk))
    assert list(refused.context["form"].errors) == ["small_seconds_hand_from"]
    saved = owner_client.post(page_of(pairing), posted(pairing, do="save", small_seconds_hand_from=own.pk))
    assert saved.status_code == 302
    page = owner_client.get(page_of(pairing)).text
    assert ("Small seconds hand from" in page, "Old small hand" in page, "<b>in use</b>" in page) == (True, True, True)
    assert pairing.name in owner_client.get(f"/parts/hand-sets/{own.pk}/").text
    sheet = owner_client.get(f"{page_of(pairing)}sheet.json").json()
    assert sheet["hands"]["subsidiary"] == {"small seconds": {"length": 2}}
