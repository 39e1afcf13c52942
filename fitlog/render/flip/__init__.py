"""What joints cut from both faces look like on screens of their own."""
