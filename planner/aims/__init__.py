"""What a study answers, by what it is after: one module an aim, loaded when it is asked."""
