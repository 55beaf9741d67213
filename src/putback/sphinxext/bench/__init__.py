"""The sheet of one job for the bench: the job's page, and what a mechanic wants of the rest of the book.

`alone` is how Sphinx makes one page only; `page` puts the sheet together of `masthead`, `tables` and `tray`.
"""
