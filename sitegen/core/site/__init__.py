"""The site's parts that several stages share: addresses, pages, charts, blocks."""
