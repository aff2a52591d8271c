"""The command line. Nothing heavy is imported until a command needs it."""


def main() -> None:
    """Run the command line on this process's arguments and exit with its code."""
    from planner.cli.app import run

    run()
