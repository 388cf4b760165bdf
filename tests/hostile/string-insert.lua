table.insert(string, "x")
