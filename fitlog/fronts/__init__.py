"""Who speaks with the person at the bench: the command line and the dialogue."""
