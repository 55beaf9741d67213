"""English words by which a limit in an author's words is read: verbs, states, and what may follow them."""

from __future__ import annotations

from putback.source.grammar import plural


def each_of(words: str) -> frozenset[str]:
    """Return the words of a text with blanks between them."""
    return frozenset(words.split())


_VERBS = each_of(
    "act agree align appear bear bend bind bite blow bounce break bubble burn carry catch change charge clear"
    " click close come cool cover creep cut dip drag drain draw drip drive drop engage enter fall fill fire fit"
    " flicker float flow free give glow go grab grate grip grow hang have hiss hold hum hunt idle jam keep kick"
    " knock leak lean leave let lie lift light lock look lose make match meet melt miss move need open pass pick"
    " pivot point pop press pull pump push race rattle reach read release remain resist respond rest return ride"
    " rise rock roll rotate rub run scrape seal seat settle shake shift shine show shut sink sit slide slip"
    " smell smoke snap sound spill spin spit splash spray spring spurt squeak squeal stand start stay stick stop"
    " strike swing take tick tighten tilt touch track travel trip turn vibrate weep wobble work"
)
_NOUNS_TOO = each_of(
    "blow bubble burn catch change charge clear click close cool cover cut dip drag drain drip drop fall fit"
    " float flow free hiss hum idle jam kick knock leak light lock match miss need open pass pick point pop"
    " press pull pump push race rattle rest return rise rock roll run-out seal shake shift shut sink slide slip"
    " smell smoke snap sound spray spring squeak squeal stick stop strike swing tick tilt touch track travel"
    " trip wobble work"
)
_IRREGULAR = {"have": "has", "go": "goes"}
THIRD_PERSON = frozenset(_IRREGULAR.get(verb, plural(verb)) for verb in _VERBS)
"""Verbs as they follow one thing: `turns`, `holds`."""
BASE = _VERBS - _NOUNS_TOO
"""Verbs as they follow several things: `turn`, `hold`; those that are also nouns or states are not among them."""
AFTER_BOTH = _VERBS
"""Those that follow `both` and `all`: `both light up`."""
PAST = each_of("came went began fell rose ran drew gave took broke stood stayed held kept")
"""Verbs of what has been; no participle of them means something else in a limit."""
AUXILIARIES = each_of(
    "is are was were has have had does do did can cannot must may will would should doesn't don't isn't aren't can't"
)
"""Verbs that make a sentence of whatever stands in front of them."""

PREPOSITIONS = each_of(
    "in on at into onto between within under over off out above below against along across behind beside inside"
    " outside up down near past opposite around through without"
)
"""Words that begin a state: `in neutral`, `off`, `between the marks`."""
STATES = each_of(
    "level flush dry wet damp clean clear free loose tight firm hard soft stiff snug smooth flat even straight"
    " square parallel true upright vertical horizontal open closed shut full empty warm cold hot cool bright"
    " dark dim shiny bare whole intact complete live dead dull quiet silent steady constant central centred"
    " centered concentric round sharp blunt good equal alike ready visible present absent safe sound secure"
    " outdoors indoors lit alight new fresh normal neutral red green black white blue grey gray yellow brown"
    " golden amber transparent taut slack springy rigid elastic supple tacky hand-tight finger-tight hand-warm"
    " hand-hot watertight airtight gastight oil-tight leak-free right correct zero readable legible set bent"
    " worn drawn held hung laid locked unlocked latched unlatched hooked pulled seated fitted clipped secured"
    " engaged disengaged aligned raised lowered connected disconnected sealed filled covered uncovered released"
    " applied marked tightened fastened unfastened charged discharged inserted installed plugged unplugged"
    " inflated adjusted lubricated greased oiled painted undamaged unbroken unmarked unchanged unworn uncracked"
    " parked moored chocked supported"
)
"""Adjectives and participles that say how a thing is."""
AFTER_A_STATE = PREPOSITIONS | each_of(
    "and or but to for by from with as than when while until till after before if where so all both again still home"
    " back apart together enough only everywhere upright outdoors there here of"
)
"""Words that may follow a state; after `steady`, a `jet` shows that a thing is spoken of, and no state."""
DETERMINERS = each_of(
    "the a an no nothing nobody none neither both each every its their one two all it they there this that some any"
)
"""Words that begin what is spoken of: a sentence of its own, or a thing."""
SUBORDINATE = each_of("that which who whose when whenever while as after before until till if than where")
"""Words after which a verb says nothing of the clause in front."""
BETWEEN = each_of(
    "both all still just only always never easily fully firmly freely already also now barely almost nearly"
)
"""Adverbs that stand in front of a verb or a state."""
SINGULAR = each_of("every each any one a an either neither")
"""Words that begin one thing, whatever follows."""
SEVERAL = each_of("both these those two three four five six seven eight nine ten")
"""Words that begin several things."""
DONE_FIRST = {
    "turned": "turn", "pulled": "pull", "pushed": "push", "spun": "spin", "shaken": "shake", "wiped": "wipe",
    "pressed": "press", "lifted": "lift", "rocked": "rock", "moved": "move", "rotated": "rotate",
    "squeezed": "squeeze", "swung": "swing",
}  # fmt: skip
"""What is done to a thing before it is judged: `the propeller, turned by hand`."""
