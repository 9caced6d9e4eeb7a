"""python -m tests.bench: times of the fit check as ratios, the best of several rounds.

The engine is held against one millisecond for one check of a complete pairing with every input uncertain; the page
against views with nothing to look up and nothing to compute, through the same middleware: one renders the same template
with all its values ready, one answers with as much plain text.
"""

import os
import shutil
import tempfile
import timeit
from functools import partial

import django
from django.conf import settings
from django.test.utils import setup_databases, setup_test_environment, teardown_databases

from tests import bench_ranking

ROUNDS, CALLS = 7, 20


def best_ms(call, *, calls=CALLS, rounds=ROUNDS):
    """The least time of one call, in ms."""
    return min(timeit.repeat(call, number=calls, repeat=rounds)) / calls * 1000


def main():
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    django.setup()
    setup_test_environment()
    kept = setup_databases(verbosity=0, interactive=False)
    try:
        settings.MEDIA_ROOT = tempfile.mkdtemp(prefix="dialside-bench-")
        _engine()
        _page()
        bench_ranking.run(report, best_ms)
        _bench()
        _past()
        _paper()
        _picture()
    finally:
        shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)
        teardown_databases(kept, verbosity=0)


def _engine():
    from parts.fit import check_sheet
    from tests.fit.sheets import sheet

    whole = _uncertain(sheet())
    report(f"one fit check ({len(check_sheet(whole).checks)} checks)", best_ms(lambda: check_sheet(whole)), 1.0, "1 ms")


def _picture():
    """A picture read and brought to true scale, against a plain homography of corners found in the whole picture."""
    import cv2
    import numpy as np

    from parts.picture.mat import Mat
    from parts.picture.plane import Height, read_plane
    from tests.picture.dial import BARS, taken

    grey = taken()
    colours = np.dstack([grey] * 3)

    def ours():
        return read_plane(grey, bars=BARS, height=Height(0.4, 0.05)).rectified(colours)

    def plain():
        corners, names, _, _ = cv2.aruco.CharucoDetector(Mat(50).board).detectBoard(grey)
        places = Mat(50).corners
        pairs = [
            (corner, places[name])
            for corner, name in zip(corners.reshape(-1, 2), names.ravel().tolist(), strict=True)
            if name in places
        ]
        pixels, onto = (np.array(side, dtype=float) for side in zip(*pairs, strict=True))
        straight, _ = cv2.findHomography(pixels, (onto + 27) * 18)
        return cv2.warpPerspective(colours, straight, (973, 973))

    report(
        "a 12-megapixel picture to true scale",
        best_ms(ours, calls=1, rounds=5),
        best_ms(plain, calls=1, rounds=5),
        "plain OpenCV",
    )


def _uncertain(data):
    """The sheet with 0.01 of plus-minus on every plain number but the angles and the cell's figures."""
    if isinstance(data, dict):
        return {key: value if key == "rules" else _uncertain(value) for key, value in data.items()}
    if isinstance(data, list) and not all(isinstance(item, float | int) for item in data):
        return [_uncertain(item) for item in data]
    return [data, 0.01] if isinstance(data, float) else data


def _page():
    from django.http import HttpResponse
    from django.shortcuts import render
    from django.template import engines
    from django.test import Client
    from django.urls import path

    import workshop.urls
    from tests.factories import DialFactory, MovementFactory, PairingFactory, UserFactory

    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    client = Client()
    client.force_login(UserFactory(is_superuser=True))
    address = f"/parts/pairings/{pairing.pk}/"
    response = client.get(address)
    ready = response.context[0].flatten()
    for field in ready["form"]:
        field.as_widget = partial(str, str(field))
    text = engines["django"].from_string("{% verbatim %}" + response.text + "{% endverbatim %}")
    workshop.urls.urlpatterns += [
        path("ready/", lambda request: render(request, "parts/pairings/pairing.html", ready)),
        path("text/", lambda request: HttpResponse(text.render({}, request))),
    ]
    data = {"case": pairing.case_id, "dial": pairing.dial_id, "movement": pairing.movement_id}
    data |= {"hands": pairing.hands_id, "stem": pairing.stem_id, "crown": pairing.crown_id, "placement": "auto"}
    data["numbers-of"] = pairing.part_keys
    page = best_ms(lambda: client.get(address))
    swap = best_ms(lambda: client.post(address, data, headers={"hx-request": "true"}))
    for words, yardstick in (
        ("a view of the same template, all ready", "/ready/"),
        ("a view of as much plain text", "/text/"),
    ):
        ms = best_ms(lambda address=yardstick: client.get(address))
        report(f"the fit check page ({len(response.text) // 1000} kB)", page, ms, words)
        report("a changed number, swapped in place", swap, ms, words)


def _paper():
    """A job sheet with forty photos, against Chromium printing the same HTML, both in a warm process."""
    import io
    import subprocess
    from pathlib import Path

    from django.template.loader import render_to_string
    from PIL import Image

    from jobs.models import Shop
    from jobs.options import choosing
    from jobs.papers.facts import common, sheet
    from jobs.papers.making import paper_pdf
    from jobs.photos.storing import store_pictures
    from parts.tools.pictures import as_kept
    from tests.factories import DialFactory, JobFactory, MovementFactory, PairingFactory, UserFactory

    user, job = UserFactory(), JobFactory()
    pairing = PairingFactory(dial=DialFactory(dated=True), movement=MovementFactory(dated=True))
    choosing.choose(option=choosing.add_option(job=job, pairing=pairing, by=user), by=user)
    store_pictures(job=job, pictures=[as_kept(Image.effect_noise((600, 400), 60).convert("RGB"))] * 40, by=user)
    address = "http://127.0.0.1:8000/"
    ours = best_ms(lambda: paper_pdf(job=job, kind="sheet", address=address), calls=2, rounds=3)
    with tempfile.TemporaryDirectory() as folder:
        html = Path(folder) / "sheet.html"
        html.write_text(render_to_string("papers/sheet.html", common(job, address, Shop.current()) | sheet(job)))
        command = ["chromium-headless-shell", "--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        command += [f"--user-data-dir={folder}/profile", f"--print-to-pdf={folder}/sheet.pdf", html.as_uri()]
        theirs = best_ms(lambda: subprocess.run(command, capture_output=True, check=True), calls=1, rounds=3)
    size = len(io.BytesIO(paper_pdf(job=job, kind="sheet", address=address)).getvalue()) // 1000
    report(f"a job sheet with 40 photos ({size} kB)", ours, theirs, "Chromium printing it")


def _bench():
    from django.test import Client

    from jobs.models import Job, Stage
    from jobs.stages.progress import ORDER
    from tests.factories import CaseFamilyFactory, CustomerFactory, UserFactory

    client = Client()
    client.force_login(UserFactory(is_superuser=True))
    customers, family = CustomerFactory.create_batch(40), CaseFamilyFactory()
    times = []
    for count in (50, 20_000):
        known = Job.objects.count()
        rows = (
            Job(
                number=f"26-{i + 1:05d}",
                customer=customers[i % 40],
                case_family=family,
                wish="quartz",
                luminous="none",
                waits_for=Job.WaitsFor.values[i % 4],
            )
            for i in range(known, count)
        )
        made = Job.objects.bulk_create(rows, batch_size=500)
        Stage.objects.bulk_create((Stage(job=job, kind=kind) for job in made for kind in ORDER), batch_size=1000)
        times.append(best_ms(lambda: client.get("/")))
    report("the bench with 20,000 open jobs", times[1], times[0], "the bench with 50")


def _past():
    from django.test import Client

    from tests.conftest import signed_in
    from tests.factories import UserFactory
    from tests.jobs.past.bench import past_rows

    user = UserFactory(is_superuser=True, is_staff=True)
    for what, many, few in past_rows(best_ms, signed_in(Client(), user), user):
        report(f"{what}, 100,000 jobs", many, few, "with 1,000")


def report(what, ms, yardstick, name):
    print(f"{what:40} {ms:7.2f} ms = {ms / yardstick:5.2f} x {name} ({yardstick:.2f} ms)")


if __name__ == "__main__":
    main()
