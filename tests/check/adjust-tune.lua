-- expect 5: "top" is nothing to tune for
-- hint it is peak or dip
require "lib/head"
step "a" { power = "on", otherwise = "end", limits = "1 V .. 2 V", adjust = { "Turn R5.", tries = 3,
    tune = "top", read = { "volts", at = "TP2" } } }
step "end" { finding = "no fault found" }
