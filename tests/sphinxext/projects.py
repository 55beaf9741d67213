"""Sphinx projects on disk, built in-process."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from sphinx.application import Sphinx
from sphinx.util.docutils import docutils_namespace, patch_docutils

MACHINE = """\
machine: Test pump
kind: belt-driven pump
options:
  drive: [belt, gear]
controls:
  seacock: {positions: [open, closed], normal: open}
parts:
  pump: {}
  lid: {name: lid, mass: 2 kg}
  seal: {name: seal, replace: always, number: TP-1}
  guard: {name: belt guard, when: {drive: belt}}
fasteners:
  lid-screws: {name: lid screw, count: 4, thread: M6 x 1.0, drive: hex 10 mm, secures: lid, to: pump, torque: 9 N·m,
               class: 8.8, order: crosswise}
stacks:
  - [lid, seal]
fluids:
  oil: {name: pump oil, grade: ISO VG 46, volume: 0.3 l}
"""

JOB = """\
job: Renew the seal
purpose: Stop a leak.
interval: {hours: 300, months: 24}
time: 30 min
sections:
  - title: Take apart
    steps:
      - remove: lid-screws
        note: They are alike.
      - remove: lid
      - remove: seal
  - title: Put together
    steps:
      - install: seal
        new: true
      - install: lid
      - install: lid-screws
      - tighten: lid-screws
  - title: Prove
    steps:
      - inspect: guard
        note: Look for cracks.
      - measure: gap at the lid
        limit: "<= 0.2 mm"
        otherwise:
          - stop: Do the job again.
      - caution: running-engine
      - run: engine
        for: 5 min
"""

INDEX = """\
# Book

```{toctree}
machine
jobs/seal
```

See {putback:part}`seal`, {putback:job}`seal` and {putback:part}`the cover <lid>`.

```{putback-jobs}
```
```{putback-torques}
```
```{putback-parts}
```
```{putback-fluids}
```
```{putback-cautions}
```

And {putback:caution}`running-engine`.
"""

GUIDE = {
    "guide.yaml": "title: Test pump\n",
    "machine.yaml": MACHINE,
    "jobs/seal.yaml": JOB,
    "index.md": INDEX,
}
"""A guide that checks clean."""


def write(root: Path, files: dict[str, str]) -> None:
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


def build(root: Path, builder: str = "html", parallel: int = 1, **settings: Any) -> tuple[Sphinx, str]:
    """Build a project and return the application and its warnings."""
    warning = io.StringIO()
    conf = {
        "extensions": ["myst_parser", "putback.sphinxext"],
        "html_theme": "putback",
        "project": "Test",
        "suppress_warnings": ["config.cache"],
        **settings,
    }
    with patch_docutils(), docutils_namespace():
        app = Sphinx(
            root,
            None,
            root / "_build" / builder,
            root / "_build" / "doctrees",
            builder,
            conf,
            status=None,
            warning=warning,
            parallel=parallel,
        )
        app.build()
    return app, warning.getvalue()
