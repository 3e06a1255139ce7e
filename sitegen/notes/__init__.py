"""Notes for an episode about a run, made of its facts.

In: facts. Out: texts, chapters and pictures, with findings where they cannot be made.
"""
