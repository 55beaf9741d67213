"""Drawings made from data: each module makes one kind, as a standalone SVG.

A drawing is a pure function of plain records and of words that somebody else chose. It is black on white in any theme
and reads in grey; its lengths are mm on paper at its own size. The same data give the same bytes on every machine.
"""
