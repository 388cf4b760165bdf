-- expect 4: "limits" goes with one reading
-- hint write it within each reading
require "lib/head"
step "a" { power = "on", otherwise = "end", limits = "1 V .. 2 V",
  adjust = { "Turn R5.", tries = 3, read = { { "x", "volts", at = "TP2", limits = "1 V .. 2 V" } } } }
step "end" { finding = "no fault found" }
