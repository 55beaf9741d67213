"""The answers of the how-to pages, as `docs/_ext/answers.py` reads them."""

from __future__ import annotations

import importlib.util
from types import ModuleType
from typing import Any

from putback.source.finding import Finding
from tests.pasted import ROOT


def _load() -> ModuleType:
    spec = importlib.util.spec_from_file_location("answers", ROOT / "docs" / "_ext" / "answers.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


_ANSWERS = _load()


def answers(page: str) -> list[Any]:
    """Return the blocks of a page's text, with their `question`, `kind`, `arguments` and `reason`."""
    return [*_ANSWERS.answers(page)]


def lint(answer: Any) -> list[Finding]:
    """Return what all checks find in a block, on the bench machine."""
    found: list[Finding] = _ANSWERS.found_in(answer)
    return found


def answer_of(question: str, shown: str, rest: str = "") -> Any:
    """Return a block of YAML that is on no how-to page, with the rest of the guide that it needs."""
    return _ANSWERS.Answer(question, "yaml", (), shown, rest, None)
