"""Words and numbers in the journal's language and units."""
