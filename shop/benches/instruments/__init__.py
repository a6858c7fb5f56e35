"""Instruments on a bench that speak SCPI: read here, offered to the worksheet open on that bench.

Runs on the PC beside the instrument, which need not be the server: no Django, no database.
"""
