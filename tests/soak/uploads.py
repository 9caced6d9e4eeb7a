"""Malformed uploads: each field that takes a file answers in words, keeps re-encoded pictures alone, all or nothing.

Each attempt is undone before the next, so that the seed and its number alone decide what happens in it.
"""

import random
from collections import Counter
from functools import partial

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from tests.soak import bench_of_all, harmful_files
from tests.soak.part import Found

MOST_PIXELS = 2400


def run(count=10_000, seed=1):
    with bench_of_all.own_database():
        return attack(bench_of_all.fill(), count, seed)


def attack(client, count, seed, first=0):
    """Send `count` uploads, from attempt `first` on, to every field in turn."""
    found, answers, kept = Found(), Counter(), Counter()
    targets = _targets(client)
    for number in range(first, first + count):
        chance = random.Random(f"{seed}-{number}")
        name, url, data, field, make = targets[number % len(targets)]
        files = [_file(chance, make) for _ in range(chance.choice((1, 1, 1, 2, 5)) if field == "photos" else 1)]
        status, new, faults = _try(client, url, data | {field: files if field == "photos" else files[0]})
        answers[status] += 1
        kept[name] += status == 302 and new > 0
        told = f"seed {seed} attempt {number}, {name} ({ascii(files[0].name)[:60]})"
        found.faults += [f"{told}: {fault}" for fault in faults]
    found.figures = [
        ("seed, uploads", f"{seed}, {first} to {first + count - 1}"),
        ("fields that take files", f"{len({name for name, *_ in targets})}"),
        ("answers", ", ".join(f"{status}: {many}" for status, many in sorted(answers.items()))),
        ("taken, each as a new entry", ", ".join(f"{name} {many}" for name, many in kept.items() if many) or "none"),
    ]
    return found


def _targets(client):
    """(what, address, the rest of the form, the field of the file, how a file for it is made)."""
    from jobs.models import Job, Quote, Shop
    from parts.library.kinds import KINDS
    from parts.models import Dial, HolderDesign, Pairing

    job = Job.objects.filter(state="open").first()
    quote = Quote.objects.filter(state="sent", job__state="open").first()
    design, shop = HolderDesign.objects.first(), Shop.current()
    texts = {name: value for name, value in vars(shop).items() if name[0] != "_" and value not in (None, False, "")}
    watch = {"customer": "Mara Quist", "phone": "0151", "wish": "Quartz", "luminous": "none"}
    answer = {"how": "phone", "said_by": "Mara", "on": "2026-01-05", "do": "refuse"}
    sound = client.get(f"/parts/pairings/{Pairing.objects.first().pk}/sheet.json").content.decode()
    made = partial(harmful_files.sheet, sound=sound)
    pictured = f"/parts/pictures/of/dials/{Dial.objects.first().pk}/"
    quoted = f"/jobs/{quote.job.number}/quotes/{quote.version}/answer/"
    found = [
        ("photos of a job", f"/jobs/{job.number}/photos/", {"stage": "dial"}, "photos", harmful_files.photo),
        ("photos of a new job", "/jobs/log/", watch, "photos", harmful_files.photo),
        ("photos of a holder", f"/parts/holders/{design.pk}/photos/", {}, "photos", harmful_files.photo),
        ("signed quote", quoted, answer, "signature", harmful_files.photo),
        ("logo", "/shop/", texts, "new_logo", harmful_files.photo),
        ("picture of a part", pictured, {"subject": "dial-front"}, "file", harmful_files.photo),
        (
            "pairing sheet",
            "/parts/pairings/upload/",
            {"name": "Sent"},
            "sheet",
            made,
        ),
    ]
    for slug in KINDS:
        text = client.get(f"/parts/{slug}/export/").content.decode("utf-8-sig")
        found.append(("CSV", f"/parts/{slug}/import/", {}, "file", partial(harmful_files.table, sound=text)))
    return found


def _file(chance, make):
    """The file with a name and a type that need not be its own."""
    name, kind = chance.choice(harmful_files.NAMES), chance.choice(harmful_files.TYPES)
    file = SimpleUploadedFile("x", make(chance), kind)
    file._name = name
    return file


def _try(client, url, data):
    """(status, how many new rows, faults) of one upload, which is undone then; a CSV file is imported too."""
    from django.db import transaction

    before, there = bench_of_all.rows(), bench_of_all.files_there()
    with transaction.atomic():
        answer = client.post(url, data)
        led = answer.get("Location", "")
        faults = _faulty(answer, url)
        between = bench_of_all.rows()
        after = between
        if "/import/" in led:
            faults += _faulty(client.get(led), led) + _half_applied(client, led)
            after = bench_of_all.rows()
        elif led.startswith("/"):
            faults += _faulty(client.get(led), led)
        transaction.set_rollback(True)
    new = bench_of_all.files_there() - there
    faults += [fault for path in new for fault in _unclean(path)]
    if answer.status_code != 302 and (after != before or new):
        changed = [name for name in after if after[name] != before[name]]
        faults.append(f"refused with {answer.status_code}, but {changed or 'no row'} and {len(new)} files are new")
    for path in new:
        path.unlink()
    return answer.status_code, sum(after.values()) - sum(before.values()), faults


def _faulty(answer, url):
    if answer.status_code < 500:
        return []
    error = answer.exc_info[1] if getattr(answer, "exc_info", None) else ""
    return [f"{url} answered {answer.status_code} {ascii(error)[:300]}"]


def _half_applied(client, led):
    """Import the checked file: all of its rows, or none where one of them is wrong."""
    from parts.csv import files
    from parts.library.kinds import KINDS
    from parts.models import CsvFile

    kind = KINDS[led.split("/")[2]]
    text = CsvFile.objects.get(pk=led.rstrip("/").rpartition("/")[2]).text
    checked = files.check(kind=kind, sees_money=True, text=text)
    before, wanted = kind.model.objects.count(), 0 if checked.faults else len(checked.drafts)
    faults = _faulty(client.post(led), led)
    made = kind.model.objects.count() - before
    return faults if made == wanted else [*faults, f"{made} of {wanted} rows are imported"]


def _unclean(path):
    """What to correct with a kept file; nothing with a JPEG that holds the picture alone."""
    data = path.read_bytes()
    if not (data.startswith(b"\xff\xd8") and data.endswith(b"\xff\xd9")):
        return [f"{path.name} is kept and is no re-encoded JPEG"]
    with Image.open(path) as picture:
        picture.load()
        more = [key for key in picture.info if key in ("exif", "comment", "icc_profile", "xmp", "photoshop")]
        large = max(picture.size) > MOST_PIXELS
    told = [f"{path.name} holds {more}"] if more else []
    told += [f"{path.name} has {picture.size} pixels"] if large else []
    return told + ([f"{path.name} holds what stood beside the picture"] if harmful_files.MARK in data else [])
