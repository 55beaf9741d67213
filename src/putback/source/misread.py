"""Words for a text that a parser of YAML cannot read: where the fault most likely is, what it is, what is right."""

from __future__ import annotations

import re
from typing import NamedTuple

from ruamel.yaml.error import MarkedYAMLError

from putback.source.late import Late
from putback.source.quoting import quote, short

_SIGN_OF_VALUE = Late(r" *(?:- +)*(?:[^\s:#'\"]+: +)?(([>|@`%&*!])\S?.*?)\s*")
_BLOCK_HEADER = Late(r"[>|][-+0-9]*")
_ESCAPE = Late(r"\\(?:x.{0,2}|u.{0,4}|U.{0,8}|.?)")
_UNCLOSED = {
    "did not find expected ',' or ']'": "the list that '[' opens here is not closed",
    "did not find expected ',' or '}'": "the mapping that '{' opens here is not closed",
    "found unexpected end of stream": "a quotation mark is opened here and never closed",
}
_ESCAPES = {
    "found unknown escape character": 0,
    "did not find expected hexdecimal number": 2,
    "found invalid Unicode character escape code": 2,
}
"""What the parser says of an escape in double quotes, and how far after its backslash the parser then stands."""
_PLAINLY = {
    "did not find expected key": "a key is expected here",
    "did not find expected '-' indicator": "a '-' is expected here, as before the other items of this list",
    "did not find expected node content": "a value is expected here",
    "did not find expected <document start>": "nothing can follow what has ended above",
    "could not find expected ':'": "a ':' with a space after it is expected after this",
    "did not find expected comment or line break": "only a comment can be here",
    "block sequence entries are not allowed in this context": "a list cannot begin on the same line as its key",
    "mapping keys are not allowed in this context": "a value cannot start with '?' unless it is in quotes",
    "mapping values are not allowed in this context": "there is a colon where no key can be",
    "found character that cannot start any token": "no value can start with this",
    "found unexpected ':'": "a space is expected after this colon",
    "found unexpected document indicator": "a text in quotes cannot have a line of only '---' or '...'",
    "found an indentation indicator equal to 0": "after '|' or '>', an indentation must be 1 to 9",
}
"""What the parser says of the place where it gave up, in words of an author."""
_NO_COLON = "could not find expected ':'"
_KEY = Late(r" *(?:- +)*([a-z][a-z0-9-]*)(?::?(?=\S)| +|$)(.*)")
_HAS_COLON = Late(r":(?: |$)")
_INDENT = "check the indentation, and quote values that contain ': ' or start with a symbol"


class Misread(NamedTuple):
    """What is wrong with a text that cannot be read."""

    line: int
    """From 1."""
    column: int
    """From 1."""
    problem: str
    """What it is."""
    hint: str
    """What would be right."""


def misread(text: str, error: Exception) -> Misread:
    """Return the fault after an error of the parser."""
    problem = " ".join((getattr(error, "problem", None) or str(error) or type(error).__name__).split()).rstrip(".")
    mark = (error.problem_mark or error.context_mark) if isinstance(error, MarkedYAMLError) else None
    lines = text.split("\n")
    if problem in _UNCLOSED and isinstance(error, MarkedYAMLError) and error.context_mark:
        mark = error.context_mark
    # The parser may notice a fault after the last line.
    line = min(mark.line + 1, len(lines)) if mark else 1
    written = lines[line - 1]
    column = min(mark.column, len(written)) + 1 if mark else 1
    tab = next((n for n in (line, line - 1) if n and "\t" in _indent(lines[n - 1])), None)
    if tab:
        return Misread(
            tab, lines[tab - 1].index("\t") + 1, "a tab is used to indent", "indent with spaces, two per level"
        )
    if written.startswith("%") and not written[1:2].isspace():
        return Misread(line, 1, f"{quote(written)} is a directive", "delete it")
    if problem in _UNCLOSED:
        return Misread(line, column, _UNCLOSED[problem], "close it")
    sign = _SIGN_OF_VALUE.fullmatch(written)
    if sign and not _BLOCK_HEADER.fullmatch(sign[1]):
        return _signed(line, sign.start(1) + 1, sign[1])
    if problem == "found character that cannot start any token":
        if written[column - 1 : column] == "\t":
            return Misread(line, column, "there is a tab before a value", "write a space")
        value = re.split(r"[,\]}]", written[column - 1 :])[0].rstrip()
        if value[:1] and value[0] in "@`%|>":
            return _signed(line, column, value)
    if problem in _ESCAPES:
        start = max(0, column - 1 - _ESCAPES[problem])
        escape = _ESCAPE.match(written, start)
        if escape:
            right = "write a backslash twice between double quotes, or use single quotes"
            return Misread(line, start + 1, f"{quote(escape[0])} is not a valid escape", right)
    return _further_up(lines, line, column, problem, error) or Misread(
        line, column, _PLAINLY.get(problem) or f"this cannot be read as YAML: {problem}", _INDENT
    )


def _further_up(lines: list[str], line: int, column: int, problem: str, error: Exception) -> Misread | None:
    """Return a fault that the parser notices only lines below it; None when it is where the parser gave up."""
    written = lines[line - 1]
    if problem == _NO_COLON:
        above = error.context_mark if isinstance(error, MarkedYAMLError) else None
        return _without_colon(lines, above.line + 1 if above else line)
    if problem == "did not find expected '-' indicator" and re.match(r"-\S", written[column - 1 :]):
        return Misread(line, column, _PLAINLY[problem], "write a space after it")
    if problem == "mapping values are not allowed in this context" and line > 1 and ": " not in written[: column - 1]:
        above = lines[line - 2]
        if re.match(r" *-[^\s-]", above):
            column = len(_indent(above)) + 1
            return Misread(line - 1, column, "a '-' with a space after it is expected here", "write a space after it")
        before = next((text for text in reversed(lines[: line - 2]) if text.strip()), ":")
        # What goes on from a text further up is no key.
        return _without_colon(lines, line - 1) if before.endswith(":") and not _HAS_COLON.search(above) else None
    mark = written[column - 2 : column - 1]
    # A mark that is the first of its kind on a line, and closes: it was opened above.
    if problem == "did not find expected key" and mark in ("'", '"') and written[: column - 1].count(mark) % 2:
        return _opened_above(lines, line, mark)
    return None


_LONGEST_KEY = 60
"""Letters of a key that a hint writes out."""


def _without_colon(lines: list[str], line: int) -> Misread | None:
    """Return what is wrong with a line that should be a key and its value."""
    found = _KEY.fullmatch(lines[line - 1])
    if found is None:
        return None
    key, value = found[1], found[2].strip()
    if len(key) > _LONGEST_KEY:
        return Misread(line, found.start(1) + 1, _PLAINLY[_NO_COLON], "a key is a short name, with a colon after it")
    hint = f"write it as '{key}: {short(value)}'" if value else f"write it as '{key}:'"
    return Misread(line, found.start(1) + 1, _PLAINLY[_NO_COLON], hint)


def _opened_above(lines: list[str], line: int, mark: str) -> Misread | None:
    """Return the quotation mark that took what stood up to the next one, lines below, for its text."""
    for above in range(line - 1, 0, -1):
        opened = re.search(rf"[-:,\[{{] *({mark})[^{mark}]*$", lines[above - 1])
        if opened and lines[above - 1].count(mark) % 2:
            problem = f"a quotation mark is opened here and closed only on line {line}"
            return Misread(above, opened.start(1) + 1, problem, "close it")
    return None


def _signed(line: int, column: int, value: str) -> Misread:
    problem = f"a value cannot start with '{value[0]}' unless it is in quotes"
    value = re.split(r" #", value)[0].rstrip()
    plain = short(value) == value and '"' not in value and "\\" not in value
    return Misread(line, column, problem, f'write it in quotes: "{value}"' if plain else "write it in quotes")


def _indent(line: str) -> str:
    return line[: len(line) - len(line.lstrip())]
