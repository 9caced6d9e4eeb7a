"""Sending one message by the shop's own mail server, after somebody has seen it. Without such a server, nothing is."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING

from django.conf import settings
from django.core.mail import EmailMessage
from django.utils import timezone

from jobs.after.noting import ask
from jobs.history import record
from jobs.models import Event

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.after.due import Due
    from jobs.models import Job


class NotSent(OSError):
    """The message did not go; says why and what to do."""


def can_send(job: Job) -> bool:
    """Whether there is a mail server, and a customer who has an address and wants letters."""
    return bool(settings.EMAIL_HOST and job.customer.email and not job.customer.no_letters)


def send(*, job: Job, due: Due, subject: str, body: str, by: User) -> None:
    """Send the message and keep it in the job's history. Raises NotSent, and then nothing counts as sent."""
    if not can_send(job):
        raise NotSent("This customer gets no e-mail from here. Nothing was sent.")
    try:
        EmailMessage(subject, body, settings.DEFAULT_FROM_EMAIL, [job.customer.email]).send()
    except (OSError, ValueError) as error:
        logging.getLogger("workshop").warning("A message was not sent: %s", type(error).__name__)
        raise NotSent(
            f"The mail server did not take the message ({_reason(error)}). Nothing was sent; what you wrote is still "
            "here."
        ) from error
    record(job=job, by=by, kind=Event.Kind.LETTER, data={"of": due.kind}, after=f"{subject}\n\n{body}")
    ask(job=job, due=due, on=timezone.localdate(), by=by)


def _reason(error):
    code = getattr(error, "smtp_code", None)
    if code:
        return f"its answer was {code}"
    if refused := getattr(error, "recipients", None):
        return f"its answer was {next(iter(refused.values()))[0]}"
    return "it does not answer" if isinstance(error, OSError) else "an address in it is not valid"
