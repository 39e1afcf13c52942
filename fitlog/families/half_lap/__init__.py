"""The half-lap: both parts recessed by one height from one face."""
