"""What was spoken, held against the log: a narration as text with times, its numbers, and a verdict on each."""
