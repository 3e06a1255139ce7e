"""What `sitegen notes` asks of a journal: material for drafts, cards, lengths of clips, files that keep edits."""
