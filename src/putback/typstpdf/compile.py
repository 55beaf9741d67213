"""Compile one manual with Typst; run as a program, in a process of its own.

Typst does not give memory back between compiles, and a crash of its engine must not take the build along. The
request comes as JSON on standard input and the answer goes as JSON to standard output; the parent's side of it is
in `press.py`. This file imports nothing of Putback, so that the child starts quickly.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import sys
import tempfile
from pathlib import Path
from typing import Any

PLACE = re.compile(r"┌─ (?P<file>.+):(?P<line>\d+):(?P<column>\d+)\s*$", re.MULTILINE)

PICTURES = "pictures"
"""The folder beside the source that the pictures lie in."""


def read_diagnostic(diagnostic: str, source: str) -> list[dict[str, Any]]:
    """Return the messages of a Typst diagnostic as records: message, line in `source` (0 when unknown), hint, picture.

    A fault inside the template is reported there first and then at each call that led to it; the call in `source`
    is the one that belongs to a line of the author. A fault inside a drawing is reported there, and nowhere else.
    """
    records: list[dict[str, Any]] = []
    for part in re.split(r"(?m)^(?=error: |warning: )", diagnostic):
        if not part.startswith(("error: ", "warning: ")):
            continue
        message = part.partition(": ")[2].partition("\n")[0]
        lines = [int(place["line"]) for place in PLACE.finditer(part) if Path(place["file"]).name == Path(source).name]
        drawn = [path.name for place in PLACE.finditer(part) if (path := Path(place["file"])).parent.name == PICTURES]
        hint = re.search(r"(?m)^\s*= hint: (.*)$", part)
        records.append(
            {
                "message": message,
                "line": lines[0] if lines else 0,
                "hint": hint[1] if hint else "",
                "picture": drawn[0] if drawn else "",
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
        return {"errors": records or [{"message": message, "line": 0, "hint": "", "picture": ""}], "warnings": []}
    seen = [record for warning in warnings for record in read_diagnostic(warning.diagnostic, request["source"])]
    return {"errors": [], "warnings": seen}


def find_unprintable(request: dict[str, Any]) -> dict[str, Any]:
    """Return which of `request["letters"]` no font of the manual has."""
    import typst

    letters = request["letters"]
    # Each in a paragraph of its own: Typst 0.15 can stop when letters of many scripts stand in one line.
    # `json.dumps` quotes as Typst does, as long as it need not write a letter as a number.
    lines = [line for letter in letters for line in (f"#text({json.dumps(letter, ensure_ascii=False)})", "")]
    head = ['#set document(title: "t")', f"#set text(font: ({', '.join(map(json.dumps, request['faces']))}))"]
    missing: set[int] = set()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "glyphs.typ")
        path.write_text("\n".join((*head, *lines)), encoding="utf-8")
        try:
            typst.compile(
                str(path),
                font_paths=request["fonts"],
                ignore_system_fonts=True,
                pdf_standards=["ua-1", "a-2a"],
                timestamp=0,
            )
        except typst.TypstError as error:
            for record in read_diagnostic(str(error.diagnostic), str(path)):
                missing.add((record["line"] - len(head) - 1) // 2)
    return {"letters": [letter for at, letter in enumerate(letters) if at in missing]}


def keep_within(seconds: int, size: int) -> None:
    """Let this process work for so many seconds (of all cores together) and take so many bytes of memory, no more.

    Where the system cannot do that, the parent's clock is the only limit.
    """
    try:
        import resource
    except ImportError:  # Windows
        return
    # RLIMIT_DATA, and not the address space: that one counts what threads only reserve, more of it on more cores.
    for kind, most in ((resource.RLIMIT_CPU, seconds), (resource.RLIMIT_DATA, size), (resource.RLIMIT_CORE, 0)):
        _, hard = resource.getrlimit(kind)
        # Never above what the system already holds this process to.
        least = most if hard == resource.RLIM_INFINITY else min(most, hard)
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(kind, (least, hard))


def main() -> int:
    """Answer the one request on standard input."""
    request = json.loads(sys.stdin.buffer.read())
    keep_within(*request["limits"])
    os.chdir(request["folder"])
    answer = find_unprintable(request) if "letters" in request else print_manual(request)
    sys.stdout.buffer.write(json.dumps(answer).encode("utf-8"))
    return 0


if __name__ == "__main__":
    sys.exit(main())
