-- expect 5: the step "a" reads something else than "b", so its reading cannot serve here
require "lib/head"
step "a" { read = { "volts", at = "TP2" }, next = "b" }
step "b" { read = { "volts", at = "J1" }, next = "end",
  reuse = "a" }
step "end" { finding = "no fault found" }
