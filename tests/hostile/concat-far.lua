local all = table.concat({}, "", 1, 9223372036854775807)
