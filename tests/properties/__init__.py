"""What holds for every rule and every machine, tried on many of them."""
