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
"""What the parser says of an escape in double quotes, and how far behind its backslash the parser then stands."""
_PLAINLY = {
    "did not find expected key": "a key is expected here",
    "did not find expected '-' indicator": "a '-' is expected here, as before the other items of this list",
    "did not find expected node content": "a value is expected here",
    "did not find expected <document start>": "nothing can stand behind what has ended above",
    "could not find expected ':'": "a ':' with a space behind it is expected after this",
    "did not find expected comment or line break": "nothing but a comment can stand here",
    "block sequence entries are not allowed in this context": "a list cannot begin behind a key on its line",
    "mapping keys are not allowed in this context": "a value cannot start with '?' unless it is in quotes",
    "mapping values are not allowed in this context": "a colon stands where no key can be",
    "found character that cannot start any token": "no value can start with this",
    "found unexpected ':'": "a space is expected behind this colon",
    "found unexpected document indicator": "a text in quotes cannot hold a line with '---' or '...' alone",
    "found an indentation indicator equal to 0": "behind '|' and '>', an indentation is 1 to 9",
}
"""What the parser says of the place where it gave up, in words of an author."""
_INDENT = "check the indentation, and quote values that hold ': ' or start with a sign"


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
    """Return the fault behind an error of the parser."""
    problem = " ".join((getattr(error, "problem", None) or str(error) or type(error).__name__).split()).rstrip(".")
    mark = (error.problem_mark or error.context_mark) if isinstance(error, MarkedYAMLError) else None
    lines = text.split("\n")
    if problem in _UNCLOSED and isinstance(error, MarkedYAMLError) and error.context_mark:
        mark = error.context_mark
    # The parser may notice a fault behind the last line.
    line = min(mark.line + 1, len(lines)) if mark else 1
    written = lines[line - 1]
    column = min(mark.column, len(written)) + 1 if mark else 1
    tab = next((n for n in (line, line - 1) if n and "\t" in _indent(lines[n - 1])), None)
    if tab:
        return Misread(
            tab, lines[tab - 1].index("\t") + 1, "a tab is used to indent", "indent with spaces, two a level"
        )
    if written.startswith("%") and not written[1:2].isspace():
        return Misread(line, 1, f"{quote(written)} is a directive", "leave it out")
    if problem in _UNCLOSED:
        return Misread(line, column, _UNCLOSED[problem], "close it")
    sign = _SIGN_OF_VALUE.fullmatch(written)
    if sign and not _BLOCK_HEADER.fullmatch(sign[1]):
        return _signed(line, sign.start(1) + 1, sign[1])
    if problem == "found character that cannot start any token":
        if written[column - 1 : column] == "\t":
            return Misread(line, column, "a tab stands before a value", "write a space")
        value = re.split(r"[,\]}]", written[column - 1 :])[0].rstrip()
        if value[:1] and value[0] in "@`%|>":
            return _signed(line, column, value)
    if problem in _ESCAPES:
        start = max(0, column - 1 - _ESCAPES[problem])
        escape = _ESCAPE.match(written, start)
        if escape:
            right = "write a backslash twice between double quotes, or use single quotes"
            return Misread(line, start + 1, f"{quote(escape[0])} stands for no character", right)
    return Misread(line, column, _PLAINLY.get(problem) or f"this cannot be read as YAML: {problem}", _INDENT)


def _signed(line: int, column: int, value: str) -> Misread:
    problem = f"a value cannot start with '{value[0]}' unless it is in quotes"
    value = re.split(r" #", value)[0].rstrip()
    plain = short(value) == value and '"' not in value and "\\" not in value
    return Misread(line, column, problem, f'write it in quotes: "{value}"' if plain else "write it in quotes")


def _indent(line: str) -> str:
    return line[: len(line) - len(line.lstrip())]
