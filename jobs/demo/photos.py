"""Pictures for the demo's jobs, drawn from the watches' own dimensions: from the front, and opened from the back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jobs.demo.canvas import Canvas, darker

if TYPE_CHECKING:
    from PIL import Image

    from parts.models import Pairing


_STEEL, _GOLD = (196, 199, 201), (205, 172, 104)
_DIALS = {
    "cream": (240, 230, 204), "ivory": (243, 234, 212), "white": (240, 240, 236), "black": (38, 38, 40),
    "grey": (150, 152, 154), "silver": (214, 216, 216), "champagne": (226, 204, 152), "gilt": (226, 204, 152),
    "blue": (38, 62, 104), "opaline": (228, 226, 218),
}  # fmt: skip
_RING = (64, 84, 120)
_BRASS, _PLATE = (196, 168, 108), (206, 208, 206)


def front(
    pairing: Pairing, words: str, *, hands: str = "new", at: tuple[int, int, int] = (10, 8, 36), strap: bool = False
) -> Image.Image:
    """The watch from the front, its hands at the hour, minute and second `at`; `words` say the colours."""
    case, dial = pairing.case, pairing.dial
    metal = _GOLD if any(word in f"{words} {case.name}" for word in ("gilt", "gold")) else _STEEL
    face = _colour(f"{words} {dial.name}")
    ink = (34, 34, 36) if sum(face) > 330 else (232, 230, 222)
    canvas = Canvas()
    outer = (case.crown_seat_radius or case.bore_diameter / 2 + 2) + 0.3
    canvas.shadow(outer)
    if strap:
        canvas.strap(outer)
    canvas.crown(case.stem_angle or 90, outer, metal)
    _lugs(canvas, outer, metal)
    opening = (case.dial_opening_diameter or dial.diameter - 1) / 2
    canvas.disc(opening + 0.5, darker(metal, 0.55))
    canvas.disc(opening, face, shine=True, strength=0.12)
    _print(canvas, dial, ink, metal if dial.furniture.exists() else ink)
    if hands:
        _hands(canvas, pairing, hands, at, ink)
    return canvas.picture(glare=opening)


def back(pairing: Pairing, *, ring: bool) -> Image.Image:
    """The opened watch from the back: the movement in its bore, with a holder ring round it or bare."""
    case, movement = pairing.case, pairing.movement
    canvas = Canvas()
    outer, bore = (case.crown_seat_radius or 17) + 0.3, case.bore_diameter / 2
    metal = _GOLD if "gilt" in case.name or "gold" in case.name else _STEEL
    canvas.shadow(outer)
    canvas.crown(-(case.stem_angle or 90), outer, metal)
    _lugs(canvas, outer, metal)
    canvas.disc(bore + 0.7, darker(metal, 0.7))
    canvas.disc(bore, _RING if ring else (46, 46, 48), strength=0.1, shine=True)
    radius = (movement.fit_diameter or movement.overall_diameter) / 2
    canvas.disc(radius, _PLATE if ring else _BRASS, shine=True, strength=0.16)
    if ring:
        canvas.disc_at(radius * 0.42, 215, radius * 0.44, (222, 224, 224), shine=True)
        canvas.box(40, 2, radius * 0.8, 5.0, (150, 112, 74))
    else:
        canvas.disc_at(radius * 0.45, 330, radius * 0.46, darker(_BRASS, 0.85), shine=True)
        canvas.disc_at(radius * 0.5, 200, radius * 0.36, (214, 186, 120), shine=True)
    for angle in (20, 140, 260):
        canvas.disc_at(radius * 0.84, angle, 0.8, (120, 124, 128))
    return canvas.picture()


def _colour(words):
    return next((colour for word, colour in _DIALS.items() if word in words), (230, 226, 214))


def _lugs(canvas, outer, metal):
    for side in (-1, 1):
        for end in (-1, 1):
            inner, far = outer * 0.36, outer * 0.36 + 3.2
            corners = ((inner, outer * 0.7), (far, outer * 0.6), (far - 0.7, outer + 3.6), (inner + 0.5, outer + 3.6))
            canvas.shape([(side * x, end * y) for x, y in corners], darker(metal, 0.92))
    canvas.disc(outer, metal, shine=True)
    canvas.disc(outer - 0.7, darker(metal, 1.08), shine=True, strength=0.2)


def _print(canvas, dial, ink, markers):
    track = dial.minute_track_radius or dial.diameter / 2 - 1.5
    inner = dial.hour_marker_inner_radius or track * 0.75
    for minute in range(60):
        canvas.line(6 * minute, track - (0.9 if minute % 5 == 0 else 0.5), track, 0.14, ink)
    window = dial.window_angle if dial.window_radius else None
    for hour in range(12):
        angle = 30 * hour
        if window is not None and abs((angle - window + 180) % 360 - 180) < 12:
            continue
        canvas.box(angle, inner, track - 1.3, 0.9 if hour % 3 else 1.3, markers)
    if window is not None:
        canvas.box(
            window,
            dial.window_radius - dial.window_radial / 2 - 0.15,
            dial.window_radius + dial.window_radial / 2 + 0.15,
            dial.window_tangential + 0.3,
            darker(_STEEL, 0.8),
        )
        canvas.box(
            window,
            dial.window_radius - dial.window_radial / 2,
            dial.window_radius + dial.window_radial / 2,
            dial.window_tangential,
            (248, 246, 240),
        )
        canvas.word("17", window, dial.window_radius, dial.window_radial * 0.72)


def _hands(canvas, pairing, which, at, ink):
    hour, minute, second = at
    angles = {"hour": 30 * (hour % 12) + minute / 2, "minute": 6 * minute + second / 10, "seconds": 6 * second}
    colour = _GOLD if "gilt" in pairing.hands.name else ink if which == "new" else (120, 96, 62)
    for role in ("hour", "minute", "seconds"):
        source = getattr(pairing, f"{role}_hand_from") or pairing.hands
        hand = next((hand for hand in source.hands.all() if hand.role == role), None)
        if hand is None or hand.length is None:
            continue
        shorter = 1 if which == "new" else 0.93
        width = {"hour": 1.5, "minute": 1.1, "seconds": 0.34}[role]
        canvas.hand(angles[role], hand.length * shorter, hand.tail or 1.2, width, colour)
        canvas.disc((hand.hub_diameter or 1.6) / 2, darker(colour, 0.9))
