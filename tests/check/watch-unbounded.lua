-- expect 4: step "a" has no bound on its tries
-- hint add tries = 5
require "lib/head"
step "a" { power = "on", otherwise = "end",
  watch = { "Raise it.", read = { { "x", "volts", at = "TP2", limits = "1 V .. 2 V" } } } }
step "end" { finding = "no fault found" }
