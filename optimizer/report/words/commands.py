"""What commands say of their files and of themselves."""

from optimizer.report.words.writer import Writer


def written(write: Writer, name: object) -> str:
    """Return that a file was written."""
    return write.say("Written: {name}", name=str(name))


def then_convert(write: Writer, command: str) -> str:
    """Return what to do with a mapping file."""
    return write.say("Correct it, then: {command}", command=command)


def then_check(write: Writer, command: str) -> str:
    """Return what to do with the files of a new site."""
    return write.say("Fill in the files, then: {command}", command=command)


def page_at(write: Writer, address: str) -> str:
    """Return where the page is."""
    return write.say("The page is at {address} until Ctrl+C.", address=address)


def renamed(write: Writer, old: str, new: str) -> str:
    """Return how something is called now."""
    return write.say("{old} is called {new} now.", old=old, new=new)
