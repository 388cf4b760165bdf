local f = load("return 1", "x", "b", {})
