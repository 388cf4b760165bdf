local s = string.uper("a")
