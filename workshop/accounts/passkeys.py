"""Passkeys: a device that proves at signing in that its owner unlocked it (Web Authentication, level 3).

A browser gives one only to a page with a name in its address, over TLS or on this machine; by a bare number or past a
certificate that it does not trust it has none. The code of an app goes everywhere.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from ipaddress import ip_address
from typing import TYPE_CHECKING, Any

from django.db import IntegrityError, transaction
from django.http.request import split_domain_port
from django.utils import timezone

from workshop.models import Passkey

if TYPE_CHECKING:
    from django.contrib.auth.models import User
    from django.http import HttpRequest


@dataclass(frozen=True, slots=True)
class Site:
    """The workshop as a passkey knows it: by the name and the origin in the address line."""

    name: str
    origin: str


def site_of(request: HttpRequest) -> Site | None:
    """The site of a request; None where a browser gives out no passkey."""
    host = request.get_host()
    name, _port = split_domain_port(host)
    try:
        ip_address(name.strip("[]"))
    except ValueError:
        return Site(name, f"{request.scheme}://{host}") if request.is_secure() or name == "localhost" else None
    return None


def options_to_add(request: HttpRequest, site: Site, user: User) -> Any:
    """What the browser is asked for to make a passkey, as JSON gives it; the challenge is kept in the session."""
    import webauthn

    options = webauthn.generate_registration_options(
        rp_id=site.name,
        rp_name="Dialside",
        user_name=user.get_username(),
        user_id=f"{user.pk}".encode(),
        exclude_credentials=_described(user),
    )
    return _challenged(request, options)


def options_to_prove(request: HttpRequest, site: Site, user: User) -> Any:
    """What the browser is asked for to use one of an account's passkeys, as JSON gives it."""
    import webauthn

    return _challenged(
        request, webauthn.generate_authentication_options(rp_id=site.name, allow_credentials=_described(user))
    )


def add(request: HttpRequest, site: Site, user: User, *, answer: str, name: str) -> bool:
    """Take the passkey that the browser made; tells whether it is right."""
    import webauthn
    from webauthn.helpers import bytes_to_base64url

    made = _judged(
        lambda: webauthn.verify_registration_response(
            credential=answer,
            expected_challenge=_challenge(request),
            expected_rp_id=site.name,
            expected_origin=site.origin,
        )
    )
    if made is None:
        return False
    try:
        with transaction.atomic():
            Passkey.objects.create(
                user=user,
                name=name or "Passkey",
                credential=bytes_to_base64url(made.credential_id),
                public_key=made.credential_public_key,
                uses=made.sign_count,
            )
    except IntegrityError:
        return False
    return True


def proves(request: HttpRequest, site: Site, user: User, answer: str) -> bool:
    """Whether the browser's answer is of one of the account's passkeys, to what was just asked."""
    import webauthn

    try:
        credential = json.loads(answer)["id"]
    except (ValueError, TypeError, KeyError):
        return False
    key = user.passkeys.filter(credential=credential).first() if isinstance(credential, str) else None
    if key is None:
        return False
    proof = _judged(
        lambda: webauthn.verify_authentication_response(
            credential=answer,
            expected_challenge=_challenge(request),
            expected_rp_id=site.name,
            expected_origin=site.origin,
            credential_public_key=bytes(key.public_key),
            credential_current_sign_count=key.uses,
        )
    )
    if proof is None:
        return False
    key.uses, key.used = proof.new_sign_count, timezone.now()
    key.save(update_fields=["uses", "used"])
    return True


def _described(user):
    from webauthn.helpers import base64url_to_bytes
    from webauthn.helpers.structs import PublicKeyCredentialDescriptor

    return [
        PublicKeyCredentialDescriptor(id=base64url_to_bytes(credential))
        for credential in user.passkeys.values_list("credential", flat=True)
    ]


def _challenged(request, options):
    from webauthn import options_to_json
    from webauthn.helpers import bytes_to_base64url

    request.session["challenge"] = bytes_to_base64url(options.challenge)
    return json.loads(options_to_json(options))


def _challenge(request) -> bytes:
    """The challenge that was asked last, once."""
    from webauthn.helpers import base64url_to_bytes

    return base64url_to_bytes(request.session.pop("challenge", ""))


def _judged(verify):
    """What a verification returns, None where it refuses; what a browser sends may be anything at all."""
    from webauthn.helpers.exceptions import WebAuthnException

    try:
        return verify()
    except (WebAuthnException, ValueError, KeyError, TypeError):
        return None
