-- expect 6: to be gone through again is "aa", and there is no such step
-- hint did you mean "a"?
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { replace = "Q1", next = "end", most = 2, beyond = "end",
  retest = { "a", "aa" } }
step "end" { finding = "no fault found" }
