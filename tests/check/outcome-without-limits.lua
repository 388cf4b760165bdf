-- expect 5: the step "a" has no limits, so "ok" never comes out
-- hint add limits, or say next = "STEP"
require "lib/head"
step "a" { read = { "volts", at = "TP2" },
  ok = "end" }
step "end" { finding = "no fault found" }
