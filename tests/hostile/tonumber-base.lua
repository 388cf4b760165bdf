local n = tonumber("10", 16)
