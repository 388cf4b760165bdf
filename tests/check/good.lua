-- expect nothing
require "lib/head"
suspect "q3" { modes = { "dead" } }
step "a" { read = { "volts", at = "TP2", hookup = "volts lead" }, limits = "12 V +/- 1 V",
  low = { to = "q3-dead", implicates = "q3" }, otherwise = "end" }
step "q3-dead" { finding = { "q3" }, proof = "12 V is back" }
step "end" { finding = "no fault found" }
