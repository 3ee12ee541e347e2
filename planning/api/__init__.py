"""What other programs ask and tell: rosters and one-off orders in, plans, stock and waves out, tracking numbers in.

`app.py` puts it together, `tokens.py` knows who asks, `once.py` does nothing twice, `trouble.py` says what is wrong as
RFC 9457 has it, and each of the other modules is one kind of thing.
"""
