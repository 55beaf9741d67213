"""A tree as YAML, and changes to a text that care nothing for what it says."""

from __future__ import annotations

import json
import re
from random import Random
from typing import Any

from tests.fuzz import vocabulary as v
from tests.fuzz.guides import Tree

_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 /.·-]*[A-Za-z0-9]")
_WORDS = {"true", "false", "null"}


def dumped(tree: Tree, rng: Random) -> dict[str, str]:
    """Return the files of a guide as YAML, some of it in braces."""
    flow = rng.choice((0.0, 0.0, 0.1, 1.0))
    found = {}
    for name, value in tree.items():
        text = (
            value if isinstance(value, str) and not name.endswith(".yaml") else "\n".join(_block(value, rng, 0, flow))
        )
        found[name] = text + ("" if text.endswith("\n") else "\n")
    return found


def _block(value: Any, rng: Random, depth: int, flow: float) -> list[str]:
    """Return the lines of a value, not indented."""
    if not isinstance(value, dict | list) or not value or depth > 20 or (depth and flow and rng.random() < flow):
        return [_flow(value)]
    lines: list[str] = []
    pairs = (
        [(f"{_flow(str(key))}:", one) for key, one in value.items()]
        if isinstance(value, dict)
        else [("-", one) for one in value]
    )
    for lead, one in pairs:
        inner = _block(one, rng, depth + 1, flow)
        if lead == "-" and isinstance(one, dict):
            lines += [f"- {inner[0]}", *(f"  {line}" for line in inner[1:])]
        elif isinstance(one, dict | list) and one and not (len(inner) == 1 and inner[0][0] in "[{"):
            lines += [lead, *(f"  {line}" for line in inner)]
        else:
            lines += [f"{lead} {inner[0]}"]
    return lines


def _flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_flow(str(key))}: {_flow(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    if isinstance(value, str):
        if _PLAIN.fullmatch(value) and value not in _WORDS:
            return value
        # Escapes for what a file may not hold as it is.
        return json.dumps(value, ensure_ascii=not value.isprintable())
    return json.dumps(value)


def changed(texts: dict[str, str], rng: Random, times: int) -> dict[str, str | bytes]:
    """Return files with a few changes to their characters; now and then to their bytes."""
    found: dict[str, str | bytes] = dict(texts)
    for _ in range(times):
        name = rng.choice(list(texts))
        text = found[name]
        if isinstance(text, str):
            found[name] = _changed(text, rng, texts)
    if rng.random() < 0.05:
        name = rng.choice(list(texts))
        text = found[name]
        if isinstance(text, str):
            data = text.encode("utf-8", "surrogatepass")
            at = rng.randint(0, len(data))
            found[name] = (
                data[:at] + rng.choice((b"\xff", b"\xc3", b"\xed\xa0\x80", b"\0", b"\xf4\x90\x80\x80")) + data[at:]
            )
    return found


def _changed(text: str, rng: Random, texts: dict[str, str]) -> str:
    at = rng.randint(0, len(text))
    end = min(len(text), at + rng.choice((1, 1, 2, 5, 20, 100)))
    lines = text.split("\n")
    line = rng.randrange(len(lines))
    match rng.randrange(13):
        case 0 | 1 | 2:
            return text[:at] + rng.choice(v.FRAGMENTS) + text[at:]
        case 3:
            return text[:at] + rng.choice(v.CONTROL) + text[at:]
        case 4:
            return text[:at] + text[end:]
        case 5:
            return text[:at] + rng.choice(v.FRAGMENTS) + text[end:]
        case 6:
            lines.insert(line, lines[rng.randrange(len(lines))])
        case 7:
            del lines[line]
        case 8:
            lines[line] = rng.choice(("  ", " ", "    ", "\t")) + lines[line]
        case 9:
            lines[line] = lines[line][rng.randint(1, 3) :]
        case 10:
            other = rng.choice(list(texts.values()))
            start = rng.randint(0, len(other))
            return text[:at] + other[start : start + rng.choice((10, 100, 1000))] + text[end:]
        case 11:
            return text[:at]
        case _:
            head, colon, _ = lines[line].partition(": ")
            odd: str = rng.choice(v.ODD_QUANTITIES + v.ODD_TEXTS)
            lines[line] = f"{head}{colon}{odd}"
    return "\n".join(lines)
