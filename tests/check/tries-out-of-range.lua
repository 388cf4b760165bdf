-- expect 6: "tries" is 500, and it must lie between 1 and 100
-- expect 4: the adjust step "a" has no bound on its tries
require "lib/head"
step "a" { limits = "5 V +/- 1 V", otherwise = "end",
  adjust = { "Turn R1.", read = { "volts", at = "TP2" },
    tries = 500 } }
step "end" { finding = "no fault found" }
