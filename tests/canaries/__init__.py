"""A journal full of canaries: words that must not reach what is published, and a search of every byte of it."""
