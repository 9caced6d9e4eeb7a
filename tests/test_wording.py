"""Holds every sentence on screen and on paper to one file for review, and to the words of the glossary."""

from tests import wording


def test_the_file_of_sentences_is_up_to_date():
    now, written = wording.as_text().splitlines(), wording.SENTENCES.read_text(encoding="utf-8").splitlines()
    changed = [f"- {line}" for line in written if line not in now] + [
        f"+ {line}" for line in now if line not in written
    ]
    assert now == written, f"renew it with {wording.COMMAND} and read what changed:\n" + "\n".join(changed)
