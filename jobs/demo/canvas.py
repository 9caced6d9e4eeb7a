"""The bench that the demo's watches are drawn on: discs, bars, hands and letters in millimetres from the middle."""

from functools import cache
from math import cos, radians, sin

from PIL import Image, ImageDraw, ImageFilter

SIDE = 480
"""Pixels of a picture's side; it is drawn twice as large and made smaller."""
_TWICE = 2
_VIEW_MM = 54.0
_MAT = (93, 107, 102)
Colour = tuple[int, ...]


def darker(colour, share):
    """A colour at a share of its light."""
    return tuple(min(round(part * share), 255) for part in colour)


@cache
def _mat():
    """The bench mat, darker towards its corners."""
    light = Image.radial_gradient("L").resize((SIDE * _TWICE, SIDE * _TWICE)).point(lambda value: value // 3)
    image = Image.new("RGB", light.size, _MAT)
    image.paste(darker(_MAT, 0.4), mask=light)
    return image


@cache
def _light():
    """Light that falls from the upper left, as greys."""
    tilted = Image.linear_gradient("L").resize((512, 512)).rotate(-30)
    return tilted.crop((128, 128, 384, 384)).point(lambda value: 255 - value).convert("RGB")


class Canvas:
    """A square of the bench, millimetres from the middle of the watch; angles from 12 o'clock, clockwise."""

    def __init__(self):
        self.image = _mat().copy()
        self.scale = self.image.width / _VIEW_MM
        self.draw = ImageDraw.Draw(self.image)

    def shadow(self, radius):
        small = Image.new("L", (SIDE // 4, SIDE // 4), 0)
        x, y, r = ((SIDE / 8 + mm * SIDE / 4 / _VIEW_MM) for mm in (0.9, 1.3, radius * 1.03 - _VIEW_MM / 2))
        ImageDraw.Draw(small).ellipse((x - r, y - r, x + r, y + r), fill=150)
        self.image.paste((20, 24, 24), mask=small.filter(ImageFilter.GaussianBlur(3)).resize(self.image.size))

    def strap(self, outer):
        half = outer * 0.36 + 0.6
        for end in (-1, 1):
            corners = ((-half, outer - 4), (half, outer - 4), (half - 0.6, 30), (0.6 - half, 30))
            self.shape([(x, end * y) for x, y in corners], (92, 62, 42))

    def crown(self, angle, outer, metal):
        self.box(angle, outer - 0.6, outer + 0.9, 2.2, darker(metal, 0.75))
        self.box(angle, outer + 0.7, outer + 3.1, 4.4, metal)
        for x in (-1.4, -0.5, 0.5, 1.4):
            ends = (self._turned(angle, x, outer + 0.8), self._turned(angle, x, outer + 3.0))
            self.draw.line(ends, fill=darker(metal, 0.72), width=2)

    def disc(self, radius: float, colour: Colour, *, shine: bool = False, strength: float = 0.3) -> None:
        self.disc_at(0, 0, radius, colour, shine=shine, strength=strength)

    def disc_at(
        self,
        distance: float,
        angle: float,
        radius: float,
        colour: Colour,
        *,
        shine: bool = False,
        strength: float = 0.3,
    ) -> None:
        x, y = self._point(angle, distance)
        r = radius * self.scale
        box = tuple(round(edge) for edge in (x - r, y - r, x + r, y + r))
        self.draw.ellipse(box, fill=colour)
        if shine:
            side = box[2] - box[0]
            mask = Image.new("L", (side, side), 0)
            ImageDraw.Draw(mask).ellipse((0, 0, side - 1, side - 1), fill=round(255 * strength))
            self.image.paste(_light().resize((side, side)), box[:2], mask)

    def box(self, angle, inner, outer, width, colour):
        """A bar along the radius at `angle`, from `inner` to `outer` millimetres."""
        corners = ((-width / 2, inner), (width / 2, inner), (width / 2, outer), (-width / 2, outer))
        self.draw.polygon([self._turned(angle, x, r) for x, r in corners], fill=colour)

    def line(self, angle, inner, outer, width, colour):
        ends = (self._point(angle, inner), self._point(angle, outer))
        self.draw.line(ends, fill=colour, width=max(round(width * self.scale), 1))

    def hand(self, angle, length, tail, width, colour):
        shape = ((0, -tail), (-width / 2, length * 0.32), (0, length), (width / 2, length * 0.32))
        offset = self.scale * 0.25
        points = [self._turned(angle, x, r) for x, r in shape]
        self.draw.polygon([(x + offset, y + offset) for x, y in points], fill=(70, 68, 64))
        self.draw.polygon(points, fill=colour)

    def word(self, text, angle, radius, height):
        x, y = self._point(angle, radius)
        self.draw.text((x, y), text, fill=(30, 30, 32), anchor="mm", font_size=height * self.scale)

    def picture(self, glare=None):
        if glare:
            r = round(glare * self.scale)
            mask, corner = Image.new("L", (2 * r, 2 * r), 0), round(self._x(0)) - r
            ImageDraw.Draw(mask).chord((0, 0, 2 * r, 2 * r), 190, 285, fill=26)
            self.image.paste((255, 255, 255), (corner, corner, corner + 2 * r, corner + 2 * r), mask)
        return self.image.reduce(_TWICE)

    def shape(self, points, colour):
        self.draw.polygon([(self._x(x), self._x(y)) for x, y in points], fill=colour)

    def _x(self, mm):
        return self.image.width / 2 + mm * self.scale

    def _point(self, angle, radius):
        return self._x(radius * sin(radians(angle))), self._x(-radius * cos(radians(angle)))

    def _turned(self, angle, x, radius):
        turn = radians(angle)
        return self._x(x * cos(turn) + radius * sin(turn)), self._x(x * sin(turn) - radius * cos(turn))
