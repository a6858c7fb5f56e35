"""The bench's arithmetic: pure functions, each answering with a value and its working.

Nothing here knows Django, a clock, a file or the network. See `registry.py` for how a
calculator gets its name, and `working.py` for the shape of every answer.
"""
