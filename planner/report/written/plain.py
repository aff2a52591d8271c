"""What people typed, made fit for a page: nothing unseen in it."""


def one_line(text: str) -> str:
    """The text on one line: line ends and tabs as blanks, unprintable characters as `?`."""
    return "".join(c if c.isprintable() else " " if c in "\t\n\r\v\f" else "?" for c in text)


def many_lines(text: str) -> str:
    """The text with its lines as they are, other unprintable characters as `?`, tabs as blanks."""
    return "\n".join(one_line(line) for line in text.splitlines())
