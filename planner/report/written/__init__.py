"""Documents for people: what they are made of, and how they are written as a page or Markdown."""
