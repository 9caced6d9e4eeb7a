"""A quote goes out: frozen, printed and kept as one action."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction

from jobs.papers.making import keep_paper
from jobs.quotes import versions

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Quote


@transaction.atomic
def send_quote(*, quote: Quote, address: str, by: User) -> Quote:
    """Freeze a draft and keep the paper that goes out; `address` is what its code opens.

    Raises Frozen for one that is out, NotReady for one that cannot go out yet; nothing is changed then, nor where the
    paper cannot be kept.
    """
    sent = versions.send(quote=quote, by=by)
    keep_paper(job=sent.job, kind="quote", address=address, by=by, quote=sent)
    return sent
