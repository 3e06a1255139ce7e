"""Commands that change the files of a journal: what is to be written is read and judged first, in memory."""
