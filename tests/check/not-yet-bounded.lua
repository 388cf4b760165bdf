-- expect nothing
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { tell = "x", next = "end", passed = "a", not_yet = "a", most = 3, beyond = "end" }
step "end" { finding = "no fault found" }
