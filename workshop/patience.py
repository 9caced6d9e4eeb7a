"""An ASGI layer that gives up on who sends or takes nothing for too long, so that slow ones cannot hold the threads."""

import asyncio

PATIENCE_S = 30


def patient(app, seconds=PATIENCE_S):
    """Wrap an application: each wait for a piece of a request, or for a piece to be taken, has an end."""

    async def wrapped(scope, receive, send):
        if scope["type"] != "http":
            return await app(scope, receive, send)

        async def receive_soon():
            return await asyncio.wait_for(receive(), seconds)

        async def send_soon(message):
            return await asyncio.wait_for(send(message), seconds)

        try:
            return await app(scope, receive_soon, send_soon)
        except TimeoutError:
            return None

    return wrapped
