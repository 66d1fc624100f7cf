"""The reference of all commands as one page of Markdown, from click's own tree of commands."""

from collections.abc import Iterator

import click

from witnessmark.cli.entry import WIDTH

NAME = "witnessmark"
HEAD = f"""# Commands of {NAME}

Written by `python scripts/write_commands.py` from the program itself; `{NAME} COMMAND --help` says the same.

Exit codes: 0 clean, 1 problems found, 2 wrong usage.
"""


def reference_page(program: click.Group) -> str:
    """Every command with what it does, its usage, and its options, in the order in which a class meets them."""
    sections = [_section(name, command) for name, command in program.commands.items()]
    listed = [f"| [`{name}`](#{name}) | {summary(command)} |" for name, command in program.commands.items()]
    return "\n".join([HEAD, "| command | what it does |", "| --- | --- |", *listed, "", *sections])


def help_page(program: click.Group) -> str:
    """What `--help` says in a terminal of the usual width."""
    context = program.make_context(NAME, [], resilient_parsing=True, terminal_width=WIDTH)
    return program.get_help(context) + "\n"


def summary(command: click.Command) -> str:
    """The one line of a command, as the list of commands shows it where there is room for all of it."""
    return command.get_short_help_str(limit=200)


def _section(name: str, command: click.Command) -> str:
    context = click.Context(command, info_name=f"{NAME} {name}")
    usage = " ".join(command.collect_usage_pieces(context))
    paragraphs = [" ".join(text.split()) for text in (command.help or "").split("\n\n")]
    lines = [f"## {name}", "", *(line for text in paragraphs for line in (text, "")), "```text"]
    lines += [f"{context.command_path} {usage}", "```", ""]
    options = list(_options(command, context))
    lines += ["| option | what it says |", "| --- | --- |", *options, ""] if options else []
    return "\n".join(lines)


def _options(command: click.Command, context: click.Context) -> Iterator[str]:
    for parameter in command.get_params(context):
        told = parameter.get_help_record(context) if isinstance(parameter, click.Option) else None
        if told is not None and "--help" not in parameter.opts:
            name, says = (" ".join(text.split()).replace("|", "\\|") for text in told)
            yield f"| `{name}` | {says} |"
