"""From what a person says to the bodies of ledger entries; everything said is checked here."""
