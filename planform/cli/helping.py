"""Help as a builder reads it: what a command takes, in words and without types of the language."""

from __future__ import annotations

from typing import Any

from typer.core import TyperArgument, TyperCommand, TyperGroup, TyperOption

OPTIONS = "[options]"


def _takes(parameter: TyperArgument | TyperOption) -> str:
    """What is to be written for an argument or after an option, in capitals."""
    return str(parameter.metavar or parameter.name.replace("_", " ").upper())


def _usage(argument: TyperArgument) -> str:
    """An argument as the line of use shows it: several with dots, one that may lack in brackets."""
    name = _takes(argument) + ("..." if argument.nargs != 1 else "")
    return name if argument.required else f"[{name}]"


def _entry(option: TyperOption) -> tuple[str, str]:
    """An option and its words."""
    if option.name == "help":
        return "--help", "this help"
    names = ", ".join(sorted(option.opts, key=len))
    words = str(option.help or "")
    if option.required:
        words += " (needed)"
    elif option.default not in (None, False):
        words += f"; {option.default} where not given"
    return (names if option.is_flag else f"{names} {_takes(option)}"), words


def _told(command: TyperCommand | TyperGroup, context: Any, formatter: Any) -> None:
    """Arguments and options, one under the other."""
    parameters = command.get_params(context)
    files = [p for p in parameters if isinstance(p, TyperArgument)]
    if files:
        with formatter.section("Files"):
            formatter.write_dl([(_takes(p), str(p.help or "")) for p in files])
    with formatter.section("Options"):
        formatter.write_dl([_entry(p) for p in parameters if isinstance(p, TyperOption)])


class Command(TyperCommand):
    """One command with its help."""

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """What follows the command's name."""
        arguments = [p for p in self.get_params(ctx) if isinstance(p, TyperArgument)]
        return [*map(_usage, arguments), OPTIONS]

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Arguments and options."""
        _told(self, ctx, formatter)


class Commands(TyperGroup):
    """All commands, each with the whole first sentence of its help."""

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """What follows the program's name."""
        return ["COMMAND", "..."]

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Options, then the commands."""
        _told(self, ctx, formatter)
        with formatter.section("Commands"):
            formatter.write_dl(
                [(name, (one.help or "").split("\n\n")[0]) for name, one in self.commands.items()]
            )
