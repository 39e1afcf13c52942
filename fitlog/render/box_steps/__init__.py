"""What box joints by steps of the fence have of their own on the screen."""
