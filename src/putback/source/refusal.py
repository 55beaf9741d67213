"""Words for what a schema refuses: which key or value, what was found, what was expected.

Imported only when a file was refused, because `jsonschema` is slow to import and slow to run.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from typing import Any

from putback.source.explaining import validator_for
from putback.source.finding import Also, Finding, Level
from putback.source.load import Mapping, Node, Plain, Text
from putback.source.nearest import is_slip, meant_key, nearest
from putback.source.phrases import Place, as_name, did_you_mean, no_name, subject, verbs_are, wanted, with_colon
from putback.source.places import Places
from putback.source.quoting import quote, quoted
from putback.source.refused import Refused, Repair, also_in_list, bad_positions, hint_for_none, in_brackets, words_for
from putback.source.renamed import new_name, now_called
from putback.source.rules import Rules, homes_of, is_elsewhere
from putback.source.span import Span

_NUMBERS = {2: "two", 3: "three", 4: "four"}
_EXCLUSIVE = (
    ("steps", "sections"),
    ("torque", "by-hand", "no-torque"),
    ("torque", "past-hand-tight"),
    ("stages", "past-hand-tight"),
    ("otherwise", "outcomes"),
)
"""Keys of which only one may stand in a mapping: the schemas say so with an empty `not`."""


class Refusal(Rules):
    """Explains what is wrong with files of one kind."""

    def __init__(
        self,
        kind: str,
        schema: dict[str, Any],
        words: dict[str, Any],
        words_file: str,
        accepts_step: Callable[[Any], bool],
    ) -> None:
        """Take the kind and its schema, the file of words that it refers to, and a quick test of one step."""
        super().__init__(kind, schema, words)
        self.validator = validator_for(schema, words, words_file, accepts_step)

    def explain(
        self, root: Node, plain: Plain, path: str, other_words: dict[str, str]
    ) -> tuple[list[Finding], list[Repair]]:
        """Return a finding for each fault, in the order of the file, and what is plain to mend.

        `other_words` may be meant for verbs.
        """
        explanation = _Explanation(self, root, path, other_words)
        findings = explanation.of([Refused.of(error) for error in self.validator.iter_errors(plain)])
        return findings, explanation.repairs


class _Explanation(Places):
    """The faults of one file while they are put into words."""

    def __init__(self, rules: Refusal, root: Node, path: str, other_words: dict[str, str]) -> None:
        self.rules = rules
        self.other_words = other_words
        super().__init__(root, path)
        self.found: dict[tuple[Span, str], Finding] = {}
        self.suggested: set[tuple[Place, str]] = set()
        """Keys that a misspelt one stands for, so that they are not reported missing as well."""
        self.repairs: list[Repair] = []
        """What misspelt words were meant for."""
        self.muddled: set[Place] = set()
        """Steps with several verbs, whose keys cannot be told to belong to one of them."""

    def of(self, faults: list[Refused]) -> list[Finding]:
        def of_keys(fault: Refused) -> bool:
            return fault.keyword == "additionalProperties" or (fault.keyword == "anyOf" and self.is_step(fault.place))

        # Keys first: what they are taken for decides what is missing.
        for fault in filter(of_keys, faults):
            if self.is_step(fault.place):
                self.step(fault.place)
            else:
                known = fault.schema.get("properties", {})
                extra = [key for key in self.mapping(fault.place).entries if key not in known]
                self.unknown(fault.place, extra, known)
        for fault in faults:
            if not of_keys(fault) and not self.is_noise(fault.place):
                self.other(fault)
        return sorted(self.found.values(), key=lambda finding: finding.order)

    def is_step(self, place: Place) -> bool:
        return (
            self.rules.has_steps
            and len(place) > 1
            and isinstance(place[-1], int)
            and place[-2] in ("steps", "otherwise")
        )

    def is_noise(self, place: Place) -> bool:
        for step in self.muddled:
            if place[: len(step)] == step:
                key = place[len(step)] if len(place) > len(step) else None
                if key not in self.rules.common and key not in self.rules.verbs and key != "otherwise":
                    return True
        return False

    def add(self, span: Span, message: str, hint: str | None = None, also: tuple[Also, ...] = ()) -> None:
        finding = Finding("wrong-shape", Level.ERROR, span, message, also, hint)
        self.found.setdefault((span, message), finding)

    def repair(self, place: Place, key: str | None, word: str, meant: str | None) -> None:
        """Note what a word was meant for, if it is that with a slip."""
        if meant and (is_slip(word.casefold(), meant) or meant == as_name(word)):
            self.repairs.append(Repair(place, key, meant))

    def renamed(self, place: Place, key: str | None, word: str, now: str) -> None:
        """Tell what an old word is called now, and read it so: a key of a mapping, or a value."""
        if key is not None:
            self.suggested.add((place, now))
        self.repairs.append(Repair(place, key, now, old=True))
        self.add(self.mapping(place).entries[key].key.span if key else self.at(place).span, now_called(word, now))

    # Keys

    def unknown(self, place: Place, extra: Iterable[str], known: Collection[str]) -> None:
        entries = self.mapping(place).entries
        free = [key for key in known if key not in entries]
        for key in extra:
            if now := new_name("step", key) if self.is_step(place) else new_name(self.rules.kind, key, place):
                self.renamed(place, key, key, now)
                continue
            likely = meant_key(key, free)
            if likely:
                self.suggested.add((place, likely))
                self.repair(place, key, key, likely)
            hint = None if likely else f"the keys here are {', '.join(sorted(known))}"
            value = entries[key].value
            if isinstance(value, Text) and value.span[1:3] == entries[key].key.span[3:5]:
                # No colon after it: a text between braces that went on after a comma, or a colon was forgotten.
                hint = with_colon(key, known) or "between braces, put a text that has a comma in quotes"
            self.add(entries[key].key.span, f"unknown key {quote(key)}" + did_you_mean(likely), hint)

    def step(self, place: Place) -> None:
        step = self.mapping(place)
        verbs = [verb for verb in self.rules.verbs if verb != "note"]
        if place[-2] == "otherwise" or "outcomes" in place[-4:-3]:
            verbs.append("back-to")
        found = [verb for verb in self.rules.verbs_of(step) if verb in (*verbs, "note")]
        if len(found) > 1:
            self.muddled.add(place)
            first, second = (step.entries[verb].key.span for verb in found[:2])
            self.add(
                second,
                f"{_NUMBERS.get(len(found), len(found))} verbs in one step: {quoted(found)}",
                "make two steps, with one action each"
                if len(found) == 2
                else "make each its own step, with one action",
                (Also(first, "the first verb"),),
            )
            strange = [key for key in step.entries if key not in self.rules.everywhere]
            self.unknown(place, strange, {key for verb in found for key in self.rules.keys[verb]})
        elif found and found != ["note"]:
            self.strange_keys(place, step, found[0], found[0])
        else:
            self.no_verb(place, step, verbs)

    def no_verb(self, place: Place, step: Mapping, verbs: list[str]) -> None:
        """A step without a verb, or with `note` as the only one: a misspelt key may stand for it."""
        # `torque: head-bolts` is written as a verb, `torque: 20 N·m` as the key.
        words = {key: entry.value.plain() for key, entry in step.entries.items() if key in self.other_words}
        orders = {key for key, word in words.items() if word == as_name(str(word))}
        strange = [key for key in step.entries if key in orders or key not in self.rules.everywhere]
        for key in strange:
            if now := new_name("verb", key):
                self.renamed(place, key, key, now)
                self.strange_keys(place, step, now, key)
                return
            if meant := self.other_words.get(as_name(key)):
                span = step.entries[key].key.span
                self.add(span, f"use '{meant}', not {quote(key)}")
                self.repairs.append(Repair(place, key, meant))
                self.strange_keys(place, step, meant, key)
                return
            if likely := nearest(key, [*verbs, "note"] if "note" not in step.entries else verbs):
                self.add(step.entries[key].key.span, f"{quote(key)} is not a verb; did you mean '{likely}'?")
                self.repair(place, key, key, likely)
                self.strange_keys(place, step, likely, key)
                return
        if "back-to" in step.entries:
            message = "'back-to' can only be in a step of 'otherwise' or 'outcomes'"
            self.add(step.entries["back-to"].key.span, message, "move it there, or give this step a verb")
        elif "note" in step.entries:
            self.strange_keys(place, step, "note", "note")
        elif strange:
            span = step.entries[strange[0]].key.span
            self.add(span, f"{quote(strange[0])} is not a verb", verbs_are(self.rules.verbs))
        else:
            self.add(self.parent_key(place), "this step has no verb", verbs_are(self.rules.verbs))

    def strange_keys(self, place: Place, step: Mapping, verb: str, written: str) -> None:
        known = self.rules.keys[verb]
        for key in step.entries:
            if key in known or key == written:
                continue
            free = [name for name in known if name not in step.entries and name != verb]
            homes = [home for home, keys in self.rules.keys.items() if key in keys and key != home]
            if is_elsewhere(verb, key) or (homes and not nearest(key, free) and not new_name("step", key)):
                span = step.entries[key].key.span
                self.add(span, f"{quote(key)} does not go with '{verb}'", homes_of(verb, key, homes, known))
            else:
                self.unknown(place, [key], known)

    def required(self, fault: Refused) -> None:
        place = fault.place
        entries = self.mapping(place).entries
        for key in fault.wanted:
            choice = key == "steps" and not place
            meant = {(place, key), (place, "sections")} if choice else {(place, key)}
            if key in entries or meant & self.suggested:
                continue
            if self.is_step(place) and key not in self.rules.keys[self.verb(place)]:
                continue  # of a verb whose word is only a key here
            hint = wanted(key, fault.schema.get("properties", {}).get(key, {}))
            if choice:
                hint = "add 'steps', or 'sections' with a title and steps each"
            owner = quote(self.verb(place)) if self.is_step(place) else subject(place)
            message = f"{owner} needs '{key}'" if place else f"'{key}' is missing"
            self.add(self.parent_key(place), message, hint)

    # Values

    def other(self, fault: Refused) -> None:
        if fault.of_name:
            span = self.mapping(fault.place).entries[fault.value].key.span
            if fault.keyword == "enum":
                if now := new_name("verb", fault.value):
                    self.renamed(fault.place, fault.value, fault.value, now)
                    return
                likely = nearest(fault.value, fault.wanted)
                self.repair(fault.place, fault.value, fault.value, likely)
                hint = None if likely else verbs_are(fault.wanted)
                self.add(span, f"{quote(fault.value)} is not a verb" + did_you_mean(likely), hint)
            elif fault.place[-1:] == ("waive",) and (now := new_name("check", fault.value)):
                self.renamed(fault.place, fault.value, fault.value, now)
            else:
                self.add(span, no_name(fault.value))
                self.repair(fault.place, fault.value, fault.value, as_name(fault.value))
        elif fault.keyword == "required":
            self.required(fault)
        elif fault.keyword == "not":
            self.together(fault.place)
        else:
            self.value(fault)

    def together(self, place: Place) -> None:
        entries = self.mapping(place[:-1]).entries
        groups = ([key for key in entries if key in group] for group in _EXCLUSIVE if place[-1] in group)
        stand = next(keys for keys in groups if len(keys) > 1)
        first, last = entries[stand[0]].key.span, entries[stand[-1]].key.span
        also = (Also(first, f"'{stand[0]}' is here"),)
        self.add(last, f"{quoted(stand)} cannot be used together", "keep one of them", also)

    def value(self, fault: Refused) -> None:
        node, thing = self.at(fault.place), subject(fault.place)
        if isinstance(node, Text) and fault.value is None:
            self.add(self.key_above(fault.place), f"{thing} has no value", hint_for_none(fault))
            return
        of_verbs = fault.keyword == "enum" and "remove" in fault.wanted
        if isinstance(node, Text) and of_verbs and (now := new_name("verb", node.value)):
            self.renamed(fault.place, None, node.value, now)
            return
        words = words_for(fault, node, thing, self.rules.verbs if self.is_step(fault.place) else ())
        if words.meant and isinstance(node, Text):
            self.repair(fault.place, None, node.value, words.meant)
        holder = self.at(fault.place[:-1]) if fault.place else node
        others = bad_positions(fault, holder)
        if not others or others[0] == fault.place[-1]:
            advice = in_brackets(holder, words.advice) if others and fault.keyword != "pattern" else words.advice
            self.add(node.span, words.message + also_in_list(len(others) - 1), advice)

    # Places

    def verb(self, place: Place) -> str:
        return self.rules.verbs_of(self.mapping(place))[0]

    def parent_key(self, place: Place) -> Span:
        """Where something is missing in a mapping: its key; in a step the verb; else its first key."""
        if place and isinstance(place[-1], str):
            return self.key_above(place)
        mapping = self.mapping(place)
        for key in self.rules.verbs_of(mapping) or mapping.entries:
            return mapping.entries[key].key.span
        return mapping.span
