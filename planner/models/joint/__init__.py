"""Many knobs at once: what each run says when any one of them can have failed it."""
