-- expect 4: this waits for "a", and no way leads from that step to "b"
require "lib/head"
step "b" { tell = "x", next = "a", not_yet = "a",
  passed = "a" }
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "end" }
step "end" { finding = "no fault found" }
