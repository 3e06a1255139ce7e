"""What runs together show, and what may be expected of one: in words, in rows and with its working."""
