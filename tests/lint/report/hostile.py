"""Results with everything that a form of report must not trip over, put together by hand."""

from __future__ import annotations

from putback.lint.result import Looked, Result, Waived
from putback.source.finding import Also, Finding, Level
from putback.source.span import Span

TEXTS = [
    "plain words",
    "two\nlines\r\nand\ra third\n ::add-mask::a fourth",
    "\x00\x01\x08\x0b\x0c\x1b[2J\x7f\x85\x9b",
    "]]> & <b>bold</b> \"quoted\" 'quoted' <!-- -->",
    "::error file=x::y %0A %25 , : ## ##[error]z ##vso[task.setvariable variable=PATH]x ###[",
    "{0} {image: …} [a link](https://example.org) [1](2) \\[",
    "\ud800 and \udcff and \U0001f527 and \ufffe\uffff",
    "\u202egnorw\u202c \u2066x\u2069 \u200f \u2028 \u2029 \ufeff",
    "Ω µ ☐ 1⁄2 漢字",
]
"""Texts that somebody may write, or put into the name of a file."""

PATHS = ["pump/jobs/a.yaml", "pump/jobs/50% #1 ?x: y,z.yaml", "shared/\u202e\ud800.yaml", "-x/::warning::.yaml"]


def hostile(text: str) -> Result:
    """Return a result with a text wherever a text can be."""
    findings = [
        Finding(
            ("left-off", "not-yaml", "no-such-check", "unread-file")[number % 4],
            [*Level][number % 3],
            Span(path, number + 1, 2, number + 1 + number % 2, 5),
            text,
            (Also(Span(path, 1, 1, 1, 2), text),),
            text,
            ((text, text),),
        )
        for number, path in enumerate(PATHS)
    ]
    looked = Looked("pump", True, ("pump/a.yaml",), (PATHS[0],), (PATHS[1],), 2, 3, (text,), (text,), False)
    return Result(
        tuple(findings[:3]),
        files=1,
        jobs=1,
        steps=3,
        jobs_there=2,
        unchecked=(text,),
        left_out=(text,),
        waived=(Waived(findings[3], text),),
        guides=(looked,),
    )
