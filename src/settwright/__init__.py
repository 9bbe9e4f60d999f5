"""Settwright: from measurements, a design and a length of plaid to a cut-ready plan."""
