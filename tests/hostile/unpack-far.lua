local n = select("#", table.unpack({}, 1, 1000000000))
