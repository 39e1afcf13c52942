"""The box (finger) joint on a sled with a key: everything that is true of it and of no other."""
