-- expect 5: this voids the readings of "b1", and there is no such step
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { replace = "Q1", next = "end",
  voids = { "b1" } }
step "end" { finding = "no fault found" }
