"""What sitegen rests on: versions, licences, and no word to any other machine."""
