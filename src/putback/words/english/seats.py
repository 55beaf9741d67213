"""Whether a fastener sits in what holds it or on it, in English: a bolt is in the block, a nut is on its stud."""

from __future__ import annotations

from putback.model.machine import Fastener, Part
from putback.words.english.verbs import each_of

_ON = each_of(
    "nut locknut wingnut cap clamp clip band strap latch knob collar coupling hub cover lid bonnet impeller propeller"
    " rotor wheel handwheel gearwheel flywheel pulley sheave sprocket drum disc cup filter element bowl union sleeve"
    " hood wire tie boot"
)
"""What goes round, over or along another thing: it has its thread inside, or none."""
_IN = each_of(
    "plug bolt screw stud capscrew setscrew grubscrew jet sensor sender switch injector nozzle nipple fitting adapter"
    " adaptor valve tap cock pin insert pipe tube thermostat gauge breather seat"
)
"""What goes into a hole."""


def is_on(thing: Fastener) -> bool:
    """Tell whether a fastener is on what holds it; its kind says so, or its name; a part not known to go in is on."""
    for words in (thing.kind or "", thing.name):
        head = words.lower().split(" of ")[0].split(" with ")[0].split(",")[0].split()[-1:]
        if head and head[0] in _ON:
            return True
        if head and head[0] in _IN:
            return False
    return isinstance(thing, Part)


def seat(thing: Fastener) -> str:
    """Return `in` or `on`."""
    return "on" if is_on(thing) else "in"
