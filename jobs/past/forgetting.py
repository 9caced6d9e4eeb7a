"""What is left of erased texts in the records of past jobs: found, and gone once the records are made anew."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from django.db.models import Q

from jobs.models import PastText, PastWord
from jobs.past.record import rebuild

if TYPE_CHECKING:
    import re


def jobs_mentioning(pattern: re.Pattern[str]) -> set[int]:
    """Primary keys of the jobs whose record holds what the pattern finds, whichever text it came from."""
    records = PastText.objects.order_by().values_list("job", "told")
    return {job for job, texts in records.iterator(500) if any(pattern.search(text) for *_, text in texts)}


class Forgetting:
    """The words that stood in the records of these jobs (primary keys) before anything was erased."""

    def __init__(self, jobs: Collection[int]) -> None:
        self.jobs = jobs
        self.words = self._words()

    def rebuild(self) -> None:
        """Make the records anew, and take words out of the vocabulary that stand in no record any more."""
        rebuild(self.jobs)
        for word in self.words - self._words():
            if not PastText.objects.filter(Q(head__contains=word) | Q(body__contains=word)).exists():
                PastWord.objects.filter(word=word).delete()

    def _words(self):
        texts = PastText.objects.filter(job__in=self.jobs).values_list("head", "body")
        return {word for pair in texts for text in pair for word in text.split()}
