table.sort({ 1, "b", 2 })
