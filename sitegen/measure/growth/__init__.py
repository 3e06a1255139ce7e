"""Heights, spreads, leaves, and growth rates."""
