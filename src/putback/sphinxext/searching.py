"""What the search of HTML finds: part numbers such as `AG-1103` are words, and steps are found by those they handle."""

from __future__ import annotations

import re
from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING

from sphinx import search
from sphinx.search import SearchLanguage
from sphinx.search.en import SearchEnglish

from putback.model.machine import AnyThing, Fastener, Line, Part

if TYPE_CHECKING:
    from sphinx.application import Sphinx
    from sphinx.config import Config

_NUMBERED = re.compile(r"\w+(?:-\w+)+")
_ENDING = "-putback"

_SPLITTER = r"""
function splitQuery(query) {
    const whole = [];
    const rest = query.replace(/[\p{Letter}\p{Number}_]+(?:-[\p{Letter}\p{Number}_]+)+/gu, (word) => {
        if (!/\p{Number}/u.test(word)) return word;
        whole.push(word);
        return " ";
    });
    const others = rest.split(/[^\p{Letter}\p{Number}_\p{Emoji_Presentation}]+/gu);
    return whole.concat(others.filter((term) => term));
}
"""
"""The same for what is typed: without it, the search looks for `ag` alone, and finds every page."""


def keep_numbers_whole(app: Sphinx, config: Config) -> None:
    """Let the search of the project's language take part numbers as words; a language with a splitter keeps its own."""
    name = config.html_search_language or config.language or "en"
    if name.endswith(_ENDING):
        return
    known = _language(name)
    if known.js_splitter_code:
        return

    class Numbered(known):  # type: ignore[valid-type, misc]
        lang = f"{name}{_ENDING}"

        def split(self, input: str) -> list[str]:
            numbers = [word for word in _NUMBERED.findall(input) if any(map(str.isdigit, word))]
            return [*numbers, *super().split(input)]

        js_splitter_code = _SPLITTER

    app.add_search_language(Numbered)
    config.html_search_language = Numbered.lang


def _language(name: str) -> type[SearchLanguage]:
    """Return what Sphinx knows of a language's words; English where it knows none."""
    found = search.languages.get(name) or search.languages.get(name.partition("_")[0], SearchEnglish)
    if not isinstance(found, str):
        return found
    module, _, kind = found.rpartition(".")
    language: type[SearchLanguage] = getattr(import_module(module), kind)
    return language


def numbered(words: str, things: Sequence[AnyThing]) -> str:
    """Return words with the part numbers of things that they do not have."""
    numbers = [thing.number for thing in things if isinstance(thing, Part | Fastener | Line) and thing.number]
    missing = [number for number in dict.fromkeys(numbers) if number not in words]
    return f"{words} ({', '.join(missing)})" if missing else words
