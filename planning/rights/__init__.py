"""Who may look at what and change what (table.py), asked of every request (ask.py); the record of who did (record.py)."""
