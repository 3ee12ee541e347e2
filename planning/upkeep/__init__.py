"""Keeping the program running: whether it is ready, what it counts, its back-up; a module each."""
