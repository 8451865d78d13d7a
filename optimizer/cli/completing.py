"""What a shell offers for a word that is begun: sites, families, parameters, names, files."""

from collections.abc import Callable, Iterable
from functools import reduce
from importlib import import_module
from pathlib import Path
from typing import Final, TypeAlias

import click
from click import shell_completion as shells
from click.shell_completion import CompletionItem

import optimizer
from optimizer.errors import KeeplitError
from optimizer.model.job import Job

#: Asked by click with the command so far, the parameter, and the word that is begun.
Offer: TypeAlias = Callable[[click.Context, click.Parameter, str], list[CompletionItem]]

#: How the library's script for zsh hands over words.
_ZSH: Final = "-U -V unsorted -a completions"
#: Its script for bash, changed: words are taken from the line, as bash breaks them at colons too,
#: and what stands before the last colon is left out of an answer.
_BASH: Final = {
    "local response\n": """local response line=${COMP_LINE:0:COMP_POINT} place=-1 before=
    local word=${line##*[[:space:]]}
    [[ -n $word ]] || place=999
    [[ $COMP_WORDBREAKS != *:* ]] || before=${word%%"${word##*:}"}
""",
    '"${COMP_WORDS[*]}" COMP_CWORD=$COMP_CWORD': '"$line" COMP_CWORD=$place',
    "COMPREPLY+=($value)": """COMPREPLY+=("${value#"$before"}")
            [[ $value != *= ]] || compopt -o nospace""",
}


@shells.add_completion_class
class _Bash(shells.BashComplete):
    """Leaves no space behind a name that waits for its value; fish does so by itself."""

    source_template = reduce(
        lambda script, change: script.replace(*change),
        _BASH.items(),
        shells.BashComplete.source_template,
    )


@shells.add_completion_class
class _Zsh(shells.ZshComplete):
    """Likewise."""

    source_template = shells.ZshComplete.source_template.replace(
        f"compadd {_ZSH}",
        f"[[ -n ${{completions[(r)*=]}} ]] && compadd -S '' {_ZSH} || compadd {_ZSH}",
    )


def files(_: click.Context, __: click.Parameter, begun: str) -> list[CompletionItem]:
    """Let the shell offer its files."""
    return [CompletionItem(begun, type="file")]


def folders(_: click.Context, __: click.Parameter, begun: str) -> list[CompletionItem]:
    """Let the shell offer its folders."""
    return [CompletionItem(begun, type="dir")]


def sites(_: click.Context, __: click.Parameter, begun: str) -> list[CompletionItem]:
    """Offer the bundled sites and folders of a site; else the shell's files."""
    from optimizer.inputs.demo import demo_names

    above, slash, name = begun.rpartition("/")
    found = Path(above + slash or ".").glob("*/site.toml")
    own = sorted(above + slash + file.parent.name for file in found)
    begins = {word for word in (*demo_names(), *own) if word.startswith(begun)}
    if not name.startswith("."):
        begins = {word for word in begins if not word.rpartition("/")[2].startswith(".")}
    return [*files(_, __, begun), *map(CompletionItem, sorted(begins))]


def any_of(known: Callable[[click.Context], Iterable[str]], *, or_files: bool = False) -> Offer:
    """Return an offer of some words, or of files where none of them begins so."""

    def offer(context: click.Context, _: click.Parameter, begun: str) -> list[CompletionItem]:
        found = [CompletionItem(word) for word in known(context) if word.startswith(begun)]
        return [*files(context, _, begun), *found] if or_files else found

    return offer


def _numbers(context: click.Context) -> list[str]:
    """Return the numbers of the site that may be otherwise."""
    from optimizer.comparison.parameters import sensitivity_parameters_of

    return [one.key for one in sensitivity_parameters_of(_job(context))]


def _job(context: click.Context) -> Job:
    """Return the job of the site that is named already; a demo where there is none to be read."""
    told = [context.params.get("site"), *context.args]  # not taken yet where an option is begun
    site = next((word for word in told if word), "house")
    try:
        return optimizer.load(site, context.params.get("catalog"))
    except KeeplitError:
        return optimizer.load("house")


demos = any_of(lambda _: import_module("optimizer.inputs.demo").demo_names())
tables = any_of(lambda _: import_module("optimizer.inputs.price_tables").TABLES)
sections = any_of(
    lambda _: (name.strip("[]") for name in import_module("optimizer.inputs.fields").all_fields())
)
answers = any_of(lambda _: import_module("optimizer.report.json.answers").ANSWERS)
families = any_of(lambda context: sorted(_job(context).catalog.families))
numbers = any_of(_numbers)
#: Of the numbers, each ready for its value.
changes = any_of(lambda context: (f"{key}=" for key in _numbers(context)))
