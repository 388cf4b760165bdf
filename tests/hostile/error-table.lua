error({ "a table" })
