"""Who is signed in where, links that work once, sign-ins that failed, forms sent, what was done when and how much."""

from django.conf import settings
from django.contrib.sessions.base_session import AbstractBaseSession
from django.db import models
from django.utils.translation import gettext_lazy as lazy


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


class CalendarAddress(models.Model):
    """The private address of the workshop's calendar, kept as the digest of its token; there is one at most."""

    digest = models.CharField(max_length=64, unique=True)
    with_names = models.BooleanField(lazy("put customers' names in"), default=False)
    made = models.DateTimeField(auto_now_add=True)

    def __str__(self):
        return "calendar address"


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


class AccountUse(models.Model):
    """How much an account did within an hour of something that has a limit; `much` in the unit of that limit."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="uses")
    what = models.CharField(max_length=16)
    hour = models.DateTimeField()
    much = models.BigIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["user", "what", "hour"], name="one_use_an_hour")]

    def __str__(self):
        return f"{self.what} of {self.user} from {self.hour:%H:%M}"


class AccessEvent(models.Model):
    """Something done to accounts or with all data; `by` is who did it, `whom` whose account it concerns.

    Written by `workshop.accounts.access_log` and never changed. Without an address it was done at the machine.
    """

    class Kind(models.TextChoices):
        """What happened; the labels are for people."""

        SIGNED_IN = "signed-in", lazy("Signed in")
        WRONG_PASSWORD = "wrong-password", lazy("Wrong name or password")
        WRONG_CODE = "wrong-code", lazy("Wrong second step")
        TURNED_AWAY = "turned-away", lazy("Turned away after wrong ones")
        REFUSED = "refused", lazy("Page refused")
        LIMIT_REACHED = "limit-reached", lazy("Limit of the account reached")
        ACCOUNT_ADDED = "account-added", lazy("Account added")
        ROLE_CHANGED = "role-changed", lazy("Role changed")
        SWITCHED_OFF = "switched-off", lazy("Account switched off")
        SWITCHED_ON = "switched-on", lazy("Account switched on")
        LINK_MADE = "link-made", lazy("Password link created")
        PASSWORD_CHANGED = "password-changed", lazy("Password changed")
        STEP_ADDED = "step-added", lazy("Second step added")
        STEP_REMOVED = "step-removed", lazy("Second step removed")
        EXPORTED = "exported", lazy("Everything exported")
        GIVEN_OUT = "given-out", lazy("Customer's data downloaded")
        ERASED = "erased", lazy("Customer's data erased")
        RESTORED = "restored", lazy("Backup restored")
        IMPORTED = "imported", lazy("Export imported")

    kind = models.CharField(max_length=16, choices=Kind.choices)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    whom = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+")
    address = models.CharField(max_length=45, blank=True)
    about = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return f"{self.get_kind_display()} at {self.at:%H:%M}"


class CodeApp(models.Model):
    """A phone's app that shows a new code every thirty seconds (RFC 6238): what it and the workshop both know.

    `last_step` is the half minute of the code that was taken last, so that none is taken twice.
    """

    user = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="code_app")
    secret = models.CharField(max_length=64)
    since = models.DateTimeField(auto_now_add=True)
    last_step = models.BigIntegerField(default=0)

    def __str__(self):
        return f"code app of {self.user}"


class RecoveryCode(models.Model):
    """A code that lets its person in once without phone or passkey; kept as a digest."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="recovery_codes")
    digest = models.CharField(max_length=64)

    def __str__(self):
        return f"recovery code of {self.user}"


class Passkey(models.Model):
    """A device's key to an account (Web Authentication, level 3): its public half, and how often it was used."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="passkeys")
    name = models.CharField(max_length=60)
    credential = models.CharField(max_length=1400, unique=True)
    public_key = models.BinaryField()
    uses = models.BigIntegerField(default=0)
    since = models.DateTimeField(auto_now_add=True)
    used = models.DateTimeField(null=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.name
