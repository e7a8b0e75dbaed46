"""When work may be done and what must be there for it."""
