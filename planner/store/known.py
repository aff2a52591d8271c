"""The servers that the person of this machine has named.

A folder from a stranger may point to a server of the stranger's, which would then be offered this
person's name and password. So no server is asked that was not named on this machine before, to
the letter; the list stands outside every study.
"""

from planner.bench import state_folder
from planner.errors import InputError
from planner.store.address import Address
from planner.store.disk import replace_synced

_FILE = "servers.txt"
_LARGEST = 1_000_000


def remember(address: Address) -> None:
    """Take note that the person has named this server and study.

    Raises:
        InputError: the list cannot be read or written.
    """
    known = _read()
    if address.shown in known:
        return
    path = state_folder() / _FILE
    text = "".join(f"{each}\n" for each in (*known, address.shown))
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        replace_synced(path, text.encode(), 0o600)
    except OSError as error:
        raise InputError(f"{path}: cannot be written ({error.strerror})") from None


def require_known(address: Address, where: str) -> None:
    """Refuse a server that the person has not named on this machine.

    Raises:
        InputError: it is not known; or the list cannot be read.
    """
    if address.shown not in _read():
        raise InputError(
            f"{where}: store = {str(address)!r} is a server that was never named on this machine,"
            f" so it is not asked. If you trust it: planner join NAME '{address}'"
        )


def _read() -> list[str]:
    path = state_folder() / _FILE
    try:
        with path.open(encoding="utf-8") as file:
            return file.read(_LARGEST).splitlines()
    except FileNotFoundError:
        return []
    except (OSError, ValueError) as error:
        raise InputError(f"{path}: cannot be read ({error}): remove it to begin anew") from None
