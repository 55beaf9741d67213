"""A text refers to a step, a job, a limit or a figure that is not there.

`{step drain-oil}` is printed as the number of the step, `{job water-pump}` as the title of the job,
`{limit belt-deflection}` as the limit, `{figure impeller.svg}` as the step that shows the picture. A name that is not
known sends the reader nowhere.

Correct the name; for a step or a figure in another job, give the job as well: `{step drain-oil of gear-oil}`.
"""

from collections.abc import Iterator
from functools import lru_cache

from putback.checks import Fault, Group
from putback.guide.named import Named
from putback.ledger.opened import Opened
from putback.model.job import Sequence
from putback.model.said import Said, said_in
from putback.prose.pages import passage_of
from putback.prose.references import Reference, broken_references, references, roles
from putback.source.finding import Level
from putback.source.nearest import nearest
from putback.source.quoting import quote
from putback.source.span import Span

LEVEL = Level.ERROR
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt
    name: look-at-belt
    for: cracks
    otherwise:
      - stop: Fit a new belt. Then go on as in {step look-at-bolt}.
                                                     ^^^^^^^^^^^^ no step here is called 'look-at-bolt'
"""

PASSES = """
steps:
  - inspect: belt
    name: look-at-belt
    for: cracks
    otherwise:
      - stop: Fit a new belt. Then go on as in {step look-at-belt}.
"""

NEVER = frozenset({"title", "name", "plural", "alt", "readings", "limit", "found", "reason"})
"""Fields whose words stand in headings, contents, labels, or are compared."""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield references that lead nowhere, in the files of the guide and on its pages."""
    named = Named(opened.guide, opened.nesting)
    for field, said, within in texts_of(opened):
        for kind, start, end in broken_references(said):
            message = f"{quote(said[start:end])} refers to nothing"
            yield Fault(passage_of(said).span(start, end), message, hint=f"write {_FORMS[kind]}")
        for reference in references(said):
            place = passage_of(said)
            if field in NEVER:
                message = "a reference does not work here: it is printed as written"
                yield Fault(place.span(reference.start, reference.end), message)
            elif not reference.is_kind:
                right = _written(reference)
                message = f"{quote(said[reference.start : reference.end])} refers to nothing"
                yield Fault(place.span(reference.start, reference.end), message, hint=f"write '{right}'")
            elif (reference.of is None or reference.kind in _OF_JOBS) and not _is_unsure(reference, within, opened):
                yield from _unknown(reference, within, named, place.span(*reference.at), place.span(*reference.of_at))
    for path, page in opened.guide.pages.items():
        for reference in roles(page):
            if not _is_unsure(reference, None, opened):
                yield from _unknown(
                    reference, None, named, _span(path, page, reference.at), _span(path, page, reference.of_at)
                )


@lru_cache(maxsize=1)
def texts_of(opened: Opened) -> tuple[tuple[str, Said, Sequence | None], ...]:
    """Return all that is said in a guide's own files, each with its field and the job or block around it."""
    guide, found = opened.guide, list[tuple[str, Said, Sequence | None]]()
    for sequence in guide.sequences():
        found += [(field, said, sequence) for field, said in said_in(sequence)]
    shared = {id(message) for message in guide.library.cautions.values() if not _is_own(message.span, opened)}
    records = [
        guide.machine,
        *guide.symptoms.values(),
        *(each for each in guide.library.cautions.values() if id(each) not in shared),
    ]
    found += [(field, said, None) for record in records if record for field, said in said_in(record)]
    cover = said_in(guide.cover) if guide.cover else ()
    found += [(field if field == "changes" else "title", said, None) for field, said in cover]
    return tuple(found)


def _is_own(span: Span, opened: Opened) -> bool:
    return span.path in opened.guide.files and span.path.startswith(opened.guide.shown)


def _is_unsure(reference: Reference, within: Sequence | None, opened: Opened) -> bool:
    """Tell whether the name may stand in a file that could not be read."""
    guide = opened.guide
    if reference.kind == "limit":
        return guide.machine is None
    others = reference.kind == "job" or within is None or reference.of is not None
    return (others and guide.misses_jobs) or (within is not None and not opened.nesting.is_known(within))


def _unknown(reference: Reference, within: Sequence | None, named: Named, span: Span, of_span: Span) -> Iterator[Fault]:
    kind, of = reference.kind, reference.of
    if of is not None and of not in named.guide.jobs:
        near = nearest(of, named.guide.jobs)
        yield Fault(of_span, f"no job is called {quote(of)}", hint=f"did you mean '{near}'?" if near else None)
        return
    known = named.known(kind, of, within)
    if reference.name in known:
        return
    elsewhere = {} if kind in ("job", "limit") or of is not None else named.in_one_job(kind)
    near = nearest(reference.name, known)
    hint = f"did you mean '{near}'?" if near else None
    if reference.name in elsewhere:
        hint = f"write '{reference.name} of {elsewhere[reference.name]}'"
    yield Fault(span, f"{_NONE[kind].format('there' if of else 'here')} {quote(reference.name)}", hint=hint)


_OF_JOBS = ("step", "figure")
"""What stands in a job."""
_FORMS = {
    "step": "'{step NAME}', or '{step NAME of JOB}'",
    "job": "'{job NAME}'",
    "limit": "'{limit NAME}'",
    "figure": "'{figure FILE}', or '{figure FILE of JOB}'",
}
_NONE = {
    "step": "no step {} is called",
    "job": "no job is called",
    "limit": "nothing has a limit and is called",
    "figure": "no step {} shows",
}


def _written(reference: Reference) -> str:
    of = f" of {reference.of}" if reference.of else ""
    return f"{{{reference.kind} {reference.name}{of}}}"


def _span(path: str, page: str, at: tuple[int, int]) -> Span:
    """Return the place of some characters of a page, which stand on one line."""
    line = page.count("\n", 0, at[0]) + 1
    column = at[0] - page.rfind("\n", 0, at[0])
    return Span(path, line, column, line, column + at[1] - at[0])
