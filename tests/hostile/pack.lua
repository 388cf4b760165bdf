local s = string.pack("!16i16", 1)
