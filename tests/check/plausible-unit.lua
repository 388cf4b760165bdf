-- expect 4: the plausible values of "a" are in ohm, and it is read in V
require "lib/head"
step "a" { read = { "volts", at = "TP2",
  plausible = "0 ohm .. 3 ohm" }, next = "end" }
step "end" { finding = "no fault found" }
