"""Words by which an author's own text states a fact, as messages: each language has its own, with bars between them."""

from __future__ import annotations

from putback.joints.friction import Film
from putback.joints.patterns import Rule
from putback.words.telling import Message

FILMS = {
    # Translators: beginnings of words, in small letters, with | between; a text with one of them states dry threads.
    Film.DRY: Message("stated", "dry"),
    # Translators: beginnings of words, with | between; a text with one of them states oiled threads.
    Film.OILED: Message("stated", "oil"),
    # Translators: beginnings of words, with | between; a text with one of them states greased threads.
    Film.GREASED: Message("stated", "greas"),
    # Translators: beginnings of words, with | between; a text with one of them states waxed threads.
    Film.WAXED: Message("stated", "wax"),
    # Translators: beginnings of words, with | between.
    Film.ANTI_SEIZE: Message("stated", "anti-seize|antiseize"),
    Film.MOLY: Message("stated", "moly|mos2|mos₂"),
    # Translators: beginnings of words, with | between; the thread is as it came from the maker.
    Film.AS_RECEIVED: Message("stated", "as received|as delivered|untreated"),
    # Translators: beginnings of words, with | between.
    Film.THREAD_LOCKER: Message("stated", "thread-lock|thread lock|threadlock|locking"),
    # Translators: beginnings of words, with | between.
    Film.SEALANT: Message("stated", "sealant|sealing compound"),
}
"""States of threads."""

ORDERS = {
    # Translators: beginnings of words, with | between; a text with one of them states this order of tightening.
    Rule.CROSSWISE: Message("stated", "crosswise|diagonal"),
    # Translators: beginnings of words, with | between; a text with one of them states this order of tightening.
    Rule.FROM_THE_MIDDLE: Message("stated", "from the middle|from the centre|from the center"),
    # Translators: beginnings of words, with | between; a text with one of them states this order of tightening.
    Rule.IN_TURN: Message("stated", "in turn|one after"),
}
"""Orders of tightening."""

# Translators: the numbers from one to twelve as words, in small letters, with | between; nothing else.
NUMBERS = Message("stated", "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve")
"""Numbers in words."""
# Translators: words for two of something, with | between.
TWO = Message("stated", "both|pair|either")
"""Words for two."""
# Translators: words for a single piece, in each form, with | between.
ONE = Message("stated", "one|a single|each")
"""Words for one."""
# Translators: beginnings of words, with | between; a text with one of them says that bolts are loosened bit by bit.
GENTLY = Message("stated", "half a turn|little by little|a little at a time|bit by bit|in stages|evenly")
"""Words for loosening evenly."""
# Translators: beginnings of words, with | between; a text with one of them says that something is held.
HELD = Message("stated", "hold|held|counterhold")
"""Words for holding."""
# Translators: words for a direction, with | between.
CLOCKWISE = Message("stated", "clockwise")
"""Words for a way to turn."""
# Translators: words for a direction, with | between.
ANTICLOCKWISE = Message("stated", "anticlockwise|counterclockwise|counter-clockwise")
"""Words for the other way."""
