"""Tests of drafting from older records."""
