"""From the price to the money: the bill, its chasing, the payments against it."""
