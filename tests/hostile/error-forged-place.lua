error("no-such-file.lua:7: forged", 0)
