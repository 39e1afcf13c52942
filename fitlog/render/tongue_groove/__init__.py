"""What tongues and grooves look like on screens of their own."""
