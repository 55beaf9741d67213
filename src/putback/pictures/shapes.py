"""How much a drawing draws: every shape as often as it is repeated.

A file of a few lines can ask for a milliard of shapes: ten groups that each use the one before ten times. So references
are followed, with the style rules that make them, and counted without drawing anything.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from putback.pictures.judged import BadPictureError
from putback.source.late import Late
from putback.source.quoting import quote

MOST_SHAPES = 200_000
"""Shapes to draw, repeated ones each time. So many take about half a second and 200 MB to print."""

MOST_EFFECTS = 24
"""Parts of filters at work, each time that they are used: the page is drawn dot by dot for each."""

INHERITED = ("fill", "stroke", "marker", "marker-start", "marker-mid", "marker-end")
"""Properties that a group hands down to what is in it."""

APPLIED = (*INHERITED, "clip-path", "mask", "filter")
"""Properties that draw something else for a shape."""

PAINTED = frozenset({
    "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "tspan", "textPath", "use",
})  # fmt: skip
"""Elements that what is handed down is drawn for."""

_RULE = Late(r"([^{}]+)\{([^{}]*)\}")
_SELECTOR = Late(r"([a-zA-Z]+|\*)?(?:([.#])([\w-]+))?")
_TARGET = Late(r"url\s*\(\s*['\"]?\s*#([^'\")]*)", re.IGNORECASE)
_FUNCTION = Late(r"\b(?!url\b)[a-z-]+\(")


@dataclass(slots=True)
class Drawn:
    """One element of a drawing."""

    tag: str
    """Its name; empty when it is none of SVG."""
    parent: int
    """The number of the element that it lies in; -1 for the outermost."""
    key: str = ""
    """Its id."""
    classes: frozenset[str] = frozenset()
    """Its classes."""
    style: str = ""
    """Its properties, as a style attribute has them."""
    target: str = ""
    """The id that its `href` names."""
    corners: int = 0
    """At least so many corners or letters it has."""
    words: str = ""
    """The rules of a style sheet."""


def drawn(shapes: list[Drawn], sheet: str) -> int:
    """Return how many shapes a drawing draws. Raises `BadPictureError` when there are too many, or never an end."""
    ids = {shape.key: at for at, shape in reversed([*enumerate(shapes)]) if shape.key}
    rules = [*_rules(sheet)]
    uses: list[list[tuple[int, int]]] = []
    effects: list[int] = []
    handed: list[dict[str, int]] = []
    inside: list[list[int]] = [[] for _ in shapes]
    for at, shape in enumerate(shapes):
        if shape.parent >= 0:
            inside[shape.parent].append(at)
        found, functions = _applied(shape, rules, ids)
        given = handed[shape.parent] if shape.parent >= 0 else {}
        mine = {**given, **{key: target for key, target in found.items() if key in INHERITED}}
        handed.append(mine)
        every = {**mine, **found} if shape.tag in PAINTED else found
        uses.append(
            [(target, shape.corners if key.startswith("marker") else 1) for key, target in every.items() if target >= 0]
        )
        if shape.target in ids and shape.target:
            uses[-1].append((ids[shape.target], 1))
        effects.append(functions)
        if (filter_ := found.get("filter", -1)) >= 0:
            effects[-1] += sum(other.parent == filter_ for other in shapes)
    numbers = _numbers(shapes, inside, uses, effects)
    if numbers[1] > MOST_EFFECTS:
        raise BadPictureError(
            f"it uses filters {numbers[1]:,} times; the limit is {MOST_EFFECTS}",
            "save it as plain SVG, without shadows and blurs",
        )
    if numbers[0] > MOST_SHAPES:
        raise BadPictureError(f"it draws {_said(numbers[0])} shapes; the limit is {MOST_SHAPES:,}", "make it simpler")
    return numbers[0]


def _said(number: int) -> str:
    return f"{number:,}" if number < 10**12 else "more than 10^12"


def _rules(sheet: str) -> list[tuple[str, str, str, dict[str, str]]]:
    """Return the rules that draw something else, as tag, kind of name, name, and properties; `*` fits all."""
    found = []
    for selectors, body in _RULE.findall(re.sub(r"/\*.*?\*/", "", sheet, flags=re.DOTALL)):
        style = {key: value for key, value in _properties(body).items() if key in APPLIED}
        for selector in selectors.split(",") if style else ():
            simple = _SELECTOR.fullmatch(selector.strip())
            tag, sign, name = (simple[1] or "*", simple[2] or "", simple[3] or "") if simple else ("*", "", "")
            found.append((tag, sign, name, style))
    return found


def _properties(style: str) -> dict[str, str]:
    pairs = (pair.partition(":") for pair in style.split(";"))
    return {key.strip().lower(): value.strip() for key, _, value in pairs if value}


def _applied(
    shape: Drawn, rules: list[tuple[str, str, str, dict[str, str]]], ids: dict[str, int]
) -> tuple[dict[str, int], int]:
    """Return which shapes are drawn for a shape by property (-1: none), and how many filters are named as functions."""
    if not shape.tag:
        return {}, 0
    style: dict[str, str] = {}
    for tag, sign, name, properties in rules:
        fits = name in shape.classes if sign == "." else name == shape.key if sign else True
        if fits and tag in ("*", shape.tag):
            style.update(properties)
    style.update(_properties(shape.style) if shape.style else {})
    found = {}
    for key in APPLIED:
        if key in style:
            target = _TARGET.search(style[key])
            found[key] = ids.get(target[1].strip(), -1) if target else -1
    return found, len(_FUNCTION.findall(style.get("filter", "").lower()))


def _numbers(
    shapes: list[Drawn], inside: list[list[int]], uses: list[list[tuple[int, int]]], effects: list[int]
) -> tuple[int, int]:
    """Return how many shapes the outermost draws, and how many parts of filters work for them."""
    known: dict[int, tuple[int, int]] = {}
    waiting, open_ = [0], set[int]()
    while waiting:
        at = waiting[-1]
        if at in known:
            waiting.pop()
            continue
        below = [*((child, 1) for child in inside[at]), *uses[at]]
        if at not in open_:
            open_.add(at)
            for other, _ in below:
                if other in open_:
                    raise BadPictureError(f"it shows {quote(shapes[other].key or shapes[other].tag)} inside itself")
                if other not in known:
                    waiting.append(other)
            continue
        waiting.pop()
        open_.discard(at)
        known[at] = (
            1 + shapes[at].corners // 100 + sum(known[other][0] * times for other, times in below),
            effects[at] + sum(known[other][1] * times for other, times in below),
        )
    return known[0]
