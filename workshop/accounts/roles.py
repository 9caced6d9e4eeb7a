"""The roles: what an account may see and do, kept in the two flags that Django has on every account."""

from enum import IntEnum


class Role(IntEnum):
    """Each may all that the ones before it may; an account without any flag has the least rights."""

    NOBODY = 0
    READER = 1
    BENCH = 2
    OWNER = 3


CHOICES = [("BENCH", "watchmaker"), ("READER", "viewer"), ("OWNER", "owner")]
MAY = {
    Role.OWNER: "Everything, money and accounts included.",
    Role.BENCH: "Everything at the bench, but no quotes, prices, fees, settings or accounts.",
    Role.READER: "Sees jobs, parts and papers; changes nothing, sees no money.",
}


def role_of(user) -> Role:
    """The role of an account; NOBODY for who is not signed in, or is switched off."""
    if not user.is_authenticated or not user.is_active:
        return Role.NOBODY
    if user.is_superuser:
        return Role.OWNER
    return Role.BENCH if user.is_staff else Role.READER


def role_word(user) -> str:
    """An account's role as a person says it, also of one that is switched off."""
    return dict(CHOICES)["OWNER" if user.is_superuser else "BENCH" if user.is_staff else "READER"]


def give_role(user, role: Role) -> None:
    """Set the flags of a role; the caller saves."""
    user.is_superuser = role == Role.OWNER
    user.is_staff = role >= Role.BENCH
