"""How a choice is written: as Django's own templates write it, but for the words in place of dashes."""

from django import forms


class Order(forms.Form):
    use_required_attribute = False
    colour = forms.ChoiceField(choices=[("", "---------"), ("a&b", "ash & birch"), ("c", "cream")], required=False)
    part = forms.ChoiceField(choices=[("case", [("7", "Round")]), ("dial", [("8", "<Oval>"), ("9", "Square")])])


def written(initial, name):
    return str(Order(initial=initial)[name].as_widget())


def test_a_choice_has_its_options_escaped_and_the_chosen_one_marked():
    assert written({"colour": "a&b"}, "colour") == (
        '<select name="colour" id="id_colour"><option value="">not given</option>'
        '<option value="a&amp;b" selected>ash &amp; birch</option><option value="c">cream</option></select>'
    )


def test_groups_are_named_and_attributes_kept():
    assert str(Order(initial={"part": "8"})["part"].as_widget(attrs={"autofocus": True, "disabled": False})) == (
        '<select name="part" id="id_part" autofocus><optgroup label="case"><option value="7">Round</option></optgroup>'
        '<optgroup label="dial"><option value="8" selected>&lt;Oval&gt;</option><option value="9">Square</option>'
        "</optgroup></select>"
    )
