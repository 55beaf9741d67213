"""What the printed manual is told by this extension: the words that its template prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from putback.words import labels_for

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config


def give_words(app: Sphinx, config: Config) -> None:
    """Give the template its words, in the language of the book."""
    del app
    config.typstpdf_words = paper_words(config.language)


def paper_words(language: str | None) -> dict[str, str]:
    """Return the words of the template by the names that it asks for."""
    labels = labels_for(language)
    book, safety = labels.book, labels.safety
    return {
        "manual": book.manual,
        "contents": book.contents,
        "page": book.page,
        "of": book.of,
        "licence": book.licence,
        "draft": book.draft,
        "notice": book.notice,
        "no-picture": book.no_picture,
        "sign": safety.alert,
        **{f"signal-{signal.value}": word.upper() for signal, word in safety.signals},
    }
