"""Model -> samples: the performance, the note bank, the mix, one loudness."""
