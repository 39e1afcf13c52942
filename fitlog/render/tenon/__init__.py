"""What tenons look like on screens of their own."""
