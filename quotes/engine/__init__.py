"""From the look at the job to its price: measure, specify, take off, price."""
