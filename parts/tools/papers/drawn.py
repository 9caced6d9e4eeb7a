"""Drawings away from the page: their style sheet goes along, with the light tokens and line widths on paper."""

from __future__ import annotations

import re
from functools import cache
from math import cos, pi, sin
from pathlib import Path

import tinycss2
from django.conf import settings

_CSS = Path(settings.BASE_DIR) / "static" / "css"
_PX = 0.18
"""Width on paper, mm, of a line that is 1 px wide on the screen."""
_SIZED = re.compile(r'viewBox="\S+ \S+ (\S+) .*?width="(\S+?)mm"')
_CIRCLE = re.compile(r"<circle\b([^>]*)")
_OPENING = re.compile(r'<svg [^>]*class="(?:drawing|bar)\b[^>]*>')
_CLASS = re.compile(r'\bclass="([^"]*)"')
_NAMED = re.compile(r"\.([\w-]+)")


def with_styles(markup: str) -> str:
    """The markup, HTML or a single SVG, with the rules that it needs inside each of its drawings."""
    openings = list(_OPENING.finditer(markup))
    ends = [*(opening.start() for opening in openings[1:]), len(markup)]
    pieces = [markup[: openings[0].start()] if openings else markup]
    for opening, end in zip(openings, ends, strict=False):
        inside = markup[opening.end() : end]
        pieces += [opening[0], f"<style>{_sheet_for(opening[0], inside)}</style>", inside]
    return "".join(pieces)


def _sheet_for(opening: str, inside: str) -> str:
    """The rules that can touch a drawing: reading and matching the others would take longer than drawing it.

    `inside` reaches to the next drawing, whatever stands between.
    """
    classes = {name for names in _CLASS.findall(opening + inside) for name in names.split()}
    return "".join(rule for named, rule in _rules(_px(opening)) if named <= classes)


def with_round_circles(markup: str) -> str:
    """The markup with every circle as a path of eight arcs: the PDF maker's own circles are 0.6 % too wide at 45°."""
    return _CIRCLE.sub(_as_path, markup)


def _as_path(circle: re.Match[str]) -> str:
    at = dict(re.findall(r'\b(cx|cy|r)="([^"]*)"', circle[1]))
    x, y, r = float(at.get("cx", 0)), float(at.get("cy", 0)), float(at["r"])
    points = [(x + r * cos(pi * i / 4), y + r * sin(pi * i / 4)) for i in range(1, 9)]
    arcs = "".join(f"A{r:g} {r:g} 0 0 1 {across:.6g} {down:.6g}" for across, down in points)
    look = re.sub(r'\s(?:cx|cy|r)="[^"]*"', "", circle[1])
    return f'<path d="M{x + r:.6g} {y:.6g}{arcs}Z"{look}'


def _px(opening: str) -> float:
    """One px in the drawing's units: by the scale that it states, 1 where it states none."""
    sized = _SIZED.search(opening)
    return round(_PX * float(sized[1]) / float(sized[2]), 5) if sized else 1.0


@cache
def _rules(px: float) -> list[tuple[frozenset[str], str]]:
    """The rules of all media, each with the classes that it names: light tokens, widths in the drawing's units."""
    tokens = _tokens()
    rules = []
    for rule in tinycss2.parse_stylesheet(
        (_CSS / "drawings.css").read_text(), skip_comments=True, skip_whitespace=True
    ):
        selector = tinycss2.serialize(rule.prelude).strip() if rule.type == "qualified-rule" else ""
        if not selector.startswith((".drawing", ".bar")):
            continue
        body = re.sub(r"var\((--[\w-]+)\)", lambda name: tokens[name[1]], tinycss2.serialize(rule.content))
        body = re.sub(r"(stroke-width|stroke-dasharray): ([\d. ]+)", lambda match: _scaled(match, px), body)
        each = [selector] if "(" in selector else [part.strip() for part in selector.split(",")]
        rules += [(frozenset(_NAMED.findall(part)), f"{part}{{{' '.join(body.split())}}}") for part in each]
    return rules


def _scaled(declared: re.Match[str], px: float) -> str:
    return f"{declared[1]}: {' '.join(f'{float(width) * px:.5g}' for width in declared[2].split())}"


@cache
def _tokens() -> dict[str, str]:
    """The tokens of the light scheme, with those that stand for another one resolved."""
    light = (_CSS / "base.css").read_text().partition("@media")[0]
    own = dict(re.findall(r"(--[\w-]+): ([^;]+);", light))
    return {name: re.sub(r"var\((--[\w-]+)\)", lambda other: own[other[1]], value) for name, value in own.items()}
