"""The words that the templates of the printed manual set by themselves, by the names that they ask for."""

from __future__ import annotations

from putback.words import labels_for


def paper_words(language: str | None) -> dict[str, str]:
    """Return the words of a language, `en` or `en-GB`; English where there is no other."""
    labels = labels_for(language)
    book, safety = labels.book, labels.safety
    return {
        "manual": book.manual,
        "contents": book.contents,
        "page": book.page,
        "of": book.of,
        "licence": book.licence,
        "draft": book.draft.upper(),
        "read-first": book.notice,
        "notes": book.notes,
        "only-this": book.for_some,
        "picture": book.picture,
        "no-picture": book.no_picture,
        "alert-sign": safety.alert,
        **{signal.value: word.upper() for signal, word in safety.signals},
    }
