"""Which checks belong together: those whose texts name each other."""

from __future__ import annotations

import re
from collections.abc import Mapping

from putback.checks.engine.known import KnownCheck


def related_to(check: KnownCheck, checks: Mapping[str, KnownCheck]) -> list[str]:
    """Return the names of the checks that a check's text names, then of those whose texts name it."""
    named = [name for name in _named(check) if name in checks]
    naming = [name for name, other in checks.items() if check.name in _named(other)]
    return [name for name in dict.fromkeys([*named, *naming]) if name != check.name]


def _named(check: KnownCheck) -> list[str]:
    return re.findall(r"`([a-z0-9-]+)`", check.text)
