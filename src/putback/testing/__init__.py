"""Examples in caret notation, for the checks of Putback and for those of other people."""
