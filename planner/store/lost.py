"""What can go wrong on the way to a server."""

_FINAL = ("password", "does not exist", "no pg_hba.conf entry", "not translate host name")


class Unreachable(Exception):
    """The connection was lost, or could not be made."""

    def __init__(self, why: str) -> None:
        """`why`: for people, without a password."""
        super().__init__(why)
        self.final = any(words in why for words in _FINAL)
        """Whether trying again is of no use."""


class Refused(Exception):
    """The server refused."""

    def __init__(self, why: str, busy: bool) -> None:
        """`busy`: because another writer is in the way."""
        super().__init__(why)
        self.busy = busy
