"""Cases to be cut, timed one by one: what was known of each, what was found and proved, and how long it took."""
