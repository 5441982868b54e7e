"""What a command can't do, and how each command ends."""

WELL, TO_MEND, TROUBLE = 0, 1, 2


class Refusal(Exception):
    """What the command can't do, in a sentence for whoever typed it."""
