error("", 0)
