"""The kinds of notes: each makes a draft from the material of a run."""
