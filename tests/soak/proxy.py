"""Two web processes behind a real proxy, configured as docs/proxy.md says: who asks, the shared wait, nothing cached.

The proxy caches whatever it may, whosever cookie it is, so that what is personal has to say that it may not.
"""

import re
import shutil
import signal
import subprocess
import time
from collections import Counter
from contextlib import contextmanager

from tests.soak.ledger import Ledger
from tests.soak.part import Found
from tests.soak.place import PASSWORD, ROOT, free_port
from tests.soak.processes import asking, on_server
from tests.soak.visitor import Visitor
from tests.soak.writers import WRITERS, judged, write

TABLET, STRANGER, LIE = "127.0.0.9", "127.0.0.10", "192.0.2.1"
"""Two addresses of this machine's loop that stand for devices on the network, and one that a device claims to have."""
FREE = 5
"""Wrong passwords before the wait, however many processes judge them."""
AROUND = """
user root;
pid proxy.pid;
error_log error.log;
events {{}}
http {{
    log_format who "$upstream_addr $upstream_cache_status";
    access_log asked.log who;
    client_body_temp_path kept-1;
    proxy_temp_path kept-2;
    fastcgi_temp_path kept-3;
    uwsgi_temp_path kept-4;
    scgi_temp_path kept-5;
    proxy_cache_path cache keys_zone=all:1m;
    proxy_cache all;
    proxy_ignore_headers Vary Set-Cookie;
    {block}
}}
"""


def run(seconds=30):
    if not shutil.which("nginx"):
        return Found(skipped="there is no nginx here to stand for the proxy")
    return on_server(_serve_behind, seconds)


def _serve_behind(place, address, seconds):
    from workshop.serving.certificate import certificate_file

    place.end(place.start(), signal.SIGINT)  # the owner's account is made before anything is on the network
    front, ledger = free_port(), Ledger()
    certificate = certificate_file(place.folder, ["localhost"])
    place.more["DIALSIDE_PROXY"] = f"https://localhost:{front}"
    ports = [place.start() for _ in range(2)]
    with _proxy(place.folder / "proxy", front, certificate, ports) as log:
        owner, stranger = (Visitor(front, {}, certificate, device) for device in (TABLET, STRANGER))
        owner.own["X-Forwarded-For"] = LIE
        owner.get("/sign-in/")
        owner.post("/sign-in/", {"username": "owner", "password": PASSWORD})
        writers = write([Visitor(front, owner.cookies, certificate, TABLET) for _ in range(WRITERS)], ledger, seconds)
        faults = _what_is_shown(owner, stranger, ports)
        judgements = _wrong_passwords(stranger)
        place.end(ports[0], signal.SIGKILL)
        after = Counter(owner.get("/customers/")[0] for _ in range(20))
        asked = log.read_text().splitlines()
    said = place.end(ports[1], signal.SIGINT)
    with asking(address) as ask:
        lost = ledger.lost(ask, place.home / "files")
        seen = {row[0] for row in ask("SELECT DISTINCT address FROM workshop_accessevent")}
    shares = {port: sum(f"127.0.0.1:{port}" in line for line in asked) for port in ports}
    kept = sum("HIT" in line for line in asked)
    found = judged(writers, ledger, lost, seconds)
    found.figures += [
        ("requests by each process", ", ".join(map(str, shares.values()))),
        ("answers given from the proxy's cache", kept),
        ("wrong passwords before the wait", judgements),
        ("answers after one process was killed", _many(after)),
    ]
    found.faults += faults
    found.faults += [] if judgements == FREE else [f"{judgements} wrong passwords were judged, not {FREE}"]
    found.faults += [] if after == {200: 20} else [f"after one process was killed: {_many(after)}"]
    found.faults += [] if kept else ["the proxy kept nothing: that it keeps nothing personal is not tried"]
    found.faults += [] if {TABLET, STRANGER} <= seen and LIE not in seen else [f"the log of accounts tells of {seen}"]
    found.faults += [f"the process on port {port} was asked for nothing" for port in ports if not shares[port]]
    found.faults += [f"a process told of a fault: {said[-500:]}"] if "Traceback" in said else []
    return found


@contextmanager
def _proxy(folder, front, certificate, ports):
    """Have the proxy of the documentation serve at `front` for these processes; gives its log of whom it asked."""
    folder.mkdir()
    block = re.search(r"```nginx\n(.*?)```", (ROOT / "docs/proxy.md").read_text(), re.DOTALL)[1]
    here = {
        "127.0.0.1:8000": f"127.0.0.1:{ports[0]}",
        "127.0.0.1:8001": f"127.0.0.1:{ports[1]}",
        "listen 443": f"listen 127.0.0.1:{front}",
        "bench.example": "localhost",
        "/etc/ssl/bench.pem": f"{certificate}",
        "/etc/ssl/bench.key": f"{certificate}",
    }
    for written, meant in here.items():
        block = block.replace(written, meant)
    (folder / "proxy.conf").write_text(AROUND.format(block=block))
    call = ["nginx", "-p", f"{folder}/", "-c", "proxy.conf", "-e", "error.log", "-g", "daemon off;"]
    with subprocess.Popen(call) as served:
        try:
            time.sleep(1)
            yield folder / "asked.log"
        finally:
            served.terminate()


def _what_is_shown(owner, stranger, ports):
    """What is wrong with pages asked for right after the owner: nothing personal is kept, or given past the proxy."""
    faults = []
    for page in ("/customers/", "/", "/people/", "/jobs/log/"):
        shown, (status, way, _) = owner.get(page)[0], stranger.get(page)
        if (shown, status, way[:9]) != (200, 302, "/sign-in/"):
            faults.append(f"{page} answers the owner {shown}, then a stranger {status} {way}")
    static = re.findall(r'href="(/static/[^"]+)"', stranger.get("/sign-in/")[2])[:1] or ["/sign-in/ with its styles"]
    faults += [f"{file} is not served" for file in 2 * static if stranger.get(file)[0] != 200]
    status, _, text = Visitor(ports[0], owner.cookies).get("/customers/")
    if status != 400 or "X-Forwarded-For" not in text:
        faults.append(f"a process answers {status} past the proxy")
    return faults


def _wrong_passwords(visitor):
    """How many wrong passwords are judged, by the processes in turn, before the wait."""
    visitor.get("/sign-in/")
    for count in range(4 * FREE):
        if visitor.post("/sign-in/", {"username": "owner", "password": f"wrong {count}"})[0] == 429:
            break
    return count


def _many(answers):
    return ", ".join(f"{status}: {many}" for status, many in sorted(answers.items()))
