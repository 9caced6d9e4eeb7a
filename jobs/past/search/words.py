"""Words as the search knows them: folded, kept in a vocabulary, and corrected where they are mistyped.

Folding takes case and accents away (Unicode NFKD without combining marks) and leaves letters and digits only: nothing
is left that a database's query language could take for a sign of its own.
"""

import re
import unicodedata
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

from jobs.models import PastWord

TOKEN = re.compile(r"[^\W_]+")
LONGEST = 60
"""Letters of a word that are kept."""
_MOST = 8
"""Words of a search that count."""
_NEAR = 6
"""Words at most that a mistyped one is taken for."""
_OTHER = str.maketrans({"ø": "o", "đ": "d", "ł": "l", "æ": "ae", "œ": "oe", "þ": "th", "ð": "d"})
"""Letters that NFKD does not take apart."""


class Term(NamedTuple):
    """One word of a search: `starts` is what a word found begins with, or `near` the words it was taken for."""

    typed: str
    starts: str = ""
    near: tuple = ()

    def holds(self, word):
        """Whether a folded word is meant by this term."""
        return word.startswith(self.starts) if self.starts else word in self.near


def fold(text):
    """The text in lower case without accents."""
    lowered = text.casefold()
    if lowered.isascii():
        return lowered
    apart = unicodedata.normalize("NFKD", lowered.translate(_OTHER))
    return "".join(char for char in apart if not unicodedata.combining(char)).casefold()


def words_of(text):
    """The folded words of a text, in their order."""
    return [word[:LONGEST] for word in TOKEN.findall(fold(text))]


def terms_of(text):
    """What a typed search means; a word that nobody wrote is taken for the nearest ones that somebody did.

    Near are words within one slip (letter missing, added, wrong or swapped with its neighbour) for four letters, two
    from seven on. A word without anything near stays as it is and finds nothing.
    """
    typed = list(dict.fromkeys(words_of(text[:400])))[:_MOST]
    return [Term(word, starts=word) if _is_known(word) else _nearest(word) for word in typed]


def _is_known(word):
    after = word[:-1] + chr(min(ord(word[-1]) + 1, 0x10FFFF))
    return PastWord.objects.filter(word__gte=word, word__lt=after).exists()


def _nearest(word):
    slips = 0 if len(word) < 4 or word.isdigit() else 1 if len(word) < 7 else 2
    if not slips:
        return Term(word, starts=word)
    lengths = range(len(word) - slips, len(word) + slips + 1)
    known = list(PastWord.objects.filter(length__in=lengths).values_list("word", flat=True))
    nearest = process.extract(word, known, scorer=OSA.distance, score_cutoff=slips, limit=_NEAR)
    least = min((slip for _, slip, _ in nearest), default=0)
    return (
        Term(word, near=tuple(sorted(candidate for candidate, slip, _ in nearest if slip == least)))
        if nearest
        else Term(word, word)
    )


def learn_words(texts):
    """Add the words of folded texts to the vocabulary; bare numbers are no words to be held against.

    They go in sorted, so that two who add the same words at once do not wait for each other.
    """
    words = {word for text in texts for word in text.split() if not word.isdigit()}
    rows = [PastWord(word=word, length=len(word)) for word in sorted(words)]
    PastWord.objects.bulk_create(rows, ignore_conflicts=True, batch_size=1000)
