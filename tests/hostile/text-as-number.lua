local n = "10" + 1
