"""The command line. Nothing heavy is imported until a command needs it."""


def main() -> None:
    """Run the command line on this process's arguments and exit with its code."""
    import gc

    from planner.cli.app import run

    # A command is over before there is anything to collect, and looking for it takes a tenth of
    # the time that a long ledger takes to read.
    gc.disable()
    run()
