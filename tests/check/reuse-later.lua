-- expect 4: this reuses the reading of "b", and no way leads from that step to "a"
require "lib/head"
step "a" { read = { "volts", at = "TP2" }, next = "b",
  reuse = "b" }
step "b" { read = { "volts", at = "TP2" }, next = "end" }
step "end" { finding = "no fault found" }
