"""Holds that a template can be read: no line runs out of the window."""

from tests.test_architecture import ROOT

LONGEST = 160


def test_no_line_of_a_template_is_longer_than_a_window_is_wide():
    templates = sorted(path for path in (ROOT / "templates").rglob("*") if path.is_file())
    assert len(templates) > 100
    long = [
        f"{path.relative_to(ROOT)}:{number} has {len(line)} columns"
        for path in templates
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if len(line) > LONGEST
    ]
    assert long == []
