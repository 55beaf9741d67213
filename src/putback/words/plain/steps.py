"""Flat sentences of all other steps: equipment, marks, cleaning, waits, words; and how steps are called."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

from putback.model.job import Step
from putback.model.said import source_of
from putback.model.terms import Ref
from putback.model.verb import Action
from putback.model.verbs.acting import Act
from putback.model.verbs.blocks import BackTo, Do, Each, Reverse
from putback.model.verbs.cleaning import Apply, Clean
from putback.model.verbs.equipment import Place, TakeAway
from putback.model.verbs.marking import Align, Mark
from putback.model.verbs.pieces import Tighten
from putback.model.verbs.telling import Caution, Note, Stop, Wait
from putback.source.grammar import unbroken
from putback.words.pieces import Phrase, as_text, phrase
from putback.words.plain.checking import PlainChecking
from putback.words.plain.runs import ended, in_a_row, sentences
from putback.words.plain.working import PlainWork, Tools


class PlainSteps(PlainWork, PlainChecking):
    """What is said of steps."""

    def generated(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentences that verb and facts make."""
        if isinstance(step.action, Tighten):
            body = self.tighten(step.action, step.tools, stays_in)
        else:
            make: Callable[[Action, Tools], Phrase] = getattr(self, f"say_{step.verb.key}")
            body = make(step.action, step.tools)
        return sentences([body, *self.holding(step.action, step.tools, stays_in), *self.hands(step)])

    def say_place(self, action: Place, _tools: Tools) -> Phrase:
        """`Put in place: drain pan – under the gearcase.`"""
        place = self.place(action.at) if action.at else ""
        where = in_a_row([*(self.hole(hole.ref, hole.at) for hole in action.in_), place])
        things = self.all_of(action.things)
        if where:
            # Translators: a piece of equipment is brought to the machine; {where} are an author's words, or a hole.
            return self.say_phrase("place", "Put in place: {things} – {where}.", things=things, where=where)
        # Translators: a piece of equipment is brought to the machine.
        return self.say_phrase("place", "Put in place: {things}.", things=things)

    def hole(self, ref: Ref, at: Sequence[Ref]) -> str:
        """Return the hole of a fastener or part, or those of several places."""
        thing = self.things.get(ref.name)
        name = thing.name if thing else self.word(ref.name)
        if at:
            places = self.words([place.name for place in at])
            # Translators: the hole in which a fastener sits, where there are several, by their places.
            return self.say_count(
                "place",
                "hole of: {thing} – place: {places}",
                "holes of: {thing} – places: {places}",
                len(at),
                thing=name,
                places=places,
            )
        # Translators: the hole in which a fastener sits.
        return self.say("place", "hole of: {thing}", thing=name)

    def say_take_away(self, action: TakeAway, _tools: Tools) -> Phrase:
        """`Take away: drain pan.`"""
        things = self.all_of(action.things)
        if action.at:
            where = self.place(action.at)
            return self.say_phrase("take-away", "Take away: {things} – {where}.", things=things, where=where)
        return self.say_phrase("take-away", "Take away: {things}.", things=things)

    def say_mark(self, action: Mark, _tools: Tools) -> Phrase:
        """`Mark the position: trim tab – against: gearcase.`"""
        things = self.all_of(action.things)
        if action.against:
            other = self.place(action.against)
            return self.say_phrase(
                "mark", "Mark the position: {things} – against: {other}.", things=things, other=other
            )
        return self.say_phrase("mark", "Mark the position: {things}.", things=things)

    def say_align(self, action: Align, _tools: Tools) -> Phrase:
        """`Align with the mark: trim tab.`"""
        things = self.all_of(action.things)
        if action.against:
            other = self.place(action.against)
            return self.say_phrase(
                "align", "Align with the mark: {things} – against: {other}.", things=things, other=other
            )
        return self.say_phrase("align", "Align with the mark: {things}.", things=things)

    def say_apply(self, action: Apply, _tools: Tools) -> Phrase:
        """`Apply: clean engine oil – to: 6 × head bolt.`"""
        consumables = self.telling.listed([self.consumable(ref) for ref in action.things])
        onto = self.all_of(action.to)
        if action.to_new:
            return self.say_phrase(
                "apply", "Apply: {consumables} – to the new: {things}.", consumables=consumables, things=onto
            )
        return self.say_phrase("apply", "Apply: {consumables} – to: {things}.", consumables=consumables, things=onto)

    def say_clean(self, action: Clean, _tools: Tools) -> Phrase:
        """`Clean: crankpin – with: lint-free rags.`"""
        things = self.all_of(action.things)
        if action.with_:
            means = self.consumable(action.with_)
            return self.say_phrase("clean", "Clean: {things} – with: {means}.", things=things, means=means)
        return self.say_phrase("clean", "Clean: {things}.", things=things)

    def say_wait(self, action: Wait, _tools: Tools) -> Phrase:
        """`Wait: 10 min – until: the engine is cold.`"""
        time = self.quantity(action.duration) if action.duration else ""
        if time and action.until:
            return phrase(self.say("wait", "Wait: {time} – until: {until}.", time=time, until=action.until.rstrip(".")))
        if action.until:
            # Translators: {until} are the author's words, such as "the engine is cold".
            return phrase(self.say("wait", "Wait until: {until}.", until=action.until.rstrip(".")))
        return phrase(self.say("wait", "Wait: {time}.", time=time) if time else self.say("wait", "Wait."))

    def say_act(self, action: Act, _tools: Tools) -> Phrase:
        """Return the author's words, and the names of what they do not name."""
        said = source_of(action.words).lower()
        left = [ref for ref in action.things if not self._is_in(said, ref)]
        if not left:
            return phrase(ended(action.words))
        things = in_a_row(self.thing(ref) for ref in left)
        return phrase(f"{action.words.rstrip('.')} (", things, ").")

    def _is_in(self, said: str, ref: Ref) -> bool:
        """Tell whether an author's words name a thing, or a piece of equipment."""
        thing, equipment = self.things.get(ref.name), self.library.equipment.get(ref.name)
        name = thing.name if thing else equipment.name if equipment else ref.name
        return source_of(name).lower() in said

    def say_do(self, action: Do, _tools: Tools) -> Phrase:
        """`Do: Make safe.`"""
        # Translators: to do all steps of a block, by its title.
        return phrase(self.say("do", "Do: {block}.", block=self._blocks(action.things)))

    def say_reverse(self, action: Reverse, _tools: Tools) -> Phrase:
        """`In reverse order: Make safe.`"""
        # Translators: to do all steps of a block backwards, by its title.
        return phrase(self.say("do", "In reverse order: {block}.", block=self._blocks(action.things)))

    def _blocks(self, refs: Sequence[Ref]) -> str:
        entries = [self.library.blocks.get(ref.name) for ref in refs]
        return self.telling.listed(
            [entry.title if entry else ref.name for entry, ref in zip(entries, refs, strict=True)]
        )

    def say_each(self, action: Each, _tools: Tools) -> Phrase:
        """`Do this for each place, one after the other: cylinder.`"""
        places = self.words([ref.name for ref in action.things])
        # Translators: before steps that are done for each of several alike places; {place} such as "cylinder".
        return phrase(self.say("each", "Do this for each, one after the other: {place}.", place=places))

    def each_of(self, places: str, names: Sequence[str]) -> str:
        """Return what stands above the steps that are done for each place: their names."""
        name = self.option(places)
        # Translators: above steps, for which places they are, such as "Cylinder: 1, 2 and 3".
        return self.say("each", "{place}: {names}", place=name, names=self.telling.listed(names))

    def say_back_to(self, action: BackTo, _tools: Tools) -> Phrase:
        """`Go back to the step “fill” and continue from there.`"""
        name = self.words([ref.name for ref in action.things])
        return phrase(self.say("back-to", "Go back to the step “{step}” and continue from there.", step=name))

    def say_caution(self, action: Caution, _tools: Tools) -> Phrase:
        """Return the hazards alone; a page shows the whole messages."""
        entries = [self.library.cautions.get(ref.name) for ref in action.things]
        said = [entry.hazard if entry else ref.name for entry, ref in zip(entries, action.things, strict=True)]
        return in_a_row(said)

    def say_note(self, action: Note, _tools: Tools) -> Phrase:
        """Return the author's words."""
        return phrase(action.words)

    def say_stop(self, action: Stop, _tools: Tools) -> Phrase:
        """`Go no further: Call a workshop.`: what follows is done at once, and may be to switch off."""
        # Translators: a job ends here; {what} is the author's sentence, and may say "Switch the engine off.".
        return phrase(self.say("stop", "Go no further: {what}", what=ended(action.words)))

    # How steps are called.

    def go_back(self, number: str) -> Phrase:
        """Return how to go on from an earlier step."""
        return phrase(self.say("back-to", "Go back to step {number} and continue from there.", number=number))

    def step_named(self, number: str, title: str = "") -> str:
        """Return a step by its number; of another job, with the title of that one."""
        if not number:
            # Translators: stands in a sentence in the place of a step's number.
            return self.say("step", "a step for other machines")
        if title:
            # Translators: stands in a sentence; {job} is the title of a job in quotation marks.
            return unbroken(self.say("step", "step {number} of {job}", number=number, job=self.job_named(title)))
        # Translators: stands in a sentence.
        return self.say("step", "step {number}", number=number).replace(" ", "\N{NO-BREAK SPACE}")

    def job_named(self, title: str) -> str:
        """Return the title of a job as it stands in a sentence."""
        return self.telling.quoted(title)

    def figure_named(self, number: str, title: str = "") -> str:
        """Return a picture by the number of the step at which it stands."""
        if not number:
            return self.say("step", "a picture for other machines")
        if title:
            # Translators: stands in a sentence; {job} is the title of a job in quotation marks.
            return self.say("step", "the picture at step {number} of {job}", number=number, job=self.job_named(title))
        # Translators: stands in a sentence.
        return self.say("step", "the picture at step {number}", number=number)

    def said(self, text: str, more: Phrase) -> Phrase:
        """Return an author's text and, after it, what it does not say."""
        return phrase(ended(text), " ", more) if as_text(more) else phrase(text)
