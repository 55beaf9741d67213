"""Compile one manual with Typst; run as a program, in a process of its own.

Typst does not give memory back between compiles, and a crash of its engine must not take the build along. The
request comes as JSON on standard input and the answer goes as JSON to standard output; the parent's side of it is
in `press.py`. This file imports nothing of Putback, so that the child starts quickly.
"""

from __future__ import annotations

import json
import re
import sys
import tempfile
from pathlib import Path
from typing import Any

PLACE = re.compile(r"┌─ (?P<file>.+):(?P<line>\d+):(?P<column>\d+)\s*$", re.MULTILINE)
MISSING = re.compile(r'the text `"(?P<text>.*?)"` could not be displayed')
CODE = re.compile(r"\\u\{([0-9a-fA-F]+)\}")


def read_diagnostic(diagnostic: str, source: str) -> list[dict[str, Any]]:
    """Return the messages of a Typst diagnostic as records: message, line in `source` (0 when unknown), hint.

    A fault inside the template is reported there first and then at each call that led to it; the call in `source`
    is the one that belongs to a line of the author.
    """
    records: list[dict[str, Any]] = []
    for part in re.split(r"(?m)^(?=error: |warning: )", diagnostic):
        if not part.startswith(("error: ", "warning: ")):
            continue
        message = part.partition(": ")[2].partition("\n")[0]
        lines = [int(place["line"]) for place in PLACE.finditer(part) if Path(place["file"]).name == Path(source).name]
        hint = re.search(r"(?m)^\s*= hint: (.*)$", part)
        records.append(
            {
                "message": message,
                "line": lines[0] if lines else 0,
                "hint": hint[1] if hint else "",
            }
        )
    return records


def print_manual(request: dict[str, Any]) -> dict[str, Any]:
    """Compile `request["source"]` to `request["output"]` and return what Typst said."""
    import typst

    try:
        _, warnings = typst.compile_with_warnings(
            request["source"],
            output=request["output"],
            root=request["root"],
            font_paths=request["fonts"],
            ignore_system_fonts=True,
            format="pdf",
            pdf_standards=request["standards"],
            timestamp=request["timestamp"],
        )
    except typst.TypstError as error:
        message = str(getattr(error, "message", error))
        records = read_diagnostic(str(getattr(error, "diagnostic", "")), request["source"])
        return {"errors": records or [{"message": message, "line": 0, "hint": ""}], "warnings": []}
    seen = [record for warning in warnings for record in read_diagnostic(warning.diagnostic, request["source"])]
    return {"errors": [], "warnings": seen}


def find_unprintable(request: dict[str, Any]) -> dict[str, Any]:
    """Return which of `request["characters"]` no font of the manual has."""
    import typst

    lines = "\n".join(f'#text("{character}")' for character in request["characters"])
    source = f'#set document(title: "t")\n#set text(font: "Source Sans Pro")\n{lines}\n'
    missing: set[str] = set()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "glyphs.typ")
        path.write_text(source, encoding="utf-8")
        try:
            typst.compile(
                str(path),
                font_paths=request["fonts"],
                ignore_system_fonts=True,
                pdf_standards=["ua-1"],
                timestamp=0,
            )
        except typst.TypstError as error:
            for found in MISSING.finditer(str(error.diagnostic)):
                missing.update(CODE.sub(lambda code: chr(int(code[1], 16)), found["text"]))
    return {"characters": sorted(missing & set(request["characters"]))}


def main() -> int:
    """Answer the one request on standard input."""
    request = json.loads(sys.stdin.buffer.read())
    answer = find_unprintable(request) if "characters" in request else print_manual(request)
    sys.stdout.buffer.write(json.dumps(answer).encode("utf-8"))
    return 0


if __name__ == "__main__":
    sys.exit(main())
