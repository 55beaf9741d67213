"""How names, clauses and sentences stand in a row: no word of any language is in it."""

from __future__ import annotations

from collections.abc import Iterable

from putback.words.pieces import Phrase, Piece, as_text, on_one_line, phrase


def in_a_row(items: Iterable[str | Piece | Phrase]) -> Phrase:
    """Return names or clauses in a row; with semicolons where one of them has commas of its own."""
    each = [one for item in items if (one := phrase(item))]
    between = "; " if len(each) > 1 and any(", " in as_text(one) for one in each) else ", "
    result: Phrase = ()
    for one in each:
        result = phrase(*result, between if result else None, one)
    return result


def in_text(items: Iterable[str]) -> str:
    """Return the same of plain words."""
    return as_text(in_a_row(items))


def sentences(items: Iterable[str | Piece | Phrase | None]) -> Phrase:
    """Return sentences one after another, each with a capital: some languages begin them with the name of a thing."""
    result: Phrase = ()
    for item in items:
        one = capital(phrase(item))
        if one:
            result = phrase(*result, " " if result else None, one)
    return result


def capital(words: Phrase) -> Phrase:
    """Return a phrase with a capital."""
    if not words:
        return words
    first, *rest = words
    return phrase(first._replace(text=upper(first.text)), *rest)


def upper(words: str) -> str:
    """Return words with a capital; a unit or a sign stays as it is."""
    return f"{words[:1].upper()}{words[1:]}"


def ended(words: str) -> str:
    """Return words with a full stop, as they begin."""
    words = on_one_line(words)
    return f"{words}{'' if words.endswith(('.', '!', '?', ':', '…')) else '.'}"


def sentence(words: str) -> str:
    """Return words with a capital and a full stop."""
    return upper(ended(words))
