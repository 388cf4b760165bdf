local s = string.format("%d %d", 1)
