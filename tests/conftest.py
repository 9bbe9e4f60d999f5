"""Puts this folder on the path, so that every test can say `from bodies import bodies`."""
