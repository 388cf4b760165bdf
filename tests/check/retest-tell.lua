-- expect 6: this goes through again "c", and a tell step does not come out ok or not
-- hint name a read, collect or adjust step with outcomes
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { replace = "Q1", next = "end", most = 2, beyond = "end",
  retest = "c" }
step "c" { tell = "x", next = "end" }
step "end" { finding = "no fault found" }
