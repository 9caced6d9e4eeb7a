"""Who is signed in where, links that work once, sign-ins that failed, and forms that were sent."""

from django.conf import settings
from django.contrib.sessions.base_session import AbstractBaseSession
from django.db import models


class Session(AbstractBaseSession):
    """A signed-in device: Django's session with what its owner wants to know of it. Its row gone, it is signed out."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, null=True, related_name="sessions")
    browser = models.CharField(max_length=120, blank=True)
    address = models.CharField(max_length=45, blank=True)
    since = models.DateTimeField(null=True)
    used = models.DateTimeField(null=True)
    trusted = models.BooleanField(default=False)

    class Meta:
        ordering = ["-used"]


class OneTimeLink(models.Model):
    """A link that works once: kept as the digest of its token. Without a user it makes the owner's account."""

    digest = models.CharField(max_length=64, unique=True)
    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, null=True, related_name="link")
    until = models.DateTimeField(null=True)

    def __str__(self):
        return f"link for {self.user or 'the first start'}"


class ProvenPassword(models.Model):
    """That a password stood the test of strength; `digest` is of the stored hash, so a changed one has to again."""

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="proven")
    digest = models.CharField(max_length=64)

    def __str__(self):
        return f"password of {self.user}"


class SignInFailure(models.Model):
    """A wrong name or password, or an attempt that is being judged."""

    name = models.CharField(max_length=150)
    address = models.CharField(max_length=45)
    at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["at"])]

    def __str__(self):
        return f"{self.address} at {self.at:%H:%M}"


class SentForm(models.Model):
    """A form that was sent, by a digest of its page and of what was typed, and the address that it led to."""

    key = models.CharField(max_length=64, unique=True)
    location = models.TextField(blank=True)
    at = models.DateTimeField(db_index=True)

    def __str__(self):
        return f"form sent at {self.at:%H:%M}"
