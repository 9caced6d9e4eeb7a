"""Somebody at the bench who does not pause: logs watches, writes remarks, puts minutes in, uploads photos."""

import io
import itertools
import re
import threading
import time
from contextlib import contextmanager

from PIL import Image

from tests.soak.visitor import Lost


class Writer:
    """Writes until told to stop; each acknowledged write goes into the ledger, each error into `errors`.

    One of `count` writers has the number `index`, so that no two write the same. `times` are seconds of each write.
    """

    def __init__(self, visitor, ledger, index=0, *, photos=True):
        self.visitor, self.ledger, self.index = visitor, ledger, index
        self.errors, self.times, self.count = [], [], itertools.count(1)
        self.job, self.remark = "", 0
        self.steps = itertools.cycle([self.log, self.write_remark, self.put_minutes, *([self.photo] if photos else [])])

    def run(self, stop):
        """Write until `stop` is set or the line is cut."""
        try:
            while not stop.is_set():
                begun = time.perf_counter()
                next(self.steps)()
                self.times.append(time.perf_counter() - begun)
        except Lost as lost:
            if not stop.is_set():
                self.errors.append(f"the line was cut: {lost}")
        finally:
            self.visitor.close()

    def _post(self, path, data, files=()):
        """Where an acknowledged write led; "" for one that was not, which is kept as an error."""
        status, location, text = self.visitor.post(path, data, files)
        if status != 302:
            self.errors.append(f"{path} answered {status}: {_words(text)}")
        return location

    def log(self):
        name = f"Writer {self.index} Customer {next(self.count)} {time.time_ns()}"
        data = {"customer": name, "phone": "0151", "wish": "Quartz, quietly", "luminous": "none"}
        location = self._post("/jobs/log/", data)
        if location.endswith("/logged/"):
            number = location.split("/")[2]
            with self.ledger.lock:
                if number in self.ledger.jobs:
                    self.errors.append(f"the number {number} was given twice")
                self.ledger.jobs[number] = name
            self.job, self.remark = number, 0

    def write_remark(self):
        number, new = self.job, self.remark + 1
        data = {"remarks": f"remark {new}"}
        if self._post(f"/jobs/{number}/dial/remarks/", data):
            self.remark = new
            with self.ledger.lock:
                self.ledger.remarks[number] = new

    def put_minutes(self):
        note = f"minutes {self.index} {time.time_ns()}"
        if self._post(f"/jobs/{self.job}/dial/time/", {"minutes": "5", "note": note}):
            with self.ledger.lock:
                self.ledger.minutes.add(note)

    def photo(self):
        size = (16 + time.time_ns() // 1000 % 1900, 16 + self.index)
        if self._post(f"/jobs/{self.job}/photos/", {"stage": "intake"}, [("photos", "photo.jpg", jpeg(size))]):
            with self.ledger.lock:
                self.ledger.photos.add(size)


@contextmanager
def at_work(writers):
    """Have the writers write, each in a thread, until the block ends or sets what it is given."""
    stop = threading.Event()
    threads = [threading.Thread(target=one.run, args=(stop,)) for one in writers]
    for one in threads:
        one.start()
    try:
        yield stop
    finally:
        stop.set()
        for one in threads:
            one.join()


def jpeg(size):
    out = io.BytesIO()
    Image.new("RGB", size, (120, 90, 40)).save(out, "JPEG")
    return out.getvalue()


def _words(text):
    """The words of a page, without its frame."""
    return " ".join(re.sub("<[^>]+>", " ", text.split("<main", 1)[-1]).split())[:200]
