"""A browser of few words: cookies, forms and files over one connection to a workshop that is really served."""

import http.client
import secrets
import ssl
from http.cookies import SimpleCookie
from urllib.parse import urlencode

SLOW_S = 60


class Lost(Exception):
    """No answer came: whether step was done is missing."""


class Visitor:
    """Sends to 127.0.0.1, or over TLS to localhost, whose `certificate` it trusts, from an address of this machine.

    `cookies` may be shared by several visitors who are the same person.
    """

    def __init__(self, port, cookies=None, certificate="", address="127.0.0.1"):
        self.port, self.cookies, self.line = port, {} if cookies is None else cookies, None
        self.trusted = ssl.create_default_context(cafile=certificate) if certificate else None
        self.address, self.own = address, {"Origin": f"https://localhost:{port}"} if certificate else {}

    def get(self, path):
        return self._ask("GET", path, b"", {})

    def post(self, path, data, files=()):
        """Send a form; `files` are (field, name, bytes)."""
        if files:
            body, kind = _in_parts(data, files)
        else:
            body, kind = urlencode(data).encode(), "application/x-www-form-urlencoded"
        token = next((value for name, value in self.cookies.items() if name.endswith("_csrf")), "")
        return self._ask("POST", path, body, {"Content-Type": kind, "X-CSRFToken": token})

    def close(self):
        if self.line:
            self.line.close()
        self.line = None

    def _connected(self):
        if self.trusted is None:
            return http.client.HTTPConnection("127.0.0.1", self.port, timeout=SLOW_S)
        given = {"timeout": SLOW_S, "context": self.trusted, "source_address": (self.address, 0)}
        return http.client.HTTPSConnection("localhost", self.port, **given)

    def _ask(self, method, path, body, headers):
        """(status, Location, text) of the answer. Raises Lost."""
        cookies = "; ".join(f"{name}={value}" for name, value in list(self.cookies.items()))
        try:
            self.line = self.line or self._connected()
            self.line.request(method, path, body, {"Cookie": cookies, **self.own, **headers})
            answer = self.line.getresponse()
            text = answer.read().decode("utf-8", "replace")
        except (OSError, http.client.HTTPException) as error:
            self.close()
            raise Lost(str(error)) from error
        for line in answer.headers.get_all("Set-Cookie", []):
            self.cookies.update({name: one.value for name, one in SimpleCookie(line).items()})
        return answer.status, answer.headers.get("Location", ""), text


def _in_parts(data, files):
    """A multipart body and its content type."""
    line = secrets.token_hex(16)
    pieces = [
        f'--{line}\r\nContent-Disposition: form-data; name="{k}"\r\n\r\n{v}\r\n'.encode() for k, v in data.items()
    ]
    for field, name, content in files:
        head = f'--{line}\r\nContent-Disposition: form-data; name="{field}"; filename="{name}"\r\n'
        pieces.append(f"{head}Content-Type: application/octet-stream\r\n\r\n".encode() + content + b"\r\n")
    return b"".join([*pieces, f"--{line}--\r\n".encode()]), f"multipart/form-data; boundary={line}"
