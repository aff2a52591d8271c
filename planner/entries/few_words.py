"""What a person says in a few words, as why a search ends."""

MOST = 200
"""So many characters are a few words."""


def is_few_words(text: str) -> bool:
    """Whether it says something, in at most 200 printable characters."""
    return bool(text.strip()) and text.isprintable() and len(text) <= MOST


def printable(text: str) -> str:
    """What others said, with ? for the characters that no note may hold."""
    return "".join(c if c.isprintable() else "?" for c in text)
