"""The run as a whole: day axis, phases, plants, work."""
