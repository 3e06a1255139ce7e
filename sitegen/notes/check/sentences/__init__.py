"""Sentences of a narration, and what each claims: measures, their subjects, their hedges."""
