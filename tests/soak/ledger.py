"""What a workshop has acknowledged, and whether all of it is there: looked up in its files, not asked of it."""

import sqlite3
import threading
from contextlib import closing

from PIL import Image


class Ledger:
    """Acknowledged writes: jobs by number, notes of minutes, the newest remark of each job, sizes of photos."""

    def __init__(self):
        self.lock = threading.Lock()
        self.jobs, self.minutes, self.remarks, self.photos = {}, set(), {}, set()

    def __len__(self):
        return len(self.jobs) + len(self.minutes) + sum(self.remarks.values()) + len(self.photos)

    def copy(self):
        """The ledger as it stands now."""
        other = Ledger()
        with self.lock:
            other.add(self)
        return other

    def add(self, other):
        """Take over what another ledger holds."""
        for name in ("jobs", "minutes", "remarks", "photos"):
            getattr(self, name).update(getattr(other, name))

    def lost(self, opened, files):
        """What was acknowledged and is not there, or not as it was; `opened` asks a database, `files` is its folder."""
        jobs = dict(opened("SELECT number, name FROM jobs_job JOIN jobs_customer c ON c.id = customer_id"))
        stages = dict(
            opened("SELECT number, count(*) FROM jobs_stage s JOIN jobs_job j ON j.id = job_id GROUP BY number")
        )
        notes = {note for (note,) in opened("SELECT note FROM jobs_worktime WHERE note <> ''")}
        remarks = dict(
            opened("SELECT number, s.remarks FROM jobs_stage s JOIN jobs_job j ON j.id = job_id WHERE kind = 'dial'")
        )
        told = [f"job {number} of {name}" for number, name in self.jobs.items() if jobs.get(number) != name]
        told += [f"stages of job {number}" for number in self.jobs if stages.get(number) != 8]
        told += [f"minutes {note}" for note in self.minutes - notes]
        told += [f"remark {n} of {number}" for number, n in self.remarks.items() if _number(remarks.get(number)) < n]
        return told + [f"photo of {w} x {h}" for w, h in self.photos - self._photos(opened, files)]

    def _photos(self, opened, files):
        found = set()
        for large, small in opened("SELECT file, thumbnail FROM jobs_photo"):
            if (files / large).exists() and (files / small).exists():
                with Image.open(files / large) as picture:
                    picture.load()
                    found.add(picture.size)
        return found


def _number(remark):
    return int((remark or "remark 0").split()[1])


def sqlite(path):
    """A function that asks an SQLite file."""

    def ask(words):
        with closing(sqlite3.connect(path)) as opened:
            return opened.execute(words).fetchall()

    return ask
