"""What the records hold and refuse."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError
from django.db.models import ProtectedError
from django.template.loader import render_to_string

from parts import models
from parts.dimensions.cards import OUTLINES, SMALL
from parts.dimensions.field import Source
from parts.fit.records import describe, paths
from parts.library.groups import Group
from parts.library.kinds import KINDS
from parts.library.sketches import SKETCHES, of_the_hour
from tests.factories import CaseFactory, DialFactory, HandFactory, HandSetFactory, MovementFactory, PairingFactory

pytestmark = pytest.mark.django_db
MEASURED = [model for model in vars(models).values() if getattr(model, "dimensions", None)]


def test_one_declaration_gives_value_plus_minus_and_source():
    field = models.Case._meta.get_field
    assert field("bore_diameter").null
    assert field("bore_diameter_pm").default == 0.0
    assert field("bore_diameter_source").default == Source.MEASURED
    assert models.Movement._meta.get_field("current_source").default == Source.SHEET
    spec = models.Case.dimensions["bore_diameter"]
    assert (spec.path, spec.input.unit, spec.input.most) == ("case.bore_diameter", "mm", 100.0)
    assert "bore_diameter" not in models.Dial.dimensions


def test_every_number_of_the_sheet_has_its_place_in_the_records():
    wanted = {path for path in paths() if describe(path.replace("[]", "[0]")).input}
    held = {one.path for model in MEASURED for one in model.dimensions.values()}
    other_hands = {path.replace("hands.hour", f"hands.{role}") for path in held for role in ("minute", "seconds")}
    pieces = tuple(piece.path for model in (*MEASURED, models.HandSet) for piece in model.pieces.values())
    whole = {path for path in wanted if path.startswith(pieces)}
    assert whole
    assert wanted - whole == held | other_hands
    assert not whole & held


def test_choices_are_those_of_the_sheet():
    assert models.Case.Loading.values == ["back", "front"]
    assert [value for value in models.Crown.Style.values if value] == ["push", "screw"]
    assert models.Pairing.Placement.values == ["auto", "front", "rear"]
    assert models.Hand.Role.values == ["hour", "minute", "seconds"]


def test_every_length_and_angle_has_a_sketch_on_an_outline_of_its_kind():
    lengths = {one.path for model in MEASURED for one in model.dimensions.values() if one.input.unit in ("mm", "deg")}
    small = {path for path in SMALL if of_the_hour(path) == path}
    assert set(SKETCHES) == lengths | set(OUTLINES) | small
    drawn = "".join(render_to_string(kind.outlines) for kind in KINDS.values() if kind.outline)
    for sketch in SKETCHES.values():
        assert drawn.count(f'id="outline-{sketch.outline}"') == 1


def test_every_field_of_a_kind_stands_in_one_group():
    for kind in KINDS.values():
        named = [name for group in kind.groups if not group.role for name in group.fields]
        columns = {column for one in kind.model.dimensions.values() for column in one.columns[1:]}
        plain = {
            field.name
            for field in kind.model._meta.fields
            if field.editable and not field.primary_key and field.name not in columns
        }
        assert len(named) == len(set(named))
        assert set(named) == plain
        assert all(isinstance(group, Group) for group in kind.groups)


def test_a_dimension_is_typed_shown_and_sourced():
    case = CaseFactory.build(family=None, bore_diameter=27.4, bore_diameter_pm=0.02, bore_diameter_source="s")
    bore, depth = models.Case.dimensions["bore_diameter"], models.Case.dimensions["back_depth"]
    assert (bore.text(case), bore.shown(case), bore.source(case)) == ("27.40 ±0.02", "27.40 ±0.02 mm", "maker's sheet")
    case.back_depth = None
    assert (depth.text(case), depth.shown(case), depth.source(case)) == ("", "", "")


@pytest.mark.parametrize(
    ("column", "value", "message"),
    [
        ("bore_diameter", 0.0, "0.00 mm is out of range: bore diameter must be above 0, at most 100 mm"),
        ("bore_diameter", 100.01, "100.01 mm is out of range"),
        ("bore_diameter", float("nan"), "must be a finite number"),
        ("back_depth", -0.1, "−0.10 mm is out of range: back depth must be between 0 and 100 mm"),
        ("stem_angle", 361.0, "361° is out of range: stem angle must be between -360 and 360 degrees"),
    ],
)
def test_a_value_outside_its_limits_is_refused_on_its_field(column, value, message):
    case = CaseFactory.build(family=None, **{column: value})
    with pytest.raises(ValidationError) as caught:
        case.clean()
    assert list(caught.value.message_dict) == [column]
    assert message in caught.value.message_dict[column][0]


@pytest.mark.parametrize("value", [100.0, 1e-4])
def test_limits_themselves_are_accepted(value):
    CaseFactory.build(family=None, bore_diameter=value).clean()


def test_a_bad_plus_minus_is_told_from_a_bad_value():
    with pytest.raises(ValidationError, match="A plus-minus of 200.00 mm is out of range"):
        CaseFactory(bore_diameter_pm=200.0).clean()


def test_every_fault_of_a_record_is_told_at_once():
    with pytest.raises(ValidationError) as caught:
        CaseFactory(bore_diameter=-1, back_depth=-1).clean()
    assert set(caught.value.message_dict) == {"bore_diameter", "back_depth"}


def test_a_dial_without_a_window_has_none_of_its_dimensions():
    dial = DialFactory(dated=True)
    dial.clean()
    assert "window_angle" in dial.applying
    dial.has_window = False
    assert "window_angle" not in dial.applying
    with pytest.raises(ValidationError, match="You entered the window angle of a date window"):
        dial.clean()


def test_rates_stand_in_their_order():
    movement = MovementFactory(rate_low_s_per_day=1.0, rate_high_s_per_day=0.5)
    with pytest.raises(ValidationError, match="0.5 s/day is slower than the slowest rate, 1 s/day"):
        movement.clean()
    movement.rate_high_s_per_day = 1.0
    movement.clean()


def test_a_set_has_one_hand_of_each_role():
    with pytest.raises(IntegrityError):
        HandFactory(hand_set=HandSetFactory(), role="hour")


def test_a_used_part_cannot_vanish():
    pairing = PairingFactory()
    for name in ("case", "dial", "movement", "hands", "stem", "crown"):
        with pytest.raises(ProtectedError):
            getattr(pairing, name).delete()


def test_names_show_the_family():
    assert str(CaseFactory(name="36 mm", family__name="Tern")) == "Tern 36 mm"
    assert str(CaseFactory(name="36 mm", family=None)) == "36 mm"
    assert str(DialFactory(name="white")) == "white"
