"""Records to sheet and back, without loss."""

import pytest

from parts.fit.errors import SheetError
from parts.fit.sheet import read_sheet
from parts.models import Case, Dial, Pairing
from parts.pairings.what_if import with_changes
from parts.sheets import records_from_sheet, sheet_for, sheet_of, sources_of
from tests.factories import CaseFactory, DialFactory, HandSetFactory, MovementFactory, PairingFactory

pytestmark = pytest.mark.django_db


def test_a_dimension_stands_in_the_sheet_with_its_plus_minus_or_as_null():
    case = CaseFactory(bore_diameter=27.4, bore_diameter_pm=0.02, back_depth=None)
    sheet = sheet_for(case=case)
    assert sheet["case"]["bore_diameter"] == [27.4, 0.02]
    assert sheet["case"]["dial_seat_diameter"] == 26.0
    assert sheet["case"]["back_depth"] is None
    assert sheet["case"]["construction"] == "back"
    assert sheet["dial"] == sheet["movement"] == sheet["hands"] == sheet["stem"] == sheet["crown"] == {}


def test_rows_tell_none_from_not_looked_at():
    looked = DialFactory(feet=False)
    unseen = DialFactory(feet=False, feet_recorded=False)
    assert sheet_for(dial=looked)["dial"]["feet"] == []
    assert sheet_for(dial=unseen)["dial"]["feet"] is None


def test_the_whole_sheet_has_the_form_that_the_engine_reads():
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    sheet, _ = read_sheet(sheet_of(pairing))
    assert sheet.dial.window.radius.value == 10.2
    assert sheet.dial.feet[1].angle.value == 235.0
    assert sheet.dial.furniture[0].name == "markers"
    assert sheet.movement.posts.minute.height.value == 1.9
    assert sheet.movement.date.numeral_radius.value == 10.2
    assert sheet.movement.foot_holes[0].diameter.value == 0.75
    assert sheet.movement.unbalance_limits.seconds.value == 0.08
    assert sheet.hands.seconds.tail.value == 4.0
    assert sheet.crown.style == "push"


@pytest.mark.parametrize("dated", [True, False])
def test_a_sheet_becomes_records_and_the_same_sheet_again(dated):
    sheet = sheet_of(
        PairingFactory(
            dial=DialFactory(dated=dated, day_window=dated, feet=dated),
            movement=MovementFactory(dated=dated, foot_holes_recorded=dated, foot_holes=dated),
            hands=HandSetFactory(seconds=dated),
            placement="rear",
        )
    )
    made = records_from_sheet(sheet, name="as sent")
    read_back = Pairing.objects.with_parts().get(pk=made.pk)
    assert sheet_of(read_back) == sheet
    assert str(read_back.dial) == "as sent"


def test_parts_left_out_of_a_sheet_stay_unchosen():
    made = records_from_sheet({"case": {"bore_diameter": 26}, "stem": {}}, name="half a watch")
    assert made.case.bore_diameter == 26.0
    assert made.stem is None
    assert made.movement is None
    assert made.placement == "auto"


def test_bench_rules_of_a_sheet_become_changes_of_the_pairing():
    sheet = sheet_of(PairingFactory()) | {"rules": {"gap_min": 0.2, "stem_tol": 0.05}}
    made = records_from_sheet(sheet, name="stricter")
    assert made.what_if == {"rules.gap_min": "0.2", "rules.stem_tol": "0.05"}
    assert with_changes(sheet_of(made), made.what_if) == (sheet, {})


def test_an_impossible_sheet_is_refused_and_leaves_nothing_behind():
    with pytest.raises(SheetError, match=r"dial.feet\[0\].radius is -1"):
        records_from_sheet({"case": {"bore_diameter": 26}, "dial": {"feet": [{"radius": -1}]}}, name="x")
    with pytest.raises(SheetError, match=r"dial.furniture\[0\]"):
        records_from_sheet({"case": {"bore_diameter": 26}, "dial": {"furniture": [{"name": "n" * 81}]}}, name="x")
    assert not Case.objects.exists()
    assert not Dial.objects.exists()


def test_sources_are_named_for_what_is_measured():
    case = CaseFactory(back_depth=None, bore_diameter_source="e")
    movement = MovementFactory(current_source="s")
    found = sources_of(PairingFactory(case=case, movement=movement))
    assert found["case.bore_diameter"] == "estimated"
    assert found["movement.current"] == "maker's sheet"
    assert found["dial.feet[1].angle"] == "measured"
    assert found["movement.posts.hour.height"] == "measured"
    assert found["hands.seconds.mass"] == "measured"
    assert "case.back_depth" not in found


def test_reading_pairings_takes_a_fixed_number_of_queries(django_assert_num_queries):
    PairingFactory.create_batch(3)
    with django_assert_num_queries(5):
        sheets = [(sheet_of(pairing), sources_of(pairing)) for pairing in Pairing.objects.with_parts()]
    assert len(sheets) == 3


class TestWhatIf:
    def changed(self, **changes):
        sheet = sheet_of(PairingFactory(dial=DialFactory(dated=True)))
        return with_changes(sheet, {path.replace("__", "."): text for path, text in changes.items()})

    def test_a_number_takes_the_place_of_the_parts_own(self):
        sheet, faults = self.changed(case__bore_diameter="27,10 ±0.05", dial__window__radius="10.5")
        assert sheet["case"]["bore_diameter"] == [27.1, 0.05]
        assert sheet["dial"]["window"]["radius"] == 10.5
        assert faults == {}

    def test_rows_and_bench_rules_can_be_changed_and_empty_means_not_measured(self):
        pairing = PairingFactory()
        own = sheet_of(pairing)
        sheet, faults = with_changes(
            own, {"dial.feet[1].radius": "11.7", "rules.gap_min": "0.2", "case.back_depth": " "}
        )
        assert sheet["dial"]["feet"][1]["radius"] == 11.7
        assert own["dial"]["feet"][1]["radius"] == 11.0
        assert sheet["rules"] == {"gap_min": 0.2}
        assert sheet["case"]["back_depth"] is None
        assert faults == {}

    @pytest.mark.parametrize(
        ("path", "text", "message"),
        [
            ("case.bore_diameter", "wide", "not a number"),
            ("case.bore_diameter", "-1", "above 0, at most 100 mm"),
            ("case.colour", "1", "unknown dimension"),
            ("dial.feet", "1", "unknown dimension"),
            ("dial.feet[x].radius", "1", "unknown dimension"),
            ("dial.feet[9].radius", "1", "not chosen"),
            ("movement.date.angle", "1", "not chosen"),
            ("rules.nonsense", "1", "unknown bench rule"),
            ("rules.gap_min", "0.1 ±0.1", "without a plus-minus"),
        ],
    )
    def test_what_cannot_be_is_left_out_and_told(self, path, text, message):
        own = sheet_of(PairingFactory())
        sheet, faults = with_changes(own, {path: text, "case.back_depth": "5"})
        assert message in faults.pop(path)
        assert faults == {}
        assert sheet == own | {"case": own["case"] | {"back_depth": 5.0}}
