"""Holder and spacer pages: proposed, changed, kept by revision, tried, downloaded."""

import json
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from parts.demo import fill_workshop
from parts.designs.forms import DesignForm
from parts.designs.page import design_drawings
from parts.designs.revisions import keep_design, latest_design, parameters_of
from parts.designs.workbench import bench_for
from parts.holder.files import step
from parts.holder.findings.design import work_out
from parts.models import HolderDesign, Pairing
from tests.factories import CaseFactory, DialFactory, MovementFactory, PairingFactory
from tests.holder.pieces import ring
from tests.holder.readers import faults_of, read_3mf, read_stl

pytestmark = pytest.mark.django_db


@pytest.fixture
def pairing():
    """A movement of 22.00 mm in a bore of 26.20 mm, 3.40 mm of room behind the dial rest."""
    movement = MovementFactory(name="slim", fit_diameter=22.0, overall_diameter=22.0, stem_axis_depth=1.6)
    case = CaseFactory(name="one", bore_diameter_pm=0.0, stem_axis_depth=2.0)
    return PairingFactory(name="Grey one", case=case, dial=DialFactory(name="grey", feet=False), movement=movement)


def new_page(pairing, kind="ring"):
    return f"{reverse('parts:holder-new')}?pairing={pairing.pk}&kind={kind}"


@pytest.mark.parametrize("layer", ["-0.0", "0", "-1", "1e-300", "NaN", "1000"])
def test_a_layer_out_of_its_limits_is_an_error_and_nothing_is_proposed_by_it(owner_client, pairing, layer):
    page = owner_client.post(new_page(pairing), {"layer": layer, "height": "", "do": "keep"})
    assert page.status_code == 422
    assert HolderDesign.objects.count() == 0


def keep(owner_client, pairing, kind="ring", **typed):
    owner_client.post(new_page(pairing, kind), typed | {"do": "keep"})
    return HolderDesign.objects.order_by("-revision").first()


def test_a_new_ring_is_proposed_from_the_fit_check(owner_client, pairing):
    response = owner_client.get(new_page(pairing))
    design = response.context["piece"]
    assert (design.parameters.outside_diameter, design.parameters.inside_diameter) == (26.0, 22.05)
    assert design.parameters.height == pytest.approx(0.2 + 23 * 0.15)  # whole layers below 4.2 - 0.4 - 0.1
    assert "bore minus 0.10 mm all round" in response.text
    for name in ("plan", "holder-section", "walls", "picture"):
        assert f"drawing-{name}" in response.text
    assert HolderDesign.objects.count() == 0


def test_what_is_typed_stands_in_place_of_the_proposal(owner_client, pairing):
    text = owner_client.post(
        new_page(pairing), {"outside_diameter": "25,90", "cutouts": "200 2 0,8 0 1.5 cell spring"}
    ).text
    assert "outside ⌀25.90" in text
    assert "cell spring" in text
    assert 'value="25,90"' in text


def test_htmx_gets_the_answer_only(owner_client, pairing):
    text = owner_client.post(new_page(pairing), {"inside_diameter": "22.50"}, headers={"hx-request": "true"}).text
    assert "<html" not in text
    assert "inside ⌀22.50" in text
    assert 'name="outside_diameter"' not in text


def test_what_is_suggested_is_renewed_with_the_layers(owner_client, pairing):
    first = re.search(r'id="id_height-note"\s+data-proposed="([\d.]+)"', owner_client.get(new_page(pairing)).text)
    assert first[1] == "3.65"
    text = owner_client.post(new_page(pairing), {"layer": "0.2"}, headers={"hx-request": "true"}).text
    renewed = re.search(r'id="id_height-note"\s+data-proposed="([\d.]+)" hx-swap-oob="true"', text)
    assert renewed[1] == "3.60"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"inside_diameter": "27"}, "27.0 does not work: this cannot be made. It must be below the outside diameter."),
        ({"height": "tall"}, "“tall” is not a number."),
        ({"height": "3.6 ±0.1"}, "has a ±, which is not used here"),
        ({"cutouts": "45 wide"}, "Cannot read “45 wide”. Type angle, width, depth, from, to with spaces between"),
        ({"nub_count": "2.5"}, "It must be a whole number."),
    ],
)
def test_what_cannot_be_is_refused_at_its_field_and_nothing_is_kept(owner_client, pairing, typed, words):
    response = owner_client.post(new_page(pairing), typed | {"do": "keep"})
    assert response.status_code == 422
    assert words in response.text.replace("&#x27;", "'")
    assert response.text.count("field-wrong") == 1
    assert HolderDesign.objects.count() == 0


def test_what_is_not_measured_is_asked_for_and_may_be_typed(owner_client, pairing):
    pairing.case.bore_diameter = None
    pairing.case.save()
    text = owner_client.get(new_page(pairing)).text
    assert "Not measured yet: case bore diameter. Measure it, or type it here." in text
    assert "drawing-plan" not in text
    assert "drawing-plan" in owner_client.post(new_page(pairing), {"outside_diameter": "26"}).text


def test_a_design_is_kept_and_its_change_becomes_the_next_revision(owner_client, pairing):
    first = keep(owner_client, pairing, notes="first try")
    assert (first.revision, first.family, first.movement) == (1, pairing.case.family, pairing.movement)
    assert parameters_of(first).outside_diameter == 26.0
    page = reverse("parts:holder", args=[first.pk])
    text = owner_client.post(page, {"outside_diameter": "25.90"}).text
    assert re.search(r"Outside diameter: <output>26.00 mm</output> → <output>25.90 mm</output>", text)
    response = owner_client.post(page, {"outside_diameter": "25.90", "do": "keep"})
    second = HolderDesign.objects.get(revision=2)
    assert response.url == reverse("parts:holder", args=[second.pk])
    assert parameters_of(second).outside_diameter == 25.9
    assert HolderDesign.objects.get(revision=1).parameters["outside_diameter"] == 26.0


def test_a_result_is_recorded_and_a_new_design_starts_from_what_worked(owner_client, pairing):
    worked = keep(owner_client, pairing, outside_diameter="25.92")
    keep(owner_client, pairing, outside_diameter="25.80")
    data = {"result": "fits", "tried_on": "the grey one", "notes": "snug"}
    owner_client.post(reverse("parts:holder-result", args=[worked.pk]), data)
    worked.refresh_from_db()
    assert (worked.result, worked.tried_on, worked.notes) == ("fits", "the grey one", "snug")
    assert latest_design(pairing.case.family, pairing.movement) == worked
    response = owner_client.get(new_page(pairing))
    assert response.context["piece"].parameters.outside_diameter == 25.92
    assert "Starts from" in response.text


def test_the_latest_design_is_the_last_that_fits_else_the_last_worth_trying(pairing):
    family, movement = pairing.case.family, pairing.movement
    assert latest_design(family, movement) is None
    facts = {"family": family, "movement": movement, "kind": "ring", "pairing": pairing, "parameters": ring()}
    first, second, third = (keep_design(**facts) for _ in range(3))
    HolderDesign.objects.filter(pk=third.pk).update(result="reprint")
    assert latest_design(family, movement) == second
    HolderDesign.objects.filter(pk=first.pk).update(result="fits")
    assert latest_design(family, movement) == first
    HolderDesign.objects.filter(pk=first.pk).update(archived=True)
    assert latest_design(family, movement) == second
    assert latest_design(family, movement, "spacer") is None


@pytest.mark.parametrize("ending", ["stl", "3mf"])
def test_the_printable_files_hold_the_design(owner_client, pairing, ending):
    kept = keep(owner_client, pairing)
    response = owner_client.get(reverse("parts:holder-file", args=[kept.pk, ending]))
    assert re.search(rf'filename="ring-family-\d+-slim-r1.{ending}"', response["Content-Disposition"])
    triangles = read_stl(response.content) if ending == "stl" else read_3mf(response.content)[1]
    assert faults_of(triangles) == 0
    corners = [corner for triangle in triangles for corner in triangle]
    assert max(x for x, _, _ in corners) == pytest.approx(13.0, abs=0.001)
    assert (min(z for *_, z in corners), max(z for *_, z in corners)) == pytest.approx((0.0, 3.95), abs=1e-4)


@pytest.mark.parametrize(("ending", "holds"), [("dxf", "SECTION"), ("plan.svg", "mm"), ("walls.svg", "mm")])
def test_the_drawings_are_files_too(owner_client, pairing, ending, holds):
    response = owner_client.get(reverse("parts:holder-file", args=[keep(owner_client, pairing).pk, ending]))
    assert response.status_code == 200
    assert holds in response.text


def test_step_without_its_extra_says_so(owner_client, pairing, monkeypatch):
    monkeypatch.setattr(step, "installed", lambda: False)
    kept = keep(owner_client, pairing)
    response = owner_client.get(reverse("parts:holder-file", args=[kept.pk, "step"]), follow=True)
    assert "run “make step” once" in response.text


def test_the_turntables_mesh_comes_from_the_numbers_on_the_page(owner_client, pairing):
    address = owner_client.get(new_page(pairing)).context["mesh_address"]
    response = owner_client.get(address)
    assert faults_of(read_stl(response.content)) == 0
    for wrong in ("", "[]", "{}", json.dumps({"outside_diameter": "x"}), json.dumps({"outside_diameter": -1})):
        assert owner_client.get(reverse("parts:holder-mesh", args=["ring"]), {"p": wrong}).status_code == 404


def test_a_spacer_takes_the_fit_checks_thickness(owner_client, pairing):
    pairing.case.stem_axis_depth = 2.5
    pairing.case.save()
    response = owner_client.get(new_page(pairing, "spacer"))
    assert response.context["piece"].parameters.thickness == pytest.approx(0.5)


def test_cuts_that_leave_nothing_are_refused(owner_client, pairing):
    typed = {"outside_diameter": "25.8", "inside_diameter": "21", "thickness": "0.4", "do": "keep"}
    notches = "\n".join(f"{15 * i} 11.7 6" for i in range(24))
    response = owner_client.post(new_page(pairing, "spacer"), typed | {"notches": notches})
    assert response.status_code == 422
    assert "The cuts leave nothing" in response.text
    assert HolderDesign.objects.count() == 0


def test_a_surface_that_stays_open_is_refused_with_its_cause(owner_client, pairing, monkeypatch):
    monkeypatch.setattr("parts.designs.forms.opens_at", lambda parameters: "channel_width")
    response = owner_client.post(new_page(pairing), {"do": "keep"})
    assert response.status_code == 422
    assert "Here two faces only just touch" in response.text
    assert HolderDesign.objects.count() == 0


def test_without_a_family_or_a_movement_the_page_says_what_to_do(owner_client, pairing):
    pairing.case.family = None
    pairing.case.save()
    assert "Give this case a case family" in owner_client.get(new_page(pairing), follow=True).text
    pairing.movement = None
    pairing.save()
    assert "Choose a case and a movement first" in owner_client.get(new_page(pairing), follow=True).text
    assert "Choose the fit check" in owner_client.get(reverse("parts:holder-new"), {"pairing": "x"}, follow=True).text


def test_the_list_shows_designs_those_of_a_pairing_and_those_put_away(owner_client, pairing):
    kept = keep(owner_client, pairing)
    page = reverse("parts:holders")
    assert reverse("parts:holder", args=[kept.pk]) in owner_client.get(page).text
    assert "Design a holder ring" in owner_client.get(page, {"pairing": pairing.pk}).text
    assert "No design yet" in owner_client.get(page, {"pairing": PairingFactory().pk}).text
    owner_client.post(reverse("parts:holder-put-away", args=[kept.pk]), {"do": "put-away"})
    assert reverse("parts:holder", args=[kept.pk]) not in owner_client.get(page).text
    assert reverse("parts:holder", args=[kept.pk]) in owner_client.get(page, {"away": "1"}).text
    owner_client.post(reverse("parts:holder-put-away", args=[kept.pk]), {"do": "bring-back"})
    assert reverse("parts:holder", args=[kept.pk]) in owner_client.get(page).text


def test_the_pairing_leads_to_its_designs(owner_client, pairing):
    text = owner_client.get(reverse("parts:pairing", args=[pairing.pk])).text
    assert f'href="{reverse("parts:holders")}?pairing={pairing.pk}">Holder and spacer</a>' in text


def test_a_kept_design_has_its_drawings_for_a_paper(owner_client, pairing):
    drawn = design_drawings(keep(owner_client, pairing), section=178.0, plan=100.0, walls=76.0)
    assert [(title, made["scale"]) for title, made in drawn] == [
        ("Section along the stem", "6:1"),
        ("Plan from the dial side", "2:1"),
        ("Wall sections", "3:1"),
    ]
    assert all(made["svg"].startswith("<svg") and 'mm"' in made["svg"] for _, made in drawn)


@pytest.mark.parametrize("kind", ["ring", "spacer"])
def test_no_proposal_for_the_demos_pairings_fails_a_check_of_its_own(kind):
    """What cannot be made at all is not proposed, and says why; what is proposed has no check that says no."""
    fill_workshop()
    families = Pairing.objects.with_parts().filter(case__family__isnull=False, movement__isnull=False)
    looked_at = 0
    for pairing in families:
        bench = bench_for(pairing, kind)
        form = DesignForm({}, kind=kind, proposals=bench.propose({}))
        if not form.is_valid():
            assert all(form.proposals[name].value is None for name, *_ in form.faults), (pairing, form.faults)
            continue
        looked_at += 1
        piece = work_out(form.parameters, bench.around)
        assert [item.sentence for item in piece.findings if item.verdict == "no"] == [], pairing
    assert looked_at >= 8


@pytest.mark.parametrize(
    "chosen", [{"layer": "0.2", "first_layer": "0.2"}, {"process": "resin"}, {"process": "turned"}]
)
def test_heights_are_proposed_in_the_layers_that_were_chosen(owner_client, pairing, chosen):
    """A height in whole layers of 0.15 mm, printed in 0.20 mm, would come out up to 0.10 mm too tall."""
    findings = {c.key: c for c in owner_client.post(new_page(pairing), chosen).context["piece"].findings}
    assert str(findings["ring-gap"].verdict) == "fits"
    assert "printed-height" not in findings or str(findings["printed-height"].verdict) == "fits"


def test_a_kept_design_starts_from_what_was_kept_whatever_is_proposed(owner_client, pairing):
    typed = [{"process": "resin", "plus_minus": "0.05", "height": "3.10"}, {"process": "turned"}, {"layer": "0.2"}]
    for making in (*typed, {"mark_words": "R2", "plus_minus": "0.1"}, {"inside_diameter": "22.03", "process": "resin"}):
        kept = keep(owner_client, pairing, **making)
        response = owner_client.get(reverse("parts:holder", args=[kept.pk]))
        assert response.context["piece"].parameters == parameters_of(kept), making


def test_a_jobs_number_is_engraved_where_it_prints_and_can_be_left_out(owner_client, pairing):
    pairing.made_for = "26-014"
    pairing.save()
    pairing.case.bore_diameter, pairing.case.crown_seat_radius = 30.0, 20.0
    pairing.case.save()
    assert owner_client.get(new_page(pairing)).context["piece"].parameters.mark_words == "26-014"
    bare = keep(owner_client, pairing, mark_words="none")
    assert parameters_of(bare).mark_words == ""
    shown = owner_client.get(reverse("parts:holder", args=[bare.pk])).context["piece"].parameters
    assert shown == parameters_of(bare)
    named = keep(owner_client, pairing, mark_words="R9")
    assert parameters_of(named).mark_words == "R9"
    assert owner_client.get(new_page(pairing)).context["piece"].parameters.mark_words == "26-014"


def test_an_outline_is_typed_proposed_and_kept(owner_client, pairing):
    pairing.case.bore_diameter = None
    pairing.case.bore_outline = {"shape": "rectangle", "width": 26.2, "height": 29.0, "corner": 2.0}
    pairing.case.save()
    page = owner_client.get(new_page(pairing))
    assert "rectangle 26.00 × 28.80, corner 1.90" in page.text
    kept = keep(owner_client, pairing, outside_outline="oval 26,1 × 28.9")
    assert kept.parameters["outside_outline"] == {"shape": "oval", "width": 26.1, "height": 28.9}
    assert parameters_of(kept).outside_diameter == 0.0
    for ending in ("stl", "dxf", "plan.svg"):
        assert owner_client.get(reverse("parts:holder-file", args=[kept.pk, ending])).status_code == 200
    assert "oval 26.10 × 28.90" in owner_client.get(reverse("parts:holders")).text
    for wrong, words in (("rectangle 26", "An outline here is whole"), ("oval 26 ±0.1 × 28", "without ±")):
        response = owner_client.post(new_page(pairing), {"outside_outline": wrong, "do": "keep"})
        assert (response.status_code, words in response.text) == (422, True)


def test_an_outline_is_typed_by_plain_numbers_and_is_there_again_in_them(owner_client, pairing):
    cushion = {"": "", "_shape": "rectangle", "_width": "26,1", "_height": "28.9", "_corner": "3"}
    kept = keep(owner_client, pairing, **{f"outside_outline{end}": text for end, text in cushion.items()})
    assert kept.parameters["outside_outline"] == {"shape": "rectangle", "width": 26.1, "height": 28.9, "corner": 3.0}
    field = owner_client.get(reverse("parts:holder", args=[kept.pk])).context["form"]["outside_outline"]
    assert field.value() == ["rectangle", "26.10", "28.90", "3.00", ""]
    assert 'name="outside_outline_width" value="26.10"' in str(field)
    points = {"_shape": "polyline", "": "13, 14\n-13, 14\n-13, -14\n13, -14"}
    free = keep(owner_client, pairing, **{f"outside_outline{end}": text for end, text in points.items()}, chamfer="0")
    assert free.parameters["outside_outline"]["points"][0] == [13.0, 14.0]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"_shape": "rectangle", "_width": "26.1"}, "type each of its sizes"),
        ({"_shape": "oval", "_width": "wide", "_height": "28"}, "wide"),
        ({"_shape": "oval", "_width": "26", "_height": "28", "_corner": "2"}, "an oval has no corner radius"),
        ({"_shape": "polyline"}, "Type the outline&#x27;s points, or choose a drawing of it."),
        ({"_width": "26"}, "Choose the shape that these sizes are of"),
    ],
)
def test_a_bad_outline_is_refused_on_its_field_with_what_was_typed(owner_client, pairing, typed, words):
    sent = {f"outside_outline{end}": text for end, text in typed.items()} | {"do": "keep"}
    response = owner_client.post(new_page(pairing), sent)
    assert (response.status_code, words in response.text) == (422, True)
    for text in typed.values():
        assert text in response.context["form"]["outside_outline"].value()


def test_an_outline_is_read_from_a_drawing(owner_client, pairing):
    square = b'<path d="M-13 -14H13V14H-13Z"/>'
    drawing = b'<svg xmlns="http://www.w3.org/2000/svg" width="40mm" viewBox="-20 -20 40 40">' + square + b"</svg>"
    typed = {"outside_outline_shape": "polyline", "outside_outline_file": SimpleUploadedFile("edge.svg", drawing)}
    kept = keep(owner_client, pairing, **typed, chamfer="0")
    assert sorted(kept.parameters["outside_outline"]["points"]) == [[-13, -14], [-13, 14], [13, -14], [13, 14]]


def test_a_round_edge_is_picked_where_an_outline_is_suggested(owner_client, pairing):
    pairing.case.bore_diameter = None
    pairing.case.bore_outline = {"shape": "oval", "width": 26.2, "height": 29.0}
    pairing.case.save()
    typed = {"outside_outline_shape": "none", "outside_outline": "", "outside_diameter": "26"}
    page = owner_client.post(new_page(pairing), typed)
    assert page.context["piece"].parameters.outer.shape == "round"


def test_a_round_ring_may_be_made_for_an_outlined_bore(owner_client, pairing):
    pairing.case.bore_diameter = None
    pairing.case.bore_outline = {"shape": "oval", "width": 26.2, "height": 29.0}
    pairing.case.save()
    typed = {"outside_outline": "none", "outside_diameter": "26"}
    design = owner_client.post(new_page(pairing), typed).context["piece"]
    assert design.parameters.outer.shape == "round"


def test_the_page_of_a_kept_design_leads_with_its_verdict_and_its_file(owner_client, pairing):
    kept = keep(owner_client, pairing)
    text = owner_client.get(reverse("parts:holder", args=[kept.pk])).text
    order = [text.index(words) for words in ("Download STL", "verdict-banner", "drawing-plan", "Dimensions</h2>")]
    assert order == sorted(order)


def test_an_older_design_stays_what_it_was(owner_client, pairing):
    """Kept before outlines, holds and marks: it has none of them, whatever is suggested today."""
    kept = keep(owner_client, pairing)
    newer = (
        "outline",
        "mark_",
        "lip_",
        "tab_",
        "tongue_",
        "split_",
        "held_by",
        "clamp_count",
        "rim_height",
        "plus_minus",
    )
    kept.parameters = {
        name: value for name, value in kept.parameters.items() if not any(word in name for word in newer)
    }
    kept.save()
    piece = owner_client.get(reverse("parts:holder", args=[kept.pk])).context["piece"]
    assert piece.parameters == parameters_of(kept)
    assert (piece.parameters.mark_width, piece.parameters.held_by) == (0.0, "case back")


def test_the_words_follow_the_revision_where_they_ask_for_it(owner_client, pairing):
    pairing.case.bore_diameter, pairing.case.crown_seat_radius = 30.0, 20.0
    pairing.case.save()
    typed = {"mark_words": "R#", "mark_size": "2.3"}
    assert owner_client.post(new_page(pairing), typed).context["piece"].parameters.mark_words == "R1"
    first = keep(owner_client, pairing, **typed)
    assert (first.parameters["mark_words"], parameters_of(first).mark_words) == ("R#", "R1")
    page = reverse("parts:holder", args=[first.pk])
    shown = owner_client.get(page)
    assert shown.context["piece"].parameters.mark_words == "R1"
    assert shown.context["form"]["mark_words"].value() == "R#"
    changed = owner_client.post(page, typed | {"height": "3.00"})
    assert changed.context["piece"].parameters.mark_words == "R2"
    owner_client.post(page, typed | {"height": "3.00", "do": "keep"})
    assert parameters_of(HolderDesign.objects.latest("revision")).mark_words == "R2"


def test_where_an_outline_stands_no_diameter_of_nothing_is_shown(owner_client, pairing):
    pairing.case.bore_diameter = None
    pairing.case.bore_outline = {"shape": "rectangle", "width": 26.2, "height": 29.0, "corner": 2.0}
    pairing.case.save()
    page = owner_client.get(new_page(pairing)).text
    note = re.search(r'id="id_outside_diameter-note".*?</span>', page, re.DOTALL).group()
    assert "26.00 × 28.80, corner 1.90" in note
    assert 'data-proposed="outline"' in note
    assert "0.00" not in note


def test_the_step_follows_the_rim_once_that_is_measured(owner_client, pairing):
    pairing.movement.overall_diameter = 22.6
    pairing.movement.save()
    guessed = owner_client.get(new_page(pairing)).context["form"].proposals["flange_depth"]
    assert "a guess" in guessed.note
    measured = owner_client.post(new_page(pairing), {"rim_height": "0,95"})
    assert measured.context["piece"].parameters.flange_depth == 0.95
    assert measured.context["form"].proposals["flange_depth"].note == "the rim as it is measured"
