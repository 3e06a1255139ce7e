"""Rules about files that several stages share: names, links, formats of photos, cells of sheets, locks."""
