"""The author's own texts: Markdown, links, blocks, recap."""
