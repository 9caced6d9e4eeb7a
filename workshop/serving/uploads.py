"""Large bodies of those who are signed in, gathered on the disk before a thread takes up the request.

Each account has a few at a time; its others wait for their turn, and nobody else does. Of who is not signed in nothing
is gathered: the workshop answers without reading.
"""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from typing import Any
from weakref import WeakValueDictionary

from django.conf import settings
from django.db import connections
from django.http import parse_cookie

MOST_BYTES = 1_100_000_000
"""As many photos as are taken at once, each as large as is taken, and some room for the form."""
AT_ONCE = 4
_asking = ThreadPoolExecutor(1, "uploads")
_turns: WeakValueDictionary[Any, asyncio.Semaphore] = WeakValueDictionary()


class TooManyUploads(Exception):
    """An account whose turn for a further upload did not come."""


@asynccontextmanager
async def turn(account: Any, seconds: float):
    """One of the account's few uploads, once it is its turn. Raises TooManyUploads where that takes too long."""
    turns = _turns.get(account)
    if turns is None:
        turns = _turns[account] = asyncio.Semaphore(AT_ONCE)
    try:
        await asyncio.wait_for(turns.acquire(), seconds)
    except TimeoutError as error:
        raise TooManyUploads from error
    try:
        yield
    finally:
        turns.release()


async def ask(account_of, scope) -> Any:
    """Ask for a request's account in a thread of its own: the database may have to be waited for."""
    return await asyncio.get_running_loop().run_in_executor(_asking, account_of, scope)


def account_of(scope) -> int | None:
    """The primary key of who is signed in with the request's cookie; None for nobody."""
    from workshop.accounts.sessions import SessionStore

    cookies = parse_cookie(dict(scope.get("headers", ())).get(b"cookie", b"").decode("latin-1"))
    try:
        user = SessionStore(cookies.get(settings.SESSION_COOKIE_NAME)).get("_auth_user_id")
        return int(user) if user else None
    finally:
        connections.close_all()
