"""What must hold of whatever is said about a file: its places exist, and its words are in the style of the house."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from putback.source.characters import visible
from putback.source.finding import Finding
from putback.source.span import Span

LONGEST = 300
"""Characters of the file that a message may quote."""


class Failure(NamedTuple):
    """What was wrong with an answer."""

    kind: str
    """Alike for failures of one cause, as far as can be told."""
    detail: str
    """What was seen."""

    @property
    def stem(self) -> str:
        """Its kind as the name of a file."""
        return stem_of(self.kind)


def stem_of(kind: str) -> str:
    """Return what failed as the name of a file."""
    return "-".join(re.findall(r"[a-z0-9]+", kind.lower()))[:80]


def faults_of(findings: Iterable[Finding], files: Mapping[str, str | bytes]) -> Iterator[Failure]:
    """Yield what is wrong with some findings about files, given by the paths that are shown."""
    lines = {path: lines_of(content) for path, content in files.items()}
    source = "\n".join(text for name in lines for text in lines[name])
    # Between double quotes, a backslash is written twice.
    folded = " ".join(source.replace("\\", "").split())
    for finding in findings:
        for span in (finding.span, *(also.span for also in finding.also)):
            # A file or folder that is not there, or is not read, has its beginning as a place.
            if span.path in lines and not exists(span, lines[span.path]):
                yield Failure(f"{finding.check}: a place that is not there", f"{span}: {finding.message}")
            elif span.path not in lines and span[1:3] != (1, 1) and not span.path.startswith("shared/"):
                yield Failure(f"{finding.check}: a place in no file", f"{span}: {finding.message}")
        for message in (finding.message, *(also.message for also in finding.also), finding.hint or "x"):
            wrong = style_fault(message, folded)
            # A hint may be a whole sentence of the author's, or what is to be written; the name of a picture's file is
            # shown as it is.
            fine = wrong in ("ends in a stop", "quotes at length") and message == finding.hint
            fine |= wrong in ("quotes at length", "quotes what nobody sees") and finding.check == "no-picture"
            if wrong and not fine:
                yield Failure(f"{finding.check}: {wrong}", message[:300])


def lines_of(content: str | bytes) -> list[str]:
    """Return the lines of a file, as an editor counts them."""
    text = content if isinstance(content, str) else content.decode("utf-8", "replace")
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")


def exists(span: Span, lines: list[str]) -> bool:
    """Tell whether a place lies in a file: its end too, and not before its beginning."""
    if not 1 <= span.line <= span.end_line <= len(lines):
        return False
    if not 1 <= span.column <= max(2, len(lines[span.line - 1]) + 1):
        return False
    if not 1 <= span.end_column <= max(2, len(lines[span.end_line - 1]) + 2):
        return False
    return span.line < span.end_line or span.column <= span.end_column


_OURS = re.compile(
    r"\b(?:None|True|False|nan|inf|Infinity|NaN)\b|[0-9]e[+-]?[0-9]+|E[+-][0-9]+|<[a-z_.]+ object|\[\'|\{\'"
    r"|\w+\(\w+=|\b[A-Z]\w+Error\b"
)
_QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"")


def style_fault(message: str, source: str) -> str | None:
    """Return how a message is against the style of the house; words that stand in the files are their author's."""
    if any(unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp") for character in message):
        return "holds a control character"
    if any("\u202a" <= character <= "\u202e" or "\u2066" <= character <= "\u2069" for character in message):
        return "turns the direction of writing"
    if not message.strip():
        return "is empty"
    if any(len(quoted) > LONGEST for quoted in _QUOTED.findall(message)):
        return "quotes at length"
    if any(visible(quoted) != quoted for quoted in _QUOTED.findall(message)):
        return "quotes what nobody sees"
    # A name may stand in the plural.
    first = message.split()[0].removesuffix("s").removesuffix("e")
    if (
        first[:1].isupper()
        and not re.match(r"[A-Z]{1,4}[0-9]|[A-Z]{2}|[GR]$", first)  # G and R are pipe threads
        and first.strip(",;:.").replace("\\", "") not in source
    ):
        return "begins with a capital"
    bare = _QUOTED.sub("''", message)
    if bare.endswith((".", "!")) and bare.split()[-1].replace("\\", "") not in source:
        return "ends in a stop"
    for found in _OURS.finditer(bare):
        if found[0] not in source:
            return f"holds {found[0]!r}"
    return None
