"""The shape of a JSON report of a part, as far as it is read again."""

from __future__ import annotations

from typing import Any

from putback.lint.parts import MOST_PARTS

Json = dict[str, Any]

_TEXT: Json = {"type": "string"}
_TEXTS: Json = {"type": "array", "items": _TEXT}
_COUNT: Json = {"type": "integer", "minimum": 0, "maximum": 1 << 31}
_FROM_ONE: Json = _COUNT | {"minimum": 1}
_SPAN: Json = {"path": _TEXT} | dict.fromkeys(("line", "column", "end_line", "end_column"), _FROM_ONE)


def _record(keys: Json) -> Json:
    return {"type": "object", "properties": keys, "required": list(keys)}


def _listed(keys: Json) -> Json:
    return {"type": "array", "items": _record(keys)}


FINDING: Json = {
    "check": {"type": "string", "pattern": "^[a-z0-9-]+$"},
    "level": {"enum": ["error", "warning", "advice"]},
    **_SPAN,
    "message": _TEXT,
    "variant": {"type": "object", "additionalProperties": _TEXT},
    "also": _listed(_SPAN | {"message": _TEXT}),
    "hint": {"type": ["string", "null"]},
    "fingerprint": {"type": "string", "pattern": "^[0-9a-f]{32}(:[0-9]{1,9})?$"},
}
"""The keys of a finding."""

PART = _record(
    {
        "findings": _listed(FINDING),
        "waived": _listed(FINDING | {"reason": _TEXT}),
        "part": _record(
            {
                "number": _FROM_ONE | {"maximum": MOST_PARTS},
                "of": _FROM_ONE | {"maximum": MOST_PARTS},
                "version": _TEXT,
                "folder": _TEXT,
                "unreadable": {"type": "boolean"},
                "unread": _listed(FINDING),
                "split": {"type": "object", "additionalProperties": _FROM_ONE},
                "guides": _listed(
                    {
                        "guide": _TEXT,
                        "whole": {"type": "boolean"},
                        "files": _TEXTS,
                        "walked": _TEXTS,
                        "not_walked": _TEXTS,
                        "jobs_there": _COUNT,
                        "steps": _COUNT,
                        "unchecked": _TEXTS,
                        "left_out": _TEXTS,
                        "unreadable": {"type": "boolean"},
                    }
                ),
            }
        ),
    }
)
"""The report of a part."""
