"""The command line: it only parses, calls and prints."""
