"""The ledger, on a small machine of its own."""
