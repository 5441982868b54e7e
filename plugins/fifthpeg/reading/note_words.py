"""What a slot of each grid is called."""

NOTE_WORDS = {4: "quarters", 8: "eighths", 16: "sixteenths"}
