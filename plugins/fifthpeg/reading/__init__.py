"""Text -> model: finds the blocks, reads them, words the messages."""
