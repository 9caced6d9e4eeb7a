"""The PDF maker: letters of any script, and no file that a text names."""

import pypdfium2
import pytest

from parts.tools.papers.pdf import to_pdf


def picture(letters):
    page = to_pdf(f'<html lang="en"><title>x</title><p>{letters}</p></html>')
    return pypdfium2.PdfDocument(page)[0].render(scale=2).to_pil().convert("L").tobytes()


@pytest.mark.parametrize(
    ("one", "other"),
    [("한", "국"), ("時", "計"), ("น", "ฬ"), ("घ", "ड"), ("س", "ع"), ("ש", "ע"), ("Ж", "Ф"), ("ს", "თ"), ("க", "ட")],
)
def test_letters_of_any_script_print_as_themselves_and_not_as_boxes(one, other):
    assert picture(one) != picture(other)


def test_a_file_that_a_text_names_is_not_read(tmp_path):
    (tmp_path / "secret.txt").write_text("secret")
    plain = picture("x")
    assert picture(f'x<object data="file://{tmp_path}/secret.txt"></object>') == plain
