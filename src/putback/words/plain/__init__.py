"""Flat sentences, which a catalogue says in another language: `Plain` makes those of one guide.

English sentences bend: articles, plurals, word order. No catalogue of messages can say them in another language. Plain
says the same facts in sentences that need no bending: `Remove: 6 × cover screw (M4 x 0.7).` Each is one message with
named fields; names of things stand as they are, and nothing is glued together but whole clauses and sentences.
"""

from __future__ import annotations

from putback.words.plain.beside import PlainBeside
from putback.words.plain.bolting import PlainBolting
from putback.words.plain.outfit import PlainOutfit
from putback.words.plain.saying import PlainSaying
from putback.words.plain.standing import PlainStanding

__all__ = ["Plain"]


class Plain(PlainSaying, PlainBeside, PlainStanding, PlainBolting, PlainOutfit):
    """Makes the sentences of one guide, by the messages of a catalogue."""
