"""Words that Sphinx writes on our pages, and that its own catalogues may lack: said from ours."""

from __future__ import annotations

from gettext import NullTranslations
from typing import TYPE_CHECKING

from sphinx.locale import translators

from putback.telling import Message, told_in

if TYPE_CHECKING:
    from sphinx.application import Sphinx

_WORDS = (
    # Translators: what a mark after a heading says when the pointer rests on it.
    Message("sphinx", "Link to this heading"),
    Message("sphinx", "Link to this image"),
    Message("sphinx", "Link to this table"),
    Message("sphinx", "Link to this code"),
    Message("sphinx", "Link to this term"),
    Message("sphinx", "Link to this definition"),
    Message("sphinx", "Link to this equation"),
    Message("sphinx", "Link to this toctree"),
)
"""Each as Sphinx writes it."""


class _Ours(NullTranslations):
    """Is asked for what Sphinx itself cannot say in a language."""

    def __init__(self, tag: str) -> None:
        super().__init__()
        teller = told_in(tag)
        self.told = {word.text: teller.told(word) for word in _WORDS}

    def gettext(self, message: str) -> str:
        return self.told.get(message, message)


def lend_words(app: Sphinx) -> None:
    """Let Sphinx say in the language of the manual what its catalogue has no words for."""
    tag = (app.config.language or "en").replace("_", "-")
    translators["general", "sphinx"].add_fallback(_Ours(tag))
