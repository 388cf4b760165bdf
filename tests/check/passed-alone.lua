-- expect 6: the step "b" waits for others to pass, and does not say where to go while they have not
-- hint add not_yet = "STEP"
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { tell = "x", next = "end",
  passed = { "a" } }
step "end" { finding = "no fault found" }
