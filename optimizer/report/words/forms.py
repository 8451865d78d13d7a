"""What the page says beside what a person types."""

from optimizer.report.words.writer import Writer


def typed(write: Writer, value: float) -> str:
    """Return a number as a person would type it: the locale's decimals, no thousands marks."""
    shown = round(value, 4) if abs(value) >= 0.01 else value  # noqa: PLR2004 - one per cent
    return f"{shown:.12g}".replace(".", write.decimal_mark)


def wanted(write: Writer, hint: str, range: str) -> str:
    """Return what would be right where what was typed could not be taken."""
    if hint and range and hint != range:
        return write.say("Not taken: {range}; {hint}.", range=range, hint=hint)
    if not hint and not range:
        return write.say("Not taken.")
    return write.say("Not taken: wanted is {range}.", range=hint or range)


def of_field(write: Writer, label: str, wanted: str) -> str:
    """Return what would be right in another field than the one that was typed into."""
    return write.say("for “{label}” {wanted}", label=label, wanted=wanted)


def quoted(write: Writer, label: str) -> str:
    """Return a field's label as it stands in a sentence."""
    return write.say("“{label}”", label=label)


def assumed(write: Writer, source: str) -> str:
    """Return that nobody filled a field, and where what holds instead comes from."""
    return write.say("assumed: {source}", source=source)


def undo(write: Writer, what: str) -> str:
    """Return what undo takes back."""
    return write.say("Undo: {what}", what=what) if what else write.say("Undo")


def redo(write: Writer, what: str) -> str:
    """Return what redo brings back."""
    return write.say("Redo: {what}", what=what) if what else write.say("Redo")


def file_name(site: str) -> str:
    """Return the name of a site's saved job.

    >>> file_name("Haus Köhler / 2"), file_name("???")
    ('haus-köhler-2.keeplit.json', 'site.keeplit.json')
    """
    letters = "".join(one if one.isalnum() else " " for one in site.lower())
    return f"{'-'.join(letters.split())[:60] or 'site'}.keeplit.json"


def saved(write: Writer, file: str) -> str:
    """Return that the job was saved."""
    return write.say("Saved as {file}, where your browser keeps downloads.", file=file)


def row_lacks(write: Writer, heading: str, row: int) -> str:
    """Return what a row that is typed into still lacks."""
    return write.say("{heading} in row {row}", heading=heading, row=row)


def still_counted(write: Writer, form: str) -> str:
    """Return which form of the outages the answer still counts."""
    return write.say(
        "Nothing is lost: the answer counts “{form}” until something stands here.", form=form
    )


def converted(write: Writer, old: str, new: str, rate: float) -> str:
    """Return that all sums were converted."""
    return write.say(
        "Every sum was taken at 1 {old} = {rate:figure.6} {new}; look through them, then through "
        "the price list.",
        old=old,
        new=new,
        rate=rate,
    )


def rate_of(write: Writer, old: str, new: str) -> str:
    """Return the label of the rate of exchange."""
    return write.say("What is 1 {old} in {new}?", old=old, new=new)
