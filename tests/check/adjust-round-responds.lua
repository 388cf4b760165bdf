-- expect 5: "responds" goes with one reading, and the step "a" takes 1
-- hint leave it out, or take one reading
require "lib/head"
step "a" { power = "on", otherwise = "end", adjust = { "Turn R5.", tries = 3,
    responds = "1 V", read = { { "x", "volts", at = "TP2", limits = "1 V .. 2 V" } } } }
step "end" { finding = "no fault found" }
