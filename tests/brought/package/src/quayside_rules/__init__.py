"""Rules of the quayside workshop: each module is a check for Putback."""
