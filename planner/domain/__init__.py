"""The nouns of the trade: frozen, self-checking, standard library only."""
