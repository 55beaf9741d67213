"""Words of the trade: which are British, which American, and which no mechanic says."""
