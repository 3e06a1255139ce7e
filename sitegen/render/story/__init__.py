"""Generated sentences, the timeline and the day axis of a run."""
