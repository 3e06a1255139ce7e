"""The rules for what is said, a module a subject."""
