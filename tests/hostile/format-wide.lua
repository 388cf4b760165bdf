local s = string.format("%999d", 1)
