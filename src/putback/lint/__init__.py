"""Checking from end to end: which guides, all checks, what authors waive, how far it got."""
