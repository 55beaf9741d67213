"""The words that the templates of the printed manual set by themselves, by what they are for, in each language."""

from __future__ import annotations

PAPER: dict[str, dict[str, str]] = {
    "en": {
        "manual": "Manual",
        "contents": "Contents",
        "page": "page",
        "of": "of",
        "licence": "Licence",
        "draft": "DRAFT — NOT CHECKED",
        "read-first": "Read this first",
        "picture": "picture",
        "no-picture": "Picture not found",
        "alert-sign": "safety alert symbol",
        "danger": "DANGER",
        "warning": "WARNING",
        "caution": "CAUTION",
        "notice": "NOTICE",
    },
}
"""Each language has all of them."""


def paper_words(language: str) -> dict[str, str]:
    """Return the words of a language, `en` or `en-GB`; English where there is no other."""
    return PAPER.get(language.replace("_", "-").split("-")[0].lower(), PAPER["en"])
