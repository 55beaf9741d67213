"""Checking from end to end: which guides, all checks, what authors accept, how far it got."""
