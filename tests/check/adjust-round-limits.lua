-- expect 5: the reading "y" has no limits, so it cannot come right
require "lib/head"
step "a" { power = "on", otherwise = "end", adjust = { "Turn R5.", tries = 3, read = {
    { "x", "volts", at = "TP2", limits = "1 V .. 2 V" },
    { "y", "volts", at = "TP2" } } } }
step "end" { finding = "no fault found" }
