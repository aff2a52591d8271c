"""The report of a study: everything that was asked, done and learnt, for a stranger to repeat."""
