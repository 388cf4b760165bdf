local s = string.format("%a", 1)
