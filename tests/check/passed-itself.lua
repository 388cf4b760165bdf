-- expect 4: the step "a" waits for itself to pass
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "end", not_yet = "end",
  passed = "a" }
step "end" { finding = "no fault found" }
