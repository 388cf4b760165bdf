local s = (""):rep(9223372036854775807)
error("empty times many is " .. #s)
