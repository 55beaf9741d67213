"""No page shows the symptom table.

Whoever wrote it knows it by heart; whoever needs it never sees it.

Put the directive `putback-symptoms` on a page of the guide, and that page in its contents.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Level

LEVEL = Level.WARNING
GROUP = Group.NAMES

FAILS = """
# symptoms.yaml
no-water:
^^^^^^^^ no page shows the symptom table
  sign: No water comes.
  causes: [{cause: The tank is empty., check: Look into the tank., mend: Fill it.}]
# index.md
# The pump
"""

PASSES = """
# symptoms.yaml
no-water:
  sign: No water comes.
  causes: [{cause: The tank is empty., check: Look into the tank., mend: Fill it.}]
# index.md
# The pump

```{putback-symptoms}
```
"""

_DIRECTIVE = "{putback-symptoms}"


def find(opened: Opened) -> Iterator[Fault]:
    """Yield the first sign, when no page shows them."""
    guide = opened.guide
    unread = any(path.endswith(".md") for path in guide.unread)
    if guide.symptoms and not unread and not any(_DIRECTIVE in page for page in guide.pages.values()):
        first = next(iter(guide.symptoms.values()))
        hint = "write ```{putback-symptoms}, and ``` below it, on a page"
        yield Fault(first.span, "no page shows the symptom table", hint=hint)
