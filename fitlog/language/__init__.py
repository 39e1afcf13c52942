"""How things are said: lengths, numbers, the words of the trade."""
