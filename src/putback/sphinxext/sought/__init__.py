"""The search of HTML: words, and parts of part numbers, lead to the steps that have them.

`passages` reads what a page says, passage by passage; `gathering` keeps that of all pages and writes it beside them, as
a script that a browser takes from a folder too. The scripts in `theme/static/search/` look in it. Sphinx's own index is
left out where the pages have our theme; another theme keeps it.
"""

from putback.sphinxext.sought.gathering import SEARCH, setup_search

__all__ = ["SEARCH", "setup_search"]
