-- expect 5: while something has not passed this leads to "aaa", and there is no such step
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { tell = "x", next = "end", passed = "a",
  not_yet = "aaa" }
step "end" { finding = "no fault found" }
