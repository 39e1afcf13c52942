"""What box joints have of their own on the screen: their boards, whichever way they are cut."""
