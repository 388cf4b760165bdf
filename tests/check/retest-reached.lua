-- expect nothing
require "lib/head"
step "b" { replace = "Q1", next = "end", retest = "c" }
step "c" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "end" }
step "end" { finding = "no fault found" }
