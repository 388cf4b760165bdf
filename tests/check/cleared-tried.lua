-- expect nothing
-- While a part is tried, a step that comes out ok says nothing of its own.
require "lib/head"
suspect "q3" {}
step "b" { replace = "Q1", next = "found", retest = "c" }
step "c" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", ok = { to = "end", clears = { "q3" } }, otherwise = "end" }
step "found" { finding = { "q3" } }
step "end" { finding = "no fault found" }
