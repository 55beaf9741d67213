"""The verbs, one family a file; a file that is put here brings its verbs along.

A family has, for each of its verbs, the record of its arguments (a `NamedTuple` with the docstring of the verb) and the
`Verb` that says all else. `putback.model.verb` says what there is to say.
"""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from putback.model.verb import Action, AnyVerb, Verb

_FAMILIES = [import_module(f"{__name__}.{info.name}") for info in iter_modules(__path__)]

VERBS: dict[str, AnyVerb] = {
    verb.name: verb for family in _FAMILIES for verb in vars(family).values() if isinstance(verb, Verb)
}
"""Every verb, by its word."""

OTHER_WORDS = {word: verb.name for verb in VERBS.values() for word in verb.other_words}
"""Words that somebody may write for a verb, each with the verb."""

MEANT_WORDS = {**OTHER_WORDS, **{word: verb.name for verb in VERBS.values() for word in verb.loose_words}}
"""Those words, and the looser ones that are only understood as the key of a step."""

_BY_ARGUMENTS = {verb.arguments: verb for verb in VERBS.values()}


def verb_of(action: Action) -> AnyVerb:
    """Return the verb that an action has."""
    return _BY_ARGUMENTS[type(action)]
