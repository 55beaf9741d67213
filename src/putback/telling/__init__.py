"""What Putback itself says, in any language: a message is an English text with named fields, and where it is used.

Code says a message through a `Teller`, which `told_in` returns for a language tag; the texts of other languages are in
`catalogues/`, one file each. English has no catalogue: a message that no catalogue has is told as it is written in the
code. What pages say besides, phrases and labels, is in `words`.
"""

from putback.telling.catalogue import catalogue_for, tags
from putback.telling.message import Message, Translatable, fields_of, filled, in_parts
from putback.telling.ordered import in_order
from putback.telling.told import Teller, told_in

__all__ = [
    "Message", "Teller", "Translatable", "catalogue_for", "fields_of", "filled", "in_order", "in_parts", "tags",
    "told_in",
]  # fmt: skip
