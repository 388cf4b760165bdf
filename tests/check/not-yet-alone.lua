-- expect 6: the step "b" says where to go while something has not passed, and not what
-- hint add passed = { "STEP" }
require "lib/head"
step "a" { power = "on", read = { "volts", at = "TP2" }, limits = "at least 1 V", otherwise = "b" }
step "b" { tell = "x", next = "end", most = 3, beyond = "end",
  not_yet = "a" }
step "end" { finding = "no fault found" }
