"""Reading an uploaded picture, one at a time; its plane and the picture at true scale are kept."""

from __future__ import annotations

import io
import threading
from functools import lru_cache
from typing import Any

import numpy as np
from django.core.files.base import ContentFile
from PIL import Image

from parts.models import MatPrint, PartPicture
from parts.picture import propose
from parts.picture.camera import Camera
from parts.picture.edges.face import Face, Picked
from parts.picture.errors import PictureError
from parts.picture.plane import Bars, Height, Plane, read_plane
from parts.picture.scan import scan_plane
from parts.picture.subjects import FOOT_LENGTH, SUBJECTS

_ONE_AT_A_TIME = threading.Lock()
_QUALITY = 92
POINTED = 0.05
"""How well a finger or a mouse points at a place through the lens, mm, as a limit; common practice, no source."""


def read_picture(picture: PartPicture) -> bool:
    """Read a picture that waits; False where another one is being read, and this one has to wait longer."""
    if not _ONE_AT_A_TIME.acquire(blocking=False):
        return False
    try:
        _read(picture)
    finally:
        _ONE_AT_A_TIME.release()
    return True


def _read(picture):
    with picture.file.open("rb") as file, Image.open(file) as opened:
        whole = np.asarray(opened.convert("RGB"))
    grey = _grey(whole)
    height = Height(picture.height, picture.height_pm)
    try:
        if picture.scanner:
            size = (grey.shape[1], grey.shape[0])
            plane = scan_plane(size, per_mm=picture.per_mm, plus_minus=picture.scanner.plus_minus)
        else:
            plane = read_plane(grey, bars=measured_bars(), height=height, focal=picture.focal)
    except PictureError as error:
        picture.fault, picture.plane = str(error)[:400], {}
    else:
        picture.fault, picture.plane = "", _kept(plane)
        out = io.BytesIO()
        flat = plane.rectified(whole)
        Image.fromarray(flat).save(out, "JPEG", quality=_QUALITY)
        picture.flat.save("flat.jpg", ContentFile(out.getvalue()), save=False)
        picture.picks, picture.outline = _proposed(Face(grey, plane, _grey(flat)), picture.subject)
    picture.save(update_fields=["fault", "plane", "flat", "picks", "outline"])


def measured_bars() -> dict[int, Bars]:
    """What the calliper read on each print, by its number; of two with one number the newer."""
    prints = MatPrint.objects.in_drawers().filter(across__isnull=False, down__isnull=False).order_by("pk")
    return {each.number: Bars(each.across, each.down, each.plus_minus) for each in prints}


def _grey(whole):
    return np.asarray(Image.fromarray(whole).convert("L"))


def _kept(plane):
    """The plane as JSON has it."""
    camera = plane.camera
    return {
        "camera": [camera.numbers.tolist(), camera.covariance.tolist(), camera.noise, camera.used, list(camera.size)],
        "bars": [plane.bars.across, plane.bars.down, plane.bars.plus_minus],
        "height": [plane.height.value, plane.height.plus_minus],
        "print": plane.print_number,
        "half": plane.half,
        "scale": plane.scale,
    }


def plane_of(picture: PartPicture) -> Plane:
    """The plane of a picture that was read."""
    stored = picture.plane
    numbers, covariance, noise, used, size = stored["camera"]
    camera = Camera(np.array(numbers), np.array(covariance), noise, used, tuple(size))
    return Plane(
        camera, Height(*stored["height"]), Bars(*stored["bars"]), stored["print"], stored["half"], stored["scale"]
    )


def face_of(picture: PartPicture) -> Face:
    """The picture with its plane, to look for edges in."""
    return Face(_pixels(picture.pk), plane_of(picture))


@lru_cache(maxsize=2)
def _pixels(pk):
    """The grey values of a kept picture, which never change; those of the last two at hand."""
    with PartPicture.objects.get(pk=pk).file.open("rb") as file, Image.open(file) as opened:
        return np.asarray(opened.convert("L"))


def as_pick(key: str, picked: Picked, *, proposed: bool = False) -> dict[str, Any]:
    """A pick as JSON has it."""
    return {
        "key": key,
        "values": picked.values.tolist(),
        "sway": picked.sway.tolist(),
        "own": picked.own.tolist(),
        "fit": picked.fit,
        "share": picked.share,
        "proposed": proposed,
    }


def of_pick(pick: dict[str, Any]) -> Picked:
    """A kept pick for reckoning with."""
    values, sway, own = (np.array(pick[name]) for name in ("values", "sway", "own"))
    return Picked(values, sway, own, pick["fit"], pick["share"])


def accepted(picture: PartPicture) -> dict[str, Picked]:
    """What was picked on a picture or accepted of what was proposed, by its key."""
    return {pick["key"]: of_pick(pick) for pick in picture.picks if not pick["proposed"]}


def _proposed(face, subject):
    """What the program picks by itself, and the outline of a hand."""
    keys = {pick.key for pick in SUBJECTS[subject].picks}
    if subject.startswith("hand-"):
        seen = propose.hand(face, POINTED)
        if seen is None:
            return [], []
        ends = {"hole": seen.hole, "tip.0": seen.tip, "tail.0": seen.tail}
        return [as_pick(key, end, proposed=True) for key, end in ends.items() if end], seen.outline.round(3).tolist()
    return _round_proposed(face, keys), []


def _round_proposed(face, keys):
    """Of a round part its rim and hole, a dial's window and feet."""
    rim = propose.rim(face) if keys & {"rim", "window", "foot-1"} else None
    if rim is None:
        return []
    picks = [as_pick("rim", rim, proposed=True)] if "rim" in keys else []
    if "hole" in keys and (hole := propose.hole(face, rim)):
        picks.append(as_pick("hole", hole, proposed=True))
    if "window" in keys and (edges := propose.window(face, rim)):
        picks += [as_pick(f"window.{i}", edge, proposed=True) for i, edge in enumerate(edges)]
    if "foot-1" in keys:
        feet = [face.raised(foot, FOOT_LENGTH) for foot in propose.feet(face, rim)]
        picks += [as_pick(f"foot-{i + 1}", foot, proposed=True) for i, foot in enumerate(feet)]
    return picks
