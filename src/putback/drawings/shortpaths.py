"""The path of a drawing in fewer letters: each point from the one before it, to the same hundredth of a millimetre."""

from __future__ import annotations

import re
from collections.abc import Iterator

_COMMAND = re.compile(r"([MLCQAHVZmlcqahvz])([^MLCQAHVZmlcqahvz]*)")
_NUMBER = re.compile(r"[-+]?(?:[0-9]*\.[0-9]+|[0-9]+)(?:e[-+]?[0-9]+)?")
_TAKES = {"M": 2, "L": 2, "C": 6, "Q": 4, "A": 7, "H": 1, "V": 1, "Z": 0}
"""How many numbers a command takes (SVG 2, path data)."""
_FINE = 100
"""Parts of a millimetre."""

_Move = tuple[str, tuple[int, ...]]
"""A command with its numbers from the top left, in hundredths; of an arc, the two flags and the angle as they are."""


def short(data: str) -> str:
    """Return the `d` of a path in fewer letters; what it draws is the same to a hundredth."""
    parts: list[str] = []
    last = ""
    for command, numbers in _from_the_last(list(_moves(data))):
        # "l" may be left out after "m", and a command that is said again.
        name = "" if command == last and command != "z" else command
        body = _run_together(numbers)
        if not name and not body.startswith("-"):
            body = f" {body}" if body[:1] != "." or "." not in _last_number(parts[-1]) else body
        parts.append(name + body)
        last = {"m": "l"}.get(command, command)
    return "".join(parts)


def joined(one: str, other: str) -> str:
    """Return two paths as one."""
    return f"{one} {other}"


def reach(data: str) -> tuple[float, float, float, float]:
    """Return a box that a path does not leave, with its handles: left, top, right, bottom, mm."""
    xs: list[int] = []
    ys: list[int] = []
    for command, points in _moves(data):
        far = 2 * max(points[:2]) if command == "A" else 0
        ends = points[-2:] if command == "A" else points
        xs += [each for x in ends[::2] for each in (x - far, x + far)]
        ys += [each for y in ends[1::2] for each in (y - far, y + far)]
    return min(xs) / _FINE, min(ys) / _FINE, max(xs) / _FINE, max(ys) / _FINE


def _moves(data: str) -> Iterator[_Move]:
    """Yield the commands of a path, each with points from the top left."""
    x = y = start_x = start_y = 0
    for name, rest in _COMMAND.findall(data):
        values = [float(value) for value in _NUMBER.findall(rest)]
        command, takes = name.upper(), _TAKES[name.upper()]
        if command == "Z":
            yield "Z", ()
            x, y = start_x, start_y
            continue
        for at in range(0, len(values), takes):
            each = values[at : at + takes]
            if command in "HV":
                exact = round(each[0] * _FINE) + (0 if name.isupper() else x if command == "H" else y)
                points: tuple[int, ...] = (exact, y) if command == "H" else (x, exact)
                yield "L", points
            elif command == "A":
                dx, dy = (0, 0) if name.isupper() else (x, y)
                sizes = tuple(round(value * _FINE) for value in each[:5])
                points = (round(each[5] * _FINE) + dx, round(each[6] * _FINE) + dy)
                yield "A", (*sizes, *points)
            else:
                offsets = (0, 0) if name.isupper() else (x, y)
                points = tuple(round(value * _FINE) + offsets[k % 2] for k, value in enumerate(each))
                # What follows a first point is a line.
                yield ("L" if command == "M" and at else command), points
            x, y = points[-2:]
            if command == "M" and not at:
                start_x, start_y = x, y


def _from_the_last(moves: list[_Move]) -> Iterator[tuple[str, list[str]]]:
    """Yield each command with its numbers from the point before it."""
    x = y = start_x = start_y = 0
    for command, points in moves:
        if command == "Z":
            yield "z", []
            x, y = start_x, start_y
            continue
        to_x, to_y = points[-2:]
        if command == "L" and (to_x == x) != (to_y == y):
            yield ("h", [_said(to_x - x)]) if to_y == y else ("v", [_said(to_y - y)])
        elif command == "A":
            yield "a", [*map(_said, points[:5]), _said(to_x - x), _said(to_y - y)]
        else:
            yield command.lower(), [_said(value - (x, y)[k % 2]) for k, value in enumerate(points)]
        x, y = to_x, to_y
        if command == "M":
            start_x, start_y = x, y


def _said(hundredths: int) -> str:
    """Return a length in as few letters as there can be."""
    sign, size = "-" if hundredths < 0 else "", abs(hundredths)
    whole, rest = divmod(size, _FINE)
    after = f".{rest:02}".rstrip("0") if rest else ""
    return f"{sign}{whole or ''}{after}" if after else f"{sign if whole else ''}{whole}"


def _run_together(numbers: list[str]) -> str:
    """Return numbers with a blank only where two would become one."""
    text = ""
    for k, value in enumerate(numbers):
        apart = k and not value.startswith("-") and not (value.startswith(".") and "." in numbers[k - 1])
        text += f" {value}" if apart else value
    return text


def _last_number(text: str) -> str:
    """Return the last number of a text."""
    return re.split(r"[ a-z-]", text)[-1]
