"""Films, orders, turns and stages of tightening, as messages."""

from __future__ import annotations

from decimal import Decimal

from putback.joints.friction import Film
from putback.joints.patterns import Rule
from putback.words.telling import Message

FILMS = {
    # Translators: films: the state of a thread, as it stands alone in a table and after "threads:".
    Film.DRY: Message("film", "clean and dry"),
    Film.OILED: Message("film", "oiled"),
    Film.GREASED: Message("film", "greased"),
    Film.WAXED: Message("film", "waxed"),
    # Translators: a paste that keeps threads from seizing.
    Film.ANTI_SEIZE: Message("film", "with anti-seize paste"),
    Film.MOLY: Message("film", "with MoS₂"),
    # Translators: as it came from the maker, neither cleaned nor oiled.
    Film.AS_RECEIVED: Message("film", "as received"),
    # Translators: an adhesive that keeps screws from coming loose.
    Film.THREAD_LOCKER: Message("film", "with thread-locker"),
    Film.SEALANT: Message("film", "with sealant"),
}
"""States of threads."""

ORDERS = {
    # Translators: the order in which several bolts are tightened.
    Rule.CROSSWISE: Message("order", "crosswise"),
    Rule.FROM_THE_MIDDLE: Message("order", "from the middle outwards"),
    # Translators: one after another, round or along.
    Rule.IN_TURN: Message("order", "in turn"),
}
"""Orders that are worked out from the places."""

WAYS = {
    "clockwise": Message("way", "clockwise"),
    "anticlockwise": Message("way", "anticlockwise"),
}
"""Ways to turn."""
ONE_WAY_ONLY = {
    "clockwise": Message("way", "clockwise, never anticlockwise"),
    "anticlockwise": Message("way", "anticlockwise, never clockwise"),
}
"""The same where the other way does damage."""

PARTS_OF_A_TURN = {
    Decimal("0.25"): Message("turn", "a quarter of a turn"),
    Decimal("0.5"): Message("turn", "half a turn"),
    Decimal("0.75"): Message("turn", "three quarters of a turn"),
}
"""Turns that have a name."""
