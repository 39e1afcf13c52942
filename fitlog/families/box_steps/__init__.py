"""The box (finger) joint by steps of the fence: everything that is true of it and of no other."""
