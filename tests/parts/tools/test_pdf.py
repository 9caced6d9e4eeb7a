"""The PDF maker: letters of any script, and no file that a text names."""

import pypdfium2
import pytest

from parts.tools.papers.pdf import to_pdf


def picture(letters):
    page = to_pdf(f'<html lang="en"><title>x</title><p>{letters}</p></html>')
    return pypdfium2.PdfDocument(page)[0].render(scale=2).to_pil().convert("L").tobytes()


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("한", "국"),
        ("時", "計"),
        ("น", "ฬ"),
        ("घ", "ड"),
        ("س", "ع"),
        ("ש", "ע"),
        ("Ж", "Ф"),
        ("ს", "თ"),
        ("க", "ட"),
        ("🙂", "🚀"),
    ],
)
def test_letters_of_any_script_print_as_themselves_and_not_as_boxes(one, other):
    assert picture(one) != picture(other)


def test_a_file_that_a_text_names_is_not_read(tmp_path):
    (tmp_path / "secret.txt").write_text("secret")
    plain = picture("x")
    assert picture(f'x<object data="file://{tmp_path}/secret.txt"></object>') == plain


@pytest.mark.parametrize(
    ("words", "at_the_right"),
    [("ساعة قديمة", True), ("<b>שעון</b> 1", True), ("old watch", False), ("12 · שעון", True)],
)
def test_a_line_of_somebodys_own_words_runs_in_its_own_direction(words, at_the_right):
    page = to_pdf(f'<html lang="en"><title>x</title><p dir="auto">{words}</p></html>')
    grey = pypdfium2.PdfDocument(page)[0].render(scale=2).to_pil().convert("L")
    ink = grey.crop((0, 0, grey.width, 200)).point(lambda dot: 255 if dot < 128 else 0).getbbox()
    assert (ink[0] > grey.width / 2) is at_the_right
