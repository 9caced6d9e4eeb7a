"""Fuzzed forms: whatever is sent to whichever form, the answer is a page in plain words, never a fault of ours.

Each attempt is undone before the next, so that the seed and its number alone decide what happens in it.
"""

import random
import traceback
from collections import Counter
from urllib.parse import urlencode

from tests.soak import bench_of_all, harm
from tests.soak.formfinder import find_forms, name_of
from tests.soak.part import Found

OFTEN = 6
"""Of so many attempts one asks a page with fuzzed words in its address, one sends to an address without a form."""


def run(count=10_000, seed=1):
    with bench_of_all.own_database():
        return fuzz(bench_of_all.fill(), count, seed)


def fuzz(client, count, seed, first=0):
    """Send `count` forms, from attempt `first` on."""
    from tests.workshop.requests.test_every_url import ALL

    forms, seen, wrong = find_forms(client)
    posts = _one_each([form for form in forms if form.method == "post"])
    gets = _one_each([form for form in forms if form.method == "get"])
    fields = sorted({name for form in forms for name, _ in form.data})
    blind = [(name, url) for name, url in ALL if name not in posts]
    found, answers, tried = Found(faults=wrong), Counter(), Counter()
    names = sorted(posts)
    for number in range(first, first + count):
        chance = random.Random(f"{seed}-{number}")
        if number % OFTEN == 1 and gets:
            form = chance.choice(gets[chance.choice(sorted(gets))])
            attempt = ("GET", form.action, _spoiled(chance, form, fields))
        elif number % OFTEN == 2:
            _name, url = blind[number // OFTEN % len(blind)]
            attempt = ("POST", url, [(chance.choice(fields), harm.value(chance)) for _ in range(8)])
        else:
            turn = number // OFTEN * (OFTEN - 2) + max(number % OFTEN - 2, 0)
            form = chance.choice(posts[names[turn % len(names)]])
            attempt = ("POST", form.action, _spoiled(chance, form, fields))
        tried[name_of(attempt[1])] += 1
        answers.update(_try(client, attempt, found, f"seed {seed} attempt {number}"))
    everything = {name for name, _ in ALL}
    found.figures = [
        ("seed, attempts", f"{seed}, {first} to {first + count - 1}"),
        ("pages walked, forms found", f"{len(seen)}, {len(forms)}"),
        ("addresses with forms to post", len(posts)),
        ("addresses of the map tried", f"{len(everything & tried.keys())} of {len(everything)}"),
        ("answers", ", ".join(f"{status}: {many}" for status, many in sorted(answers.items()))),
    ]
    return found


def _one_each(forms):
    """The forms by the name of where they go."""
    named = {}
    for form in forms:
        named.setdefault(form.name, []).append(form)
    return named


def _spoiled(chance, form, fields):
    """The form's own values, some of them spoiled, doubled, missing or with others beside them."""
    pairs = [list(pair) for pair in form.data]
    for pair in chance.sample(pairs, min(len(pairs), chance.choice((0, 1, 1, 2, 3, 8)))):
        pair[1] = harm.value(chance, pair[1])
    if pairs and chance.random() < 0.2:
        pairs.remove(chance.choice(pairs))
    if pairs and chance.random() < 0.2:
        pairs.append([chance.choice(pairs)[0], harm.value(chance)])
    if chance.random() < 0.15:
        pairs.append([chance.choice(fields), harm.value(chance)])
    return pairs


def _try(client, attempt, found, called):
    """Send one attempt and look at the page it leads to, then undo all of it; yields the statuses."""
    from django.db import transaction

    method, url, pairs = attempt
    cookies = client.cookies.copy()
    body = urlencode([tuple(pair) for pair in pairs], encoding="utf-8", errors="surrogatepass")
    with transaction.atomic():
        if method == "GET":
            answer = client.get(url, QUERY_STRING=body)
        else:
            answer = client.post(url, body, content_type="application/x-www-form-urlencoded")
        answers = [answer]
        if answer.status_code == 302 and answer["Location"].startswith("/"):
            answers.append(client.get(answer["Location"]))
        transaction.set_rollback(True)
    client.cookies = cookies
    for one in answers:
        if one.status_code >= 500:
            found.faults.append(f"{called}: {method} {url} {_short(pairs)} answered {one.status_code} {_why(one)}")
    return [str(one.status_code) for one in answers[:1]]


def _short(pairs):
    return ascii([(name, text if len(text) < 60 else f"{text[:40]}... {len(text)}") for name, text in pairs])[:700]


def _why(answer):
    if not getattr(answer, "exc_info", None):
        return ""
    kind, error, where = answer.exc_info
    last = traceback.extract_tb(where)
    ours = next((one for one in reversed(last) if "/site-packages/" not in one.filename), last[-1])
    return f"{kind.__name__}: {ascii(str(error))[:200]} at {ours.filename.rpartition('main/')[2]}:{ours.lineno}"
