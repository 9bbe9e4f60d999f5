"""What opens the page: the token of the opened address, and the secret that is exchanged for it."""

from __future__ import annotations

import secrets
from collections.abc import Callable


class Keys:
    """The token of the opened address, good for one opening, and the secret that its holder gets as a cookie."""

    def __init__(self, token: str, secret: str):
        self.token = token
        self.secret = secret
        self._told: Callable[[str], None] = lambda token: None

    @classmethod
    def fresh(cls, secret: str | None = None) -> Keys:
        """Returns a new token, with the secret of an earlier run where there is one, so that open tabs stay in."""
        return cls(secrets.token_urlsafe(24), secret or secrets.token_urlsafe(32))

    def on_turn(self, told: Callable[[str], None]) -> None:
        """Has the token told, now and whenever a new one takes its place."""
        self._told = told
        told(self.token)

    def opens(self, token: str) -> bool:
        """Whether it is the token of the opened address."""
        return bool(token) and secrets.compare_digest(token.encode(), self.token.encode())

    def turn(self) -> None:
        """Puts a new token in the place of one that was used."""
        self.token = secrets.token_urlsafe(24)
        self._told(self.token)
