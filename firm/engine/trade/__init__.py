"""What the trade knows, as data: each row with its value, unit and source."""
