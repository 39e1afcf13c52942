"""What half-laps look like on screens of their own."""
