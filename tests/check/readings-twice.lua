-- expect 4: the step "a" has two readings named "p"
require "lib/head"
step "a" { next = "end", collect = { { "p", "volts", at = "TP2" },
  { "p", "volts", at = "J1" } } }
step "end" { finding = "no fault found" }
