"""What people typed, made fit for a page: one line, nothing unseen in it."""


def one_line(text: str) -> str:
    """The text on one line: line ends and tabs as blanks, unprintable characters as `?`."""
    return "".join(c if c.isprintable() else " " if c in "\t\n\r\v\f" else "?" for c in text)
