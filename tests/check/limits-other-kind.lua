-- expect 4: the limits of "a" are in A, and it is read in V
require "lib/head"
step "a" { read = { "volts", at = "TP2" },
  limits = "12 A +/- 1 A", otherwise = "end" }
step "end" { finding = "no fault found" }
