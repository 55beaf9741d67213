"""What a verb or a key means, as `putback explain` shows it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from putback.model.verbs import VERBS
from putback.model.verbsaid import reversed_, taken
from putback.source.grammar import listed
from putback.source.keys import Key, about_verb, everywhere, keys_of, owners, written

WIDTH = 80
"""Of lines in a terminal; what is wider is hard to read."""


def meaning(name: str) -> str:
    """Return what is to be said of a verb, a kind of thing and keys with this name; nothing when there are none."""
    own = _verb(name) if name in VERBS else _kind(name) if name in {*owners(), "thing"} else ()
    return "\n\n".join([*own, *_keys(name)])


def names() -> set[str]:
    """Return every verb, every key, and every kind of thing that has keys."""
    return {*VERBS, *owners(), *(name for owner in owners() for name in keys_of(owner))}


def _verb(name: str) -> Iterator[str]:
    verb = VERBS[name]
    yield f"{name} (verb)"
    yield wrapped(about_verb(name).about)
    facts = [f"Takes: {taken(verb)}.", f"In reverse: {reversed_(verb)}"]
    if verb.other_words:
        facts.append(f"Other words: {', '.join(verb.other_words)}.")
    yield "\n".join(map(wrapped, facts))
    own = [key for key in keys_of(name).values() if key.name != name]
    if own:
        yield "Its keys, beside those of every step:"
        yield "\n".join(wrapped(f"{key.name}: {key.about}", 4) for key in own)


def _kind(name: str) -> Iterator[str]:
    yield f"{name} ({'anything of the machine' if name == 'thing' else 'has keys of its own'})"
    yield "Its keys:"
    yield "\n".join(wrapped(f"{key.name}: {_brief(key)}", 4) for key in keys_of(name).values())


def _brief(key: Key) -> str:
    """Return the first sentence of what a key means, and whether it must be there."""
    first, *_ = key.about.split(". ")
    return f"{first.rstrip('.')}.{' It must be there.' if key.required else ''}"


def _keys(name: str) -> Iterator[str]:
    same: dict[tuple[str, str], tuple[Key, list[str]]] = {}
    for owner, key in everywhere(name):
        same.setdefault((key.takes, key.about), (key, []))[1].append(owner.called)
    for key, found in same.values():
        yield f"{name} (key of {listed(found)})"
        yield wrapped(key.about)
        default = f" Without it, {key.default}." if key.default else ""
        needed = " It must be there." if key.required else ""
        yield wrapped(f"Takes {key.takes}.{needed}{default}")
        if key.examples:
            yield "\n".join(f"    {name}: {written(example)}" for example in key.examples)


def wrapped(words: str, indent: int = 0) -> str:
    """Return a paragraph in lines that are not too wide for a terminal."""
    pad = " " * indent
    return textwrap.fill(
        words.replace("`", "'"), WIDTH, initial_indent=pad, subsequent_indent=f"{pad}    " if indent else "",
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip
