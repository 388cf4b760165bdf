-- expect 6: this voids the readings of "end", and a finding step has none
-- hint name the steps whose readings the part touches
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { replace = "Q1", next = "end",
  voids = { "end" } }
step "end" { finding = "no fault found" }
