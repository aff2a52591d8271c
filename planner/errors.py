"""Every error this package raises on purpose.

PlannerError
├── InputError                the person's mistake; names key, value and what was expected
│   ├── DefinitionError       a study definition that cannot be read
│   ├── RecordError           a run, amendment or acceptance that cannot be taken
│   ├── LedgerTooNew          a ledger written by a newer planner; this one would misread it
│   └── StudyMissing          no study at the place named
├── CommandFailed             a command of the person's own could not do its part
├── AnswerOwed                a person must answer or agree before anything goes on
├── ForbiddenSetting          a strategy asked for what the gate forbids (a defect, never clamped)
└── LedgerError
    ├── LedgerConflict        another writer was first; read again and retry
    ├── LedgerBusy            another program holds the ledger
    ├── LedgerDamaged         lines that do not verify; nothing was written
    └── LedgerUnwritable      the disk refused; what stood there before still stands
"""


class PlannerError(Exception):
    """Base of all errors that a person may be shown as one message."""


class InputError(PlannerError):
    """The person's mistake; the message says where, what and what was expected."""


class DefinitionError(InputError):
    """A study definition that cannot be read or contradicts itself."""


class RecordError(InputError):
    """A run, an amendment or an acceptance that cannot be taken as given."""


class LedgerTooNew(InputError):
    """The ledger was written by a newer planner; nothing was read or written."""


class StudyMissing(InputError):
    """There is no study at the place named."""


class CommandFailed(PlannerError):
    """A command of the person's own could not be started, failed, or did not end."""


class AnswerOwed(PlannerError):
    """Only a person can say how to go on; nothing was run."""


class ForbiddenSetting(PlannerError):
    """A strategy proposed a setting that the gate forbids; the proposal was not written."""


class LedgerError(PlannerError):
    """The ledger could not be read or extended."""


class LedgerConflict(LedgerError):
    """Another writer appended first; read again, revalidate and retry."""


class LedgerBusy(LedgerError):
    """Another program held the ledger for longer than we wait."""


class LedgerDamaged(LedgerError):
    """Lines of the ledger do not verify; nothing was written."""


class LedgerUnwritable(LedgerError):
    """The disk refused the entry; everything confirmed before still stands."""
