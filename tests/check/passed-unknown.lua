-- expect 6: this waits for "aa", and there is no such step
-- hint did you mean "a"?
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { not_yet = "a", most = 3, beyond = "end", tell = "x", next = "end",
  passed = { "aa" } }
step "end" { finding = "no fault found" }
