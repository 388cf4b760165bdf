-- expect 4: the adjust step "a" has no bound on its tries
-- hint add tries = 5
require "lib/head"
step "a" { adjust = { "Turn R1.", read = { "volts", at = "TP2" } }, limits = "5 V +/- 1 V", otherwise = "end" }
step "end" { finding = "no fault found" }
