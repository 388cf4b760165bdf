-- expect 5: the loop a -> b -> a has no bound
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { replace = "Q1", next = "end",
  retest = "a" }
step "end" { finding = "no fault found" }
