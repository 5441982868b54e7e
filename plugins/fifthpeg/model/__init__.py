"""The nouns. Frozen values without behaviour beyond their own arithmetic; standard library only."""
