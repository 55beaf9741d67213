"""The documentation site: `sphinx-build -W docs docs/_build`."""

import sys
from pathlib import Path

from putback import __version__

sys.path.insert(0, str(Path(__file__).parent / "_ext"))

project = "Putback"
author = "The Putback authors"
copyright = author
release = version = __version__

extensions = [
    "myst_parser", "putback.sphinxext", "catalogue", "indexed", "checkpages", "commands", "folded", "answers", "keys",
]  # fmt: skip
myst_enable_extensions = ["colon_fence", "deflist"]
myst_heading_anchors = 4
exclude_patterns = ["_build", "_ext", "changes"]

html_theme = "putback"
html_title = f"Putback {release}"
html_show_sphinx = False
html_copy_source = False
html_show_copyright = False

# The printed form of this site: `sphinx-build -b typstpdf docs docs/_build/pdf`.
numfig = True
putback_title = "Putback"
putback_subtitle = "How to write a procedure that a stranger can follow"
putback_edition = f"for version {release}"
putback_licence = "MIT"
putback_notice = "Machines, part numbers and values in the examples are invented."
putback_pdf_name = "putback-documentation"
