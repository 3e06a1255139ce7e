"""Other machines: their words, zones, streams, rights and names of files; and what is installed on them."""
