"""The sliding dovetail: a tongue on a shelf's end in a socket across a panel, by one bit."""
