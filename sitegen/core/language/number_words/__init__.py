"""Numbers in running text: words, digits, fractions and dates, English and German."""
